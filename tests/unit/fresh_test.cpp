// Check words as people tell them, whose they are, and what changed between two papers.

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "emit/document/check_words.hpp"
#include "emit/fresh/answer.hpp"
#include "emit/fresh/known_paper.hpp"
#include "emit/fresh/paper_lines.hpp"
#include "emit/fresh/told_words.hpp"

using namespace stepward;
using namespace stepward::emit;

namespace {

Step step(const std::string& label, const std::string& act, const std::string& target = "") {
  Step made;
  made.label = label;
  made.act = {{act, true, ""}};
  if (!target.empty()) made.act.push_back({" go on at " + target, false, target});
  return made;
}

Sheet sheet_of(std::vector<Block> blocks) {
  Sheet sheet;
  sheet.control.kind = "Wearer’s card";
  sheet.control.number = "T-1";
  sheet.control.version = "1.0";
  sheet.captions.draft_mark = "DRAFT";
  sheet.blocks = std::move(blocks);
  stamp(sheet);
  return sheet;
}

KnownPaper known(const Sheet& sheet, bool is_now = true) { return {"card", "", sheet, is_now, is_now ? "now.ward" : "then.ward"}; }

Told told_of(const std::string& text) {
  std::string why;
  const auto made = told(text, why);
  REQUIRE_MESSAGE(made.has_value(), why);
  return *made;
}

std::vector<PaperChange::What> kinds(const std::vector<PaperChange>& all) {
  std::vector<PaperChange::What> kinds;
  for (const PaperChange& each : all) kinds.push_back(each.what);
  return kinds;
}

using What = PaperChange::What;

}  // namespace

TEST_CASE("fresh: check words are read with any dash, comma, blank and letters") {
  const std::vector<std::string> wanted = {"heron", "cello", "lettuce", "nutmeg"};
  for (const char* text : {"heron – cello – lettuce – nutmeg", "HERON CELLO LETTUCE NUTMEG", "heron,cello, lettuce ,nutmeg", "heron-cello-lettuce-nutmeg",
                           "Heron — cello — Lettuce — nutmeg.", "“heron – cello – lettuce – nutmeg”", "  heron\tcello\nlettuce\xC2\xA0nutmeg "}) {
    CAPTURE(text);
    const Told read = told_of(text);
    CHECK(read.words == wanted);
    CHECK(read.slips.empty());
    CHECK_FALSE(read.is_code());
  }
}

TEST_CASE("fresh: any word with one slip is taken for the check word it was, and the answer says so") {
  // The words are chosen at least three slips apart, so one slip can mean no other. Every word is tried with its first letter lost and
  // with one doubled.
  for (int number = 0; number < 256; ++number) {
    const std::string word(check_word(static_cast<std::uint8_t>(number)));
    for (const std::string& heard : {word.substr(1), word + word.back()}) {
      const Told read = told_of(heard + " heron cello nutmeg");
      CHECK(read.words[0] == word);
      REQUIRE(read.slips.size() == 1);
      CHECK(read.slips[0].heard == heard);
      CHECK(read.slips[0].meant == word);
    }
  }
}

TEST_CASE("fresh: what are no four words is refused in plain words") {
  std::string why;
  CHECK_FALSE(told("heron cello", why));
  CHECK(why == "a face has four check words; 2 were given");
  CHECK_FALSE(told("", why));
  CHECK(why == "a face has four check words; 0 were given");
  CHECK_FALSE(told("heron xylophone bassoon nutmeg", why));
  CHECK(why == "\"xylophone – bassoon\" are no check words");
  // One strange word still leaves three to go by.
  CHECK(told_of("heron xylophone lettuce nutmeg").slips[0].meant.empty());
}

TEST_CASE("fresh: the text of a square code is told from words, and the number may hold blanks") {
  const Told code = told_of("AMH IP 012 2.0 2A79BEE60A23");
  CHECK(code.is_code());
  CHECK(code.number == "AMH IP 012");
  CHECK(code.version == "2.0");
  CHECK(code.hash == "2a79bee60a23");
  CHECK(told_of("2a79bee60a23").number.empty());
}

