// Papers beyond Latin letters: other scripts, languages that are read from right to left, longer text and longer words. What cannot be
// set is told with the step, the sign, and the package or the paper that would help.
#include <doctest/doctest.h>

#include <algorithm>

#include "driver/disk.hpp"
#include "driver/papers.hpp"
#include "emit/document/direction.hpp"
#include "emit/pdf/typesetter.hpp"
#include "example_papers.hpp"
#include "layout_rules.hpp"
#include "model/variants.hpp"
#include "translation/apply.hpp"
#include "translation/source_texts.hpp"
#include "wording/phrases.hpp"

using namespace stepward;
using namespace stepward::test;
using emit::pdf::Fault;
using emit::pdf::Paper;

namespace {

/// How each word of a text is put into another language: by a pretence that keeps its length, or makes it longer.
using Pretence = std::string (*)(const std::string& word);

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// Words outside of gaps; figures, blanks and marks stay.
std::string pretended(const std::string& text, Pretence pretence) {
  std::string other, word;
  bool in_gap = false;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    const char c = i < text.size() ? text[i] : '\0';
    if (!in_gap && is_letter(c)) {
      word += c;
      continue;
    }
    if (!word.empty()) other += pretence(word);
    word.clear();
    in_gap = c == '[' || (in_gap && c != ']');
    if (c != '\0') other += c;
  }
  return other;
}

/// Each letter becomes one of these, by its place in the alphabet.
template <std::size_t count>
std::string in_letters(const char* const (&letters)[count], const std::string& word) {
  std::string other;
  for (const char c : word) other += letters[static_cast<std::size_t>((c | 0x20) - 'a') % count];
  return other;
}

std::string in_arabic(const std::string& word) { return in_letters({"ا", "ب", "ت", "ح", "د", "ر", "س", "ع", "ف", "ق", "ل", "م", "ن", "و", "ي"}, word); }
std::string in_hebrew(const std::string& word) { return in_letters({"א", "ב", "ג", "ד", "ה", "ו", "ח", "ט", "י", "ל", "מ", "נ", "ס", "ר", "ש", "ת"}, word); }
std::string in_devanagari(const std::string& word) { return in_letters({"क", "का", "खि", "ग", "चे", "ज", "त", "दु", "न", "प", "ब", "म", "य", "र", "ल", "व", "स", "ह"}, word); }
std::string in_ethiopic(const std::string& word) { return in_letters({"ሀ", "ለ", "መ", "ሰ", "ረ", "በ", "ተ", "ነ", "አ", "ከ", "ወ", "ደ", "ገ"}, word); }
std::string in_cyrillic(const std::string& word) { return in_letters({"а", "б", "в", "г", "д", "е", "ж", "и", "к", "л", "м", "н", "о", "п", "р", "с", "т", "у"}, word); }

/// German is about a third longer than English (common practice of translators), and joins words.
std::string longer(const std::string& word) {
  std::string other;
  for (std::size_t i = 0; i < word.size(); ++i) {
    other += word[i];
    if (i % 3 == 2) other += word[i];
  }
  return other;
}

translation::Dictionary words_in(const std::string& language, const driver::Compilation& made, Pretence pretence) {
  translation::Dictionary words;
  words.language = language;
  for (const auto& source : translation::source_texts(made.loaded)) words.texts[source.text] = pretended(source.text, pretence);
  for (const std::string& name : translation::names_in(*made.protocol)) words.names[name] = {pretended(name, pretence), pretended("the " + name, pretence)};
  for (std::size_t i = 0; i < wording::phrase_count; ++i) words.phrases[i] = pretended(std::string(wording::english_phrase(i)), pretence);
  return words;
}

const driver::Compilation& walked_exit() {
  static const driver::Compilation made = [] {
    const std::string path = std::string(STEPWARD_SOURCE_DIR) + "/examples/aldermoss-exit.ward";
    driver::Compilation read = driver::read(path, driver::FilesOnDisk(path), "2030-11-01");
    driver::walk(read, {});
    return read;
  }();
  return made;
}

/// All papers of a variant and of the protocol in that language, each on its own size, with the rules of place and of type. Not the badge card:
/// an act of more than four lines does not fit on it and is told, and these pretended texts are longer than real ones.
void lays_out(const std::string& language, Pretence pretence, const std::string& family) {
  const driver::Compilation& made = walked_exit();
  const translation::Dictionary words = words_in(language, made, pretence);
  auto papers = driver::papers_of(made, made.verdict.walks.front(), driver::paper_names(), &words);
  for (driver::Paper& paper : driver::papers_of_protocol(made, driver::paper_names(), {}, &words)) papers.push_back(std::move(paper));
  REQUIRE(papers.size() == 10);
  Origin origin;
  origin.name = language;
  bool in_family = false;
  for (driver::Paper& paper : papers) {
    CHECK(paper.unsaid == 0);
    if (paper.what == "badge") continue;
    LaidPaper laid{&origin, paper.what, std::move(paper.sheet), Paper::a4, {}};
    laid.paper = emit::pdf::default_paper(laid.sheet.kind);
    laid.out = emit::pdf::lay_out(laid.sheet, laid.paper);
    for (const Fault& fault : laid.out.faults) FAIL_CHECK(laid.name() << ": " << emit::pdf::sentence(fault));
    for (const LayoutRule rule : {type_is_large_enough, lines_have_air, letters_have_no_serifs, margins_are_kept, scripts_have_room_for_rings, nothing_is_split, nothing_overlaps,
                                  boxes_take_a_gloved_marker, every_face_says_what_it_is, critical_by_word_and_shape}) {
      const NotKept broken = rule(laid);
      for (std::size_t i = 0; i < broken.size() && i < 3; ++i) FAIL_CHECK(laid.name() << ": " << broken[i]);
    }
    for (const StandingBlock& each : blocks_of(laid)) {
      for (const auto& text : each.part->texts) in_family = in_family || std::find(text.families.begin(), text.families.end(), family) != text.families.end();
    }
  }
  CHECK(in_family);
}