TEST_CASE("fresh: a paper is found by its words and by its code, now before formerly") {
  const Sheet now = sheet_of({step("1", "TAKE OFF the apron")}), then = sheet_of({step("1", "PULL OFF the apron")});
  const std::vector<KnownPaper> papers = {known(then, false), known(now)};
  const auto by_words = match(told_of(now.control.check_words), papers);
  REQUIRE(by_words);
  CHECK(by_words->paper == &papers[1]);
  CHECK(by_words->is_exact);
  CHECK(by_words->own_mark);
  CHECK(match(told_of(now.control.code), papers)->paper == &papers[1]);
  CHECK(match(told_of(then.control.code), papers)->paper == &papers[0]);
  CHECK_FALSE(match(told_of("T-1 1.0 000000000000"), papers));
}

TEST_CASE("fresh: three words of four, or all four in another order, are nearly the paper's and not the paper's") {
  const Sheet now = sheet_of({step("1", "TAKE OFF the apron")});
  const std::vector<KnownPaper> papers = {known(now)};
  std::vector<std::string> words = words_apart(now.control.check_words);
  REQUIRE(words.size() == 4);
  std::vector<std::string> other = words;
  other[2] = words[2] == "zebra" ? "yogurt" : "zebra";
  const auto near = match(told_of(in_one_line(other)), papers);
  REQUIRE(near);
  CHECK_FALSE(near->is_exact);
  CHECK(near->words == words);
  std::swap(words[0], words[3]);
  CHECK_FALSE(match(told_of(in_one_line(words)), papers)->is_exact);
  other[1] = words[1] == "zebra" ? "yogurt" : "zebra";
  CHECK_FALSE(match(told_of(in_one_line(other)), papers));
}

TEST_CASE("fresh: a mark alone is no change of the text") {
  Sheet now = sheet_of({step("1", "TAKE OFF the apron")});
  const std::string without = now.control.check_words;
  now.control.watermark = "DRAFT";  // the review day went by, and it would be printed as a draft
  stamp(now);
  REQUIRE(now.control.check_words != without);
  const std::vector<KnownPaper> papers = {known(now)};
  const auto found = match(told_of(without), papers);
  REQUIRE(found);
  CHECK(found->is_exact);
  CHECK_FALSE(found->own_mark);
  CHECK(match(told_of(now.control.check_words), papers)->own_mark);
}

TEST_CASE("fresh: a copy without SET ASIDE is known and told, and OVERDUE is in no word") {
  Sheet now = sheet_of({step("1", "TAKE OFF the apron")});
  const std::string without = now.control.check_words;
  now.control.marks = {{"OVERDUE", "The review was due.", false}};
  stamp(now);
  CHECK(now.control.check_words == without);
  now.control.marks.push_back({"SET ASIDE", "See the sign-off page."});
  stamp(now);
  REQUIRE(now.control.check_words != without);
  const std::vector<KnownPaper> papers = {known(now)};
  const auto own = match(told_of(now.control.check_words), papers), older = match(told_of(without), papers);
  REQUIRE(own);
  CHECK_FALSE(own->lacks_mark);
  REQUIRE(older);
  CHECK(older->is_exact);
  CHECK(older->own_mark);
  CHECK(older->lacks_mark);
  Answer answer;
  answer.what = Answer::What::lacks_mark;
  answer.found = PaperNamed{"card", "", "now.ward", now.control};
  CHECK(as_text(answer).find("without the mark that it has now: OVERDUE · SET ASIDE") != std::string::npos);
  CHECK(as_json(answer).find("\"answer\": \"lacks a mark\"") != std::string::npos);
  answer.what = Answer::What::current;
  CHECK(as_text(answer).find("it is marked SET ASIDE: See the sign-off page.") != std::string::npos);
}

TEST_CASE("fresh: the same paper has not changed") {
  const Sheet sheet = sheet_of({step("1", "TAKE OFF the apron"), step("2", "WAIT")});
  CHECK(changes(sheet, sheet).empty());
}