emit::Sheet with_act(const std::string& act, const std::string& language = "en") {
  emit::Sheet sheet = laid("card", Paper::a4).sheet;
  sheet.control.language = language;
  sheet.blocks = {emit::Step{"7", 0, false, false, {}, {{act, false, ""}}, {}, "45 s", {}}};
  return sheet;
}

std::string told(const emit::Sheet& sheet, Paper paper) {
  std::string all;
  for (const Fault& fault : emit::pdf::write(sheet, {paper, "2030-11-01", false, {}}).faults) all += emit::pdf::sentence(fault) + '\n';
  return all;
}

}  // namespace

TEST_CASE("scripts: Cyrillic papers lay out") { lays_out("Russian", in_cyrillic, "Noto Sans"); }
TEST_CASE("scripts: Devanagari papers lay out") { lays_out("Hindi", in_devanagari, "Noto Sans Devanagari"); }
TEST_CASE("scripts: Ethiopic papers lay out") { lays_out("Amharic", in_ethiopic, "Noto Sans Ethiopic"); }
TEST_CASE("scripts: Arabic papers lay out, from right to left") { lays_out("Arabic", in_arabic, "Noto Sans Arabic"); }
TEST_CASE("scripts: Hebrew papers lay out, from right to left") { lays_out("Hebrew", in_hebrew, "Noto Sans Hebrew"); }
TEST_CASE("scripts: text and words that are a third longer lay out") { lays_out("German", longer, "Noto Sans"); }

TEST_CASE("scripts: on a paper that is read from right to left, box and number stand at the right and the act ends at its edge") {
  const auto part_of_step = [](const std::string& language) {
    const emit::pdf::LaidOut out = emit::pdf::lay_out(with_act("ضع القفازات", language), Paper::a4);
    REQUIRE(out.faults.empty());
    return out.faces.at(0).parts.at(1);
  };
  const auto box = [](const emit::pdf::LaidPart& part) { return part.marks.at(0).where; };
  const auto text = [](const emit::pdf::LaidPart& part, const std::string& words) {
    return std::find_if(part.texts.begin(), part.texts.end(), [&](const auto& each) { return each.words == words; })->where;
  };
  const auto left = part_of_step("en"), right = part_of_step("ar");
  const double middle = (right.where.left + right.where.right) / 2;
  CHECK(box(left).right < text(left, "7").left);
  CHECK(box(right).left > text(right, "7").right);
  CHECK(text(right, "7").left > text(right, "ضع القفازات").right);
  CHECK(text(right, "ضع القفازات").right > middle);
  CHECK(text(right, "45 s").right < middle);
  CHECK(box(right).right == doctest::Approx(right.where.right - (box(left).left - left.where.left)));
  for (const char* tag : {"ar", "he", "fa", "ur", "ar-EG"}) CHECK(emit::reads_right_to_left(tag));
  for (const char* tag : {"en", "es", "am", "hi", "und", "arn"}) CHECK_FALSE(emit::reads_right_to_left(tag));
}

TEST_CASE("scripts: a sign that no font here has is told with its step and the Debian package that has it") {
  // The Unicode Standard, chapter 18: U+6C34 is a Han ideograph; Debian packs Noto's in fonts-noto-cjk (its list of files).
  const std::string text = told(with_act("PUT ON 水"), Paper::a4);
  const bool is_installed = text.empty();  // a machine that has the package prints it
  if (!is_installed) CHECK(text.find("step 7: no font here can write “水” (U+6C34) in “PUT ON 水” (install the package fonts-noto-cjk)") == 0);
  CHECK(told(with_act("PUT ON 👍🏽"), Paper::a4).find("no package would help: write it in other words") != std::string::npos);
  CHECK(told(with_act("PUT ON перчатки, γάντια, ถุงมือ, கையுறைகள், ձեռնոցներ, ხელთათმანები, ಕೈಗವಸು"), Paper::a4).empty());
}

TEST_CASE("scripts: a missing family is told with its package") {
  CHECK(emit::pdf::sentence({Fault::What::no_font, "every face", "Noto Sans", "fonts-noto-core", {}, {}}) == "the font family Noto Sans is missing (install the package fonts-noto-core)");
}

TEST_CASE("scripts: what does not fit is told with its step, the paper, and the papers that it fits on") {
  std::string act = "DO";
  for (int i = 0; i < 70; ++i) act += " word after word";
  CHECK(told(with_act(act), Paper::a5) == "step 7: too long for one face of A5; it fits on A4, Letter, A3 or Tabloid\n");
  CHECK(told(with_act(act + act + act + act), Paper::a4) == "step 7: too long for one face of A4; it fits on no paper that this is printed on: shorten it\n");
  const std::string word = "Rindfleischetikettierungsueberwachungsaufgabe";  // 45 letters: a known German compound, and a little more
  const std::string wide = told(with_act(word), Paper::a5);
  CHECK(wide.find("step 7: a word of “" + word + "” is wider than its column on A5; it fits on A4") == 0);
  CHECK(told(with_act(word), Paper::a4).empty());
}