TEST_CASE("fresh: a step put in is told once, and what only gets other numbers is told apart") {
  Step warned = step("3", "TAKE OFF the hood");
  warned.warnings = {{{"WARNING before step 3.", false, ""}}};
  Step warned_later = step("4", "TAKE OFF the hood");
  warned_later.warnings = {{{"WARNING before step 4.", false, ""}}};
  const Sheet then = sheet_of({step("1", "LOOK", "3"), step("2", "TAKE OFF the apron"), warned});
  const Sheet now = sheet_of({step("1", "LOOK", "4"), step("2", "TAKE OFF the apron"), step("3", "DISINFECT your hands"), warned_later});
  const auto all = changes(then, now);
  REQUIRE(kinds(all) == std::vector<What>{What::renumbered, What::added, What::renumbered});
  CHECK(all[1].now.label == "3");
  CHECK(all[1].now.text == "DISINFECT your hands");
  CHECK(all[2].then.label == "3");
  CHECK(all[2].now.label == "4");
}

TEST_CASE("fresh: a reference that leads to another step is a change") {
  const Sheet then = sheet_of({step("1", "LOOK at it and", "2"), step("2", "TAKE OFF the apron"), step("3", "RUB your hands dry")});
  const Sheet now = sheet_of({step("1", "LOOK at it and", "3"), step("2", "TAKE OFF the apron"), step("3", "RUB your hands dry")});
  const auto all = changes(then, now);
  REQUIRE(kinds(all) == std::vector<What>{What::changed});
  CHECK(all[0].then.text == "LOOK at it and go on at 2");
  CHECK(all[0].now.text == "LOOK at it and go on at 3");
}

TEST_CASE("fresh: gone, changed and moved steps, and lines of the document block") {
  Sheet then = sheet_of({step("1", "TAKE OFF the apron"), step("2", "STAND still"), step("3", "WIPE the long green bench"), step("4", "RUB your hands"), step("5", "WALK out")});
  Sheet now = sheet_of({step("1", "RUB your hands"), step("2", "TAKE OFF the apron"), step("3", "STAND still"), step("4", "WIPE the long red bench")});
  now.control.version = "1.1";
  const auto all = changes(then, now);
  REQUIRE(kinds(all) == std::vector<What>{What::changed, What::moved, What::renumbered, What::renumbered, What::changed, What::gone});
  CHECK(all[0].now.label == "version");
  CHECK(all[0].now.text == "1.1");
  CHECK(all[1].then.label == "4");
  CHECK(all[1].now.label == "1");
  CHECK(all[4].now.text == "WIPE the long red bench");
  CHECK(all[5].then.text == "WALK out");
}

TEST_CASE("fresh: whatever changes the check words of a paper is told as a change") {
  // Each field that goes into the words by itself: none may be left out of the lines.
  const Step plain = step("1", "TAKE OFF the apron");
  const Sheet then = sheet_of({plain});
  std::vector<Step> others(6, plain);
  others[0].manner = {{"Slowly", false, ""}};
  others[1].clock = "45 s";
  others[2].critical = true;
  others[3].side = {"hands: bare"};
  others[4].warnings = {{{"Eyes shut.", false, ""}}};
  others[5].label = "1a";
  Sheet marked = then;
  for (Sheet* each : {&marked}) each->captions.critical = "CRITICAL";
  for (const Step& other : others) {
    Sheet now = sheet_of({other});
    now.captions.critical = "CRITICAL";
    REQUIRE(now.control.check_words != then.control.check_words);
    CHECK_FALSE(changes(marked, now).empty());
  }
  for (std::string Control::*field : {&Control::kind, &Control::title, &Control::number, &Control::version, &Control::status, &Control::in_force,
                                      &Control::review_due, &Control::owner, &Control::approver, &Control::variant, &Control::reminder, &Control::watermark}) {
    Sheet now = then;
    now.control.*field += "x";
    CHECK(plain_text(now) != plain_text(then));
    CHECK(kinds(changes(then, now)) == std::vector<What>{What::changed});
  }
}
