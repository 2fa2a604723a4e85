// The review dossier against answers that were worked out by hand, section by section; its pages; its other languages.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "driver/dossier_charts.hpp"
#include "driver/dossiers.hpp"
#include "emit/document/digest.hpp"
#include "emit/card/card.hpp"
#include "emit/dossier/writer.hpp"
#include "emit/flow_chart/pieces.hpp"
#include "emit/pdf/laid_out.hpp"
#include "translation/names.hpp"
#include "translation/source_texts.hpp"

#include "gathered.hpp"

using namespace stepward;
using namespace stepward::emit;
using namespace stepward::test;

namespace {

/// Every letter outside of gaps becomes one of another script.
std::string in_another_script(const std::string& text) {
  std::string other;
  bool in_gap = false;
  for (const char c : text) {
    in_gap = c == '[' || (in_gap && c != ']');
    if (!in_gap && c >= 'a' && c <= 'z') other += "ж";
    else if (!in_gap && c >= 'A' && c <= 'Z') other += "Ж";
    else other += c;
  }
  return other;
}

translation::Dictionary another_script(const driver::Compilation& made) {
  translation::Dictionary words;
  words.language = "Disguised";
  for (const auto& source : translation::source_texts(made.loaded)) words.texts[source.text] = in_another_script(source.text);
  for (const std::string& name : translation::names_in(*made.protocol)) words.names[name] = {in_another_script(name), in_another_script("the " + name)};
  for (std::size_t i = 0; i < wording::phrase_count; ++i) words.phrases[i] = in_another_script(std::string(wording::english_phrase(i)));
  return words;
}

}  // namespace

TEST_CASE("dossier: its sections, in order") {
  const std::vector<std::string> wanted = {"1. Verdict", "2. What was found", "3. Which rule is asked at which step", "4. Rules that are never asked",
                                           "5. Registers of exceptions", "6. How far dirt comes, step by step", "7. Kit, waste and time", "8. Sources", "9. Flow chart",
                                           "10. Slips", "11. Signatures", "12. Failure modes, to be scored by hand"};
  std::vector<std::string> sections = headings(gather(ten_lines_touching("used bench", "clean shelf")).sheet());
  std::erase_if(sections, [](const std::string& heading) { return !std::regex_search(heading, std::regex("^[0-9]+\\. ")); });
  CHECK(sections == wanted);
}

TEST_CASE("dossier: page one says what was checked, by which program, on what it rests, and never that anything is safe") {
  const Gathered made = gather(ten_lines_touching("used bench", "clean shelf"));
  const Sheet sheet = made.sheet();
  has(under(sheet, "Verdict"), "Checked against 3 rules and the declared touches: 1 variant, ");
  has(under(sheet, "Verdict"), "Errors: 0, warnings: 0, notes: 1.");
  const std::string rests = under(sheet, "What the verdict rests on");
  for (const char* part : {"Ordinary hands", "Every look is truthful", "slips at once: 0", "Nothing interrupts", "blood, other body fluids and other dirt are not told apart", "somebody looked at it first"}) has(rests, part);
  // Page one and the section on slips say the same figures, and how both can be true.
  REQUIRE(made.facts.slips.has_value());
  const std::string tried = std::to_string(made.facts.slips->rows.size());
  has(rests, "Slips were tried apart from it, one at a time, and change nothing in the verdict. Tried: " + tried + ". Of these come to harm");
  has(under(sheet, "Slips"), tried + " slips were tried");
  const std::string checked = under(sheet, "What was checked");
  has(checked, "Ten lines out, ASH-77, version 1.0");
  has(checked, "on 15 Jan 2031");
  has(checked, "of its own: 3 rules");
  // Ten lines, and the end of the contact time of each of the four disinfections is a step of the walk of its own.
  has(checked, "counted: 1; steps of the longest: 14");
  has(checked, "at most 20 000 000 situations were to be looked at for a variant; none has so many");
  // But for the name of the office that published the questions of the worksheet.
  CHECK_FALSE(std::regex_search(with(plain_text(sheet), "National Center for Patient Safety", ""), std::regex("\\b[Ss]afe")));
  CHECK(sheet.control.watermark.empty());
}

TEST_CASE("dossier: files stand with their size and SHA-256, those of the library too") {
  const std::string text = ten_lines_touching("used bench", "clean shelf");
  const Gathered made = gather(text);
  REQUIRE_FALSE(made.facts.files.empty());
  CHECK(made.facts.files[0].path == "a.ward");
  CHECK(made.facts.files[0].bytes == text.size());
  CHECK(made.facts.files[0].sha256 == emit::short_hash(emit::sha256(text), 32));
  // FIPS 180-4's own example, so that the line above does not only compare the program with itself.
  CHECK(emit::short_hash(emit::sha256("abc"), 32) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  has(under(made.sheet(), "The files"), "a.ward, " + std::to_string(text.size()) + " bytes\n" + made.facts.files[0].sha256);
  has(under(made.sheet(), "The files"), "standard/agents/disinfectants.ward");
}

TEST_CASE("dossier: the hash is of the bytes on the disk, also where line ends were made plain to be read") {
  std::string text = ten_lines_touching("used bench", "clean shelf"), with_returns;
  for (const char c : text) with_returns += c == '\n' ? std::string("\r\n") : std::string(1, c);
  CHECK(gather(with_returns).facts.files[0].sha256 == emit::short_hash(emit::sha256(with_returns), 32));
}

TEST_CASE("dossier: there is none of a file that was changed while it was being checked") {
  FilesInMemory files;
  files.put("a.ward", ten_lines_touching("used bench", "clean shelf"));
  driver::Compilation made = driver::read("a.ward", files, "2031-01-15");
  driver::walk(made, {});
  files.put("a.ward", ten_lines_touching("used bench", "used bench"));
  std::string why;
  CHECK_FALSE(driver::dossier_facts(made, files, {"2031-01-15"}, why).has_value());
  CHECK(why == "a.ward: it was changed while it was being checked");
}

TEST_CASE("dossier: levels of ten lines, worked by hand") {
  const Gathered made = gather(ten_lines_touching("used bench", "clean shelf"));
  const std::string map = under(made.sheet(), "The map");
  // 1: clean gloves meet a bench that may carry, so both showing surfaces of the gloves may carry.
  has(map, "1 | PUSH it aside\nHands: outer gloves: clean. | Meet (may carry): used bench.\nMAY CARRY from here: outer gloves (outside, cuff).\n");
  // 2: the agent works on gloves, nothing was soiled.
  has(map, "\nHands: outer gloves: may carry. | CLEAN again: outer gloves (outside, cuff).\n");
  // 3: a clean hand takes the clean apron by its loop and its inside.
  has(map, "\nHands: outer gloves: clean. | Meet (clean): plastic apron (neck loop, inside).\n");
  // 5: outer gloves come off by their cuff; then what shows beneath, the inner gloves, meets their inside.
  has(map, "Meet (clean): outer gloves (cuff, inside).\n");
  // 7: the same one layer further in: gloved fingers at the cuff, bare fingers at the inside.
  has(map, "Meet (clean): inner gloves (cuff, inside).\n");
  // 9: bare hands at a clean shelf.
  has(map, "\nHands: bare hands: clean. | Meet (clean): clean shelf.\n");
  // 4, 6, 8: clean hands are disinfected; 10: nothing is touched.
  has(map, "Nothing is met and nothing changes at step | 4, 6, 8, 10\n");
  has(under(made.sheet(), "Where a bare hand can meet a dirty surface"), "Nowhere:");
  has(under(made.sheet(), "Where a bare hand can meet a dirty surface"), "Nor do bare hands become unclean in another way");
}

TEST_CASE("dossier: which rule is asked at which step, which step no rule asks about, and which rule never is") {
  const Sheet sheet = gather(ten_lines_touching("used bench", "clean shelf")).sheet();
  const std::string rules = under(sheet, "Which rule is asked at which step");
  has(rules, "TL1 clean hands before the apron\ncritical rule | 3\n");
  has(rules, "TL2 no hood without a look\nmajor rule | nowhere\n");
  has(rules, "TL3 hands after the bench\nadvice | 1\n");
  has(under(sheet, "Steps that no rule asks about"), "\n2, 4–10\n");
  const std::string untested = under(sheet, "Rules that are never asked");
  has(untested, "no run came to a place where they ask anything.");
  has_not(untested, "could have broken");
  has(untested, "TL2 | no hood without a look\nNo run comes to the moment that is spoken of: nobody wears or uses the thing in any variant.");
  has_not(untested, "TL1");
  // The finding says the same fact in the same words.
  has(under(sheet, "What was found"), "Note R201 | TL2 never asked: no hood without a look.\n");
  has(under(sheet, "What was found"), "hint: no run comes to the moment that is spoken of: TL2");
}

TEST_CASE("dossier: a bare hand at a dirty surface is told with its step, and the dossier of a protocol with errors is a draft") {
  const Gathered made = gather(ten_lines_touching("clean shelf", "used bench"));
  const Sheet sheet = made.sheet();
  CHECK(made.facts.counts.errors == 1);
  CHECK(sheet.control.watermark == "DRAFT");
  has(under(sheet, "Where a bare hand can meet a dirty surface"), "At step 9 | Bare hands: meet used bench, may carry\n");
  // The touch is told; that it leaves the hands unclean is no other way of becoming so.
  has_not(under(sheet, "Where a bare hand can meet a dirty surface"), "Bare hands may become unclean all the same");
  has(under(sheet, "Where a bare hand can meet a dirty surface"), "What a slip would lead to was not tried either");
  has(under(sheet, "What the verdict rests on"), "What a slip would lead to was not tried either");
  const std::string findings = under(sheet, "What was found");
  has(findings, "ERROR P102 | Bare hands touch used bench, which may carry dirt.\na.ward, line 62\nat step 9\n");
  has(findings, "how it comes about | ");
  has(under(sheet, "Verdict"), "Not clean: 1 error found");
  has(under(sheet, "Verdict"), "a draft for review and nothing to work from");
  // The run goes on behind the error, so the map has the tenth line as well.
  has(under(sheet, "The map"), "Nothing is met and nothing changes at step | 2, 4, 6, 8, 10\n");
}

TEST_CASE("dossier: what an interruption touches by itself is no line, and is told apart") {
  const std::string slipping = "any time wearer slips\n  happens wearer touches used bench\n  wearer disinfects hands with hand rub\n  resume\nend any time\n";
  const std::string text = with(ten_lines_touching("clean shelf", "clean shelf"), "phase \"Out\"", slipping + "phase \"Out\"");
  const std::string told = under(gather(text).sheet(), "Where a bare hand can meet a dirty surface");
  has(told, "Nowhere:");
  has(told, "These interruptions touch something by themselves; that is suffered, not done, and counts in neither: wearer slips.");
  has_not(under(gather(ten_lines_touching("clean shelf", "clean shelf")).sheet(), "Where a bare hand can meet a dirty surface"), "touch something by themselves");
}

TEST_CASE("dossier: how bare hands become unclean is said, and a look touches nothing") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  const Sheet sheet = made.sheet();
  const std::string hands = under(sheet, "Where a bare hand can meet a dirty surface");
  // Box C looks at the inner gloves when the outer ones are off: what the worst of them met has come through where they are torn. Box D and E
  // look at the bare hands themselves.
  has(hands, "At step C3 | Bare hands: may carry, since a tear is seen in what lies on them (inner gloves)\n");
  has(hands, "At step D3, E2 | Bare hands: soiled, if soil is seen on them\n");
  // Without gloves put on again at 40, or with a tear that nobody saw: what it comes to stands in the section on slips, and is named here.
  has(hands, "One slip can bring bare hands to an unclean surface at step ");
  std::size_t looks = 0;
  for (const Block& block : sheet.blocks) {
    const auto* row = std::get_if<TableRow>(&block);
    if (!row || row->table != dossier::map_table || plain_text(row->cells[1]).find("LOOK at") == std::string::npos) continue;
    ++looks;
    has_not(plain_text(row->cells[2]), "MAY CARRY from here");
    has_not(plain_text(row->cells[2]), "Meet");
  }
  CHECK(looks > 10);
  has(under(sheet, "The map"), "If a tear is seen, what lies beneath MAY CARRY: coverall (sleeves); inner gloves (outside, cuff).");
}

/// "gown (front, ties); goggles." as "gown (front", "gown (ties", "goggles".
std::set<std::string> surfaces_of(std::string list) {
  std::set<std::string> all;
  list = list.substr(0, list.rfind('.'));
  const std::regex thing("([^;(]*[^;( ])( \\(([^)]+)\\))?(; )?");
  for (std::sregex_iterator at(list.begin(), list.end(), thing), end; at != end; ++at) {
    std::istringstream parts((*at)[3].matched ? (*at)[3].str() : "");
    const std::string name = (*at)[1].str();
    std::string part;
    if (!(*at)[3].matched) all.insert(name);
    while (std::getline(parts, part, ',')) all.insert(name + " (" + part.substr(part.find_first_not_of(' ')));
  }
  return all;
}

TEST_CASE("dossier: no step of the map says two things of one surface") {
  std::size_t rows = 0;
  for (const Block& block : gather_file("examples/aldermoss-exit.ward").sheet().blocks) {
    const auto* row = std::get_if<TableRow>(&block);
    if (!row || row->table != dossier::map_table) continue;
    std::istringstream lines(plain_text(row->cells[2]));
    std::map<bool, std::set<std::string>> told;  // false: what is met; true: what becomes of it
    for (std::string line; std::getline(lines, line);) {
      const std::size_t colon = line.find(": ");
      if (colon == std::string::npos) continue;
      for (const std::string& surface : surfaces_of(line.substr(colon + 2))) CHECK_MESSAGE(told[line.rfind("Meet", 0) != 0].insert(surface).second, plain_text(row->cells[2]));
    }
    ++rows;
  }
  CHECK(rows > 30);
}

TEST_CASE("dossier: nothing carries from a line at whose end it is clean") {
  // Gloves that are clean wet the outside of the boots, where dirt is, and with it in hand their tops; when the contact time is over both are clean.
  const std::string map = under(gather_file("examples/aldermoss-exit.ward").sheet(), "The map");
  has(map, "32 (1, 3) | DISINFECT the rubber boots with strong chlorine\nHands: inner gloves: clean. | Meet (clean): rubber boots (top).\nMeet (may carry): rubber boots (outside).\n"
           "MAY CARRY from here: inner gloves (outside, cuff).\nCLEAN again: rubber boots (outside).\n");
  // What is wiped without a contact time does stay as it is left: the bench is met and nothing makes it clean.
  has(under(gather(ten_lines_touching("used bench", "clean shelf")).sheet(), "The map"), "MAY CARRY from here: outer gloves (outside, cuff).");
}

TEST_CASE("dossier: where everybody stands at the start, what they wear and what may carry by then") {
  const std::string start = under(gather(ten_lines_touching("used bench", "clean shelf")).sheet(), "Where it begins");
  has(start, "Wearer | In the exit area.\nWears: scrubs, inner gloves, outer gloves and plastic apron.\n");
  has(start, "May carry at the start | used bench\nAll else that hands can meet is clean at the start.\n");
  has(under(gather(with(ten_lines_touching("clean shelf", "clean shelf"), "begins suspect", "begins clean")).sheet(), "Where it begins"), "All that hands can meet is clean at the start.");
  // The example's declaration, by hand: "wearing foot choice, inner gloves, suit choice, respirator, cloth hood, eye choice, plastic apron, outer gloves".
  const std::string exit = under(gather_file("examples/aldermoss-exit.ward").sheet(), "Where it begins");
  has(exit, "Wearer | In the care room.\nWears: scrubs, ");
  has(exit, "inner gloves, gown (variants 5, 6), coverall (variants 1–4), respirator, cloth hood, face shield (variants 3–6), goggles (variants 1, 2), plastic apron and outer gloves.");
  has(exit, "Observer | In the exit area.\n");
  has(exit, "outer gloves (outside, cuff)");
}

TEST_CASE("dossier: of a rule that forbids it says that no line can do it, and of one whose exception always holds that nothing breaks it") {
  const std::string untested = under(gather_file("examples/aldermoss-exit.ward").sheet(), "Rules that are never asked");
  has(untested, "LE16 | the wearer keeps off the front of the respirator\nIt forbids what no line can do here. So it is kept, but was never put to the test.\n");
  has(untested, "LE22 | the seal is checked at every wearing\nNo run comes to the moment that is spoken of.\n");
  // "never wearer takes off any suit, unless powered hood is not worn": the document has no powered hood.
  const std::string rules = under(gather_file("stdlib-procedures/protocols/respirator-exit.ward").sheet(), "Which rule is asked at which step");
  const std::size_t at = rules.find("LO11 ");
  REQUIRE(at != std::string::npos);
  has(rules.substr(at, rules.find("\nLO12") - at), "Nothing can break it there: in no variant does anybody wear what its “unless” speaks of.");
  has_not(rules.substr(rules.find("LO12 "), rules.find("\nLO13") - rules.find("LO12 ")), "Nothing can break it there");
}

TEST_CASE("dossier: what is handed over and what is new are called as on the card") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  const std::string map = under(made.sheet(), "The map");
  has(map, "TAKE 1 new pair of inner gloves from the helper\n");
  has(map, "PUT ON the new inner gloves\n");
  has_not(map, "PASS");
  const dossier::VariantFacts& first = made.facts.variants.front();
  std::string card;
  const Sheet sheet = wearers_card(*made.made.protocol, first.variant, first.course, first.walk, *made.made.protocol);
  for (const Block& block : sheet.blocks)
    if (const auto* step = std::get_if<Step>(&block)) card += step->label + ' ' + plain_text(step->act) + '\n';
  std::size_t same = 0;
  for (const auto& band : made.facts.charts.front().chart.bands) {
    for (const auto& shape : band.shapes) {
      if (shape.what != flow_chart::Shape::What::step || (!shape.text.starts_with("PUT ON") && !shape.text.starts_with("TAKE 1"))) continue;
      has("\n" + card, "\n" + shape.number + ' ' + shape.text + '\n');
      ++same;
    }
  }
  CHECK(same >= 4);
}

/// What stands in the first column of the map, by variant.
std::vector<std::vector<std::string>> labels_in_map(const Gathered& made) {
  std::vector<std::vector<std::string>> labels(made.facts.variants.size());
  // "26 (1–4)", or "12" in all variants.
  const std::regex at("([A-Z0-9][A-Za-z0-9.]*)(?: \\(([0-9–, ]+)\\))?");
  for (const Block& block : made.sheet().blocks) {
    const auto* row = std::get_if<TableRow>(&block);
    if (!row || row->table != dossier::map_table) continue;
    std::istringstream lines(plain_text(row->cells[0]));
    for (std::string line; std::getline(lines, line);) {
      std::smatch parts;
      REQUIRE_MESSAGE(std::regex_match(line, parts, at), line);
      const std::string where = parts[2];
      for (std::size_t v = 1; v <= labels.size(); ++v) {
        const std::size_t dash = where.find("–");
        const bool in_range = dash != std::string::npos && where[dash - 1] - '0' <= static_cast<int>(v) && static_cast<int>(v) <= where[dash + 3] - '0';
        if (where.empty() || in_range || where.find(std::to_string(v)) != std::string::npos) labels[v - 1].push_back(parts[1]);
      }
    }
  }
  return labels;
}

void in_order_of_cards(const Gathered& made, std::size_t at_least) {
  for (const std::vector<std::string>& card : labels_in_map(made)) {
    CHECK(card.size() >= at_least);
    for (std::size_t i = 1; i < card.size(); ++i) CHECK_MESSAGE(dossier::stands_before(card[i - 1], card[i]), card[i - 1] << " before " << card[i]);
  }
}

TEST_CASE("dossier: the map has the order of every variant's card") { in_order_of_cards(gather_file("examples/aldermoss-exit.ward"), 20); }

TEST_CASE("dossier: the map has the order of every variant's card, also where the cards contradict each other") {
  // Two boxes, of which each variant asks for another one first: C is the round of the left rail in one of them and of the right in the other.
  const auto round = [](const std::string& side) {
    return "routine round " + side + "\n  act \"Push the " + side + " rail.\" touching used bench\n  disinfect hands with strong chlorine\n  act \"Count, " + side +
           ".\"\n  act \"Turn, " + side + ".\"\nend routine\n";
  };
  std::string text = with(ten_lines_touching("used bench", "clean shelf"), "people\n", "variants\n  eye choice is goggles or face shield\nend variants\npeople\n");
  text = with(text, "outer gloves, plastic apron\n", "outer gloves, plastic apron, eye choice\n");
  text = with(text, "  clean exit is normal\n", "  clean exit is normal\n    wearer wears eye choice\n");
  text = with(text, "phase \"Out\"\n", "any time wearer slips\n  happens nothing of its own\n  out of rhythm\n  do round left\n  do round right\n  resume\nend any time\n" + round("left") + round("right") +
                                      "phase \"Out\"\n  decide rails are dry as yes or no\n  if rails are dry is no\n    only for goggles\n      do round left\n    end only\n    do round right\n    do round left\n  end if\n");
  const Gathered made = gather(text);
  REQUIRE(made.facts.variants.size() == 2);
  const auto name_of = [&](std::size_t v, const char* label) { return made.made.protocol->lines[made.facts.variants[v].course.lines_at.at(label).front().value].id; };
  REQUIRE(name_of(0, "C1") != name_of(1, "C1"));
  in_order_of_cards(made, 8);
}

TEST_CASE("dossier: a slip that does harm in one variant is told of that one alone, and other harm of the other") {
  // With a second pair on, the pair that was forgotten leaves no bare hand at the bench; it is missed where that second pair has come off.
  std::string text = with(ten_lines_touching("used bench", "clean shelf"), "people\n", "variants\n  eye choice is goggles or face shield\nend variants\npeople\n");
  text = with(text, " wearing scrubs, inner gloves, outer gloves, plastic apron", " wearing scrubs");
  text = with(text, "surface clean shelf", "surface used stool\n  made of hard surface\n  begins suspect\n  stands in exit area\nend surface\nsurface clean shelf");
  text = text.substr(0, text.find("phase \"Out\"")) +
         "phase \"Out\"\n  put on inner gloves using cuff first\n  put on outer gloves using cuff over the sleeve only for face shield\n"
         "  act \"Push it aside.\" touching used bench\n  disinfect hands with strong chlorine\n  take off outer gloves only for face shield\n"
         "  act \"Sit.\" touching used stool\n  disinfect hands with strong chlorine\n  take off inner gloves\n  disinfect hands with hand rub\n  finish as clean exit\nend phase\n";
  const Sheet sheet = gather(text).sheet();
  has(under(sheet, "Where a bare hand can meet a dirty surface"), "One slip can bring bare hands to an unclean surface at step 2 (variant 1); 6 (variant 2): see “Slips”.");
  has(under(sheet, "one slip is enough"), "left out | PUT ON the inner gloves\nComes to, at 2 (variant 1): bare hands touch used bench, which may carry dirt.\n"
                                          "Comes to, at 6 (variant 2): bare hands touch used stool, which may carry dirt.\n");
}

/// "42 (variants 1, 3); 5–7, C2 (variant 2)", or "42" for all of them: the labels, by variant from 0.
std::vector<std::set<std::string>> steps_by_variant(const std::string& list, std::size_t variants) {
  std::vector<std::set<std::string>> all(variants);
  const auto each_in = [](const std::string& numbers, const auto& see) {
    const std::regex entry("([A-Za-z0-9.]+)(?:–([0-9]+))?");
    for (std::sregex_iterator at(numbers.begin(), numbers.end(), entry), end; at != end; ++at) {
      if (!(*at)[2].matched) see((*at)[1].str());
      else for (int n = std::stoi((*at)[1]); n <= std::stoi((*at)[2]); ++n) see(std::to_string(n));
    }
  };
  const std::regex part("([^;(]*[^;( ])(?: \\(variants? ([^)]+)\\))?(?:; )?");
  for (std::sregex_iterator at(list.begin(), list.end(), part), end; at != end; ++at) {
    std::set<std::size_t> in;
    each_in((*at)[2].str(), [&](const std::string& v) { in.insert(std::stoul(v) - 1); });
    for (std::size_t v = 0; v < variants; ++v)
      if (in.empty() || in.count(v)) each_in((*at)[1].str(), [&](const std::string& step) { all[v].insert(step); });
  }
  return all;
}

std::string listed(const std::set<std::string>& all) {
  std::string text;
  for (const std::string& each : all) text += each + ' ';
  return text;
}

TEST_CASE("dossier: of each variant it tells the slips of that variant, as the table of that variant alone has them") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  const std::string hands = under(made.sheet(), "Where a bare hand can meet a dirty surface");
  std::smatch told;
  REQUIRE(std::regex_search(hands, told, std::regex("unclean surface at step (.+): see “Slips”")));
  const auto steps = steps_by_variant(told[1], made.facts.variants.size());
  std::size_t differ = 0;
  for (std::size_t v = 0; v < made.facts.variants.size(); ++v) {
    slips::Options alone;
    alone.only_variant = v;
    const slips::Table table = slips::analyse(*made.made.protocol, alone);
    std::set<std::string> wanted;
    for (const slips::Row& row : table.rows)
      if (row.harm && row.harm->line && row.harm->code == diagnostics::Code::P102) wanted.insert(row.harm->step);
    CHECK(listed(steps[v]) == listed(wanted));
    differ += wanted != steps[0];
    for (const slips::Row& row : made.facts.slips->rows) {
      const auto same = std::find_if(table.rows.begin(), table.rows.end(), [&](const slips::Row& other) { return other.key == row.key; });
      const auto here = row.harm_in.find(v);
      const bool harms = same != table.rows.end() && same->harm.has_value();
      REQUIRE_MESSAGE(harms == (here != row.harm_in.end()), row.line);
      if (harms) CHECK(here->second.headline == same->harm->headline);
    }
  }
  CHECK(differ > 0);
}

TEST_CASE("dossier: every number of the card stands with a rule, without one, as a way to a box, or as never reached") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  const std::string boxes = under(made.sheet(), "Steps that only send to a box");
  std::size_t count = 0;
  for (const graph::Run& run : made.facts.variants[0].course.runs) {
    for (const graph::Entry& entry : run.entries) {
      if (entry.what != graph::Entry::What::box || entry.label.empty()) continue;
      ++count;
      has(boxes, entry.label + " to box " + made.facts.variants[0].course[entry.box].label);
      CHECK(made.facts.variants[0].course.lines_at.count(entry.label) == 0);  // so that no other list has it
    }
  }
  CHECK(count > 3);
  has_not(plain_text(gather(ten_lines_touching("used bench", "clean shelf")).sheet()), "Steps that only send to a box");
}

TEST_CASE("dossier: kit, waste and time of ten lines") {
  const Sheet sheet = gather(ten_lines_touching("used bench", "clean shelf")).sheet();
  has(under(sheet, "What is needed"), "Nothing is listed and nothing is used up.");
  has(under(sheet, "Waste"), "Plastic apron, into waste drum | 3\n");
  has(under(sheet, "Waste"), "Outer gloves, into waste drum | 5\n");
  // Strong chlorine stays on gloves for 45 s (agents/disinfectants.ward), three times; hand rub for 30 s: 165 s.
  has(under(sheet, "Time"), "clean exit | 2 min 45 s, lines: 10 | 2 min 45 s, lines: 10\n");
}

TEST_CASE("dossier: an ending that only an interruption leads to stands in the table of times, without a figure") {
  std::string text = with(ten_lines_touching("clean shelf", "clean shelf"), "  clean exit is normal\n", "  clean exit is normal\n  stood down is emergency\n");
  text = with(text, "phase \"Out\"", "any time alarm sounds\n  happens nothing of its own\n  act \"Stand still.\"\n  finish as stood down\nend any time\nphase \"Out\"");
  const std::string times = under(gather(text).sheet(), "Time");
  has(times, "clean exit | 2 min 45 s, lines: 10 | 2 min 45 s, lines: 10\n");
  const std::string only = "only after an interruption: how long it takes depends on when that strikes";
  has(times, "stood down\nemergency ending | " + only + " | " + only + "\n");
}

TEST_CASE("dossier: page one names the entry that the protocol pairs with, compared or not") {
  has(under(gather_file("examples/aldermoss-exit.ward").sheet(), "What was checked"),
      "pairs with | Dressing for the care room of Heron Ward, AMH-IP-011, version 2.0; its end was held against the beginning of this one, variants: 6\n");
  has_not(under(gather(ten_lines_touching("used bench", "clean shelf")).sheet(), "What was checked"), "pairs with");
  const std::string alone = with(ten_lines_touching("used bench", "clean shelf"), "use library standard \"team\"", "pairs with \"ten-in.ward\"\nuse library standard \"team\"");
  has(under(gather(alone).sheet(), "What was checked"), "pairs with | ten-in.ward; it was NOT compared: see the findings\n");
}

TEST_CASE("dossier: sources stand by how they are known, and what names none is told") {
  const std::string sources = under(gather(ten_lines_touching("used bench", "clean shelf")).sheet(), "Sources");
  has(sources, "read | A handbook, page 7\nnamed by: rule TL1\n");
  has(sources, "only from memory | A course\nnamed by: rule TL3\n");
  has(sources, "decided here | round\nnamed by: rule TL2\n");
  CHECK(sources.find("\nread | ") < sources.find("\nonly from memory | "));
  // Common practice is no source: what rests on nothing else is named, and it is not said that everything names one.
  const std::string practice = under(gather(with(ten_lines_touching("used bench", "clean shelf"), "source local \"round\"", "source common practice")).sheet(), "Sources");
  has(practice, "These rest on common practice alone, without a source: rule TL2");
  has_not(practice, "Every one of them names a source");
}

TEST_CASE("dossier: signatures are those of document control") {
  const std::string rows = under(gather(ten_lines_touching("used bench", "clean shelf")).sheet(), "Signatures");
  has(rows, "Written by\nAnn Other\ncharge nurse\n");
  has(rows, "Reviewed by\nBo Nemo\ninfection prevention\n");
  has(rows, "Approved by\nCy Else\nmedical director\n");
}

TEST_CASE("dossier: registers tell the day, and loudly that it is past") {
  const std::string register_of_one = "set aside rule TL1 in \"Out\"\n  reason \"The wipes are on the other side.\"\n  agreed by \"Ann Other\", \"charge nurse\"\n"
                                      "  ends on 2031-06-01\nend set aside\n";
  std::string text = with(ten_lines_touching("used bench", "clean shelf"), "phase \"Out\"", register_of_one + "phase \"Out\"");
  text = with(text, "  disinfect hands with strong chlorine\n", "");
  const std::string in_time = under(gather(text).sheet(), "Register of rules set aside");
  has(in_time, "TL1 clean hands before the apron\nin “Out” | Until 1 Jun 2031.\nThe wipes are on the other side.\nAgreed by Ann Other, charge nurse.\n");
  has(in_time, "Runs that need it: 1. Variants: 1.\nNot kept at step 2.");
  const std::string late = under(gather(text, "2031-07-01").sheet(), "Register of rules set aside");
  has(late, "OVER since 1 Jun 2031. The rule should be kept again.");
  has(under(gather(text).sheet(), "Register of local changes"), "No step of a routine is changed.");
  // A finding says the day as the register beside it does.
  has(under(gather(text).sheet(), "What was found"), "that was agreed until 1 Jun 2031");
  const std::string found = under(gather(text, "2031-07-01").sheet(), "What was found");
  has(found, "ended on 1 Jun 2031.");
  has(found, "hint: today is 1 Jul 2031; ");
  has_not(found, "2031-0");
}

TEST_CASE("dossier: a slip that is answered for stands in a register and apart from what is open, until its day") {
  const std::string ten = with_a_weak_rub();
  const auto answered = [&](const std::string& head) {
    return with(ten, "phase \"Out\"", "answer to " + head + "\n  reason \"A second rub hangs at the door.\"\n  agreed by \"Ann Other\", \"charge nurse\"\n  ends on 2031-06-01\nend answer\nphase \"Out\"");
  };
  const Gathered plain = gather(ten);
  const auto weak = std::find_if(plain.facts.slips->rows.begin(), plain.facts.slips->rows.end(), [&](const slips::Row& row) { return plain.facts.slips->is_open(row); });
  REQUIRE(weak != plain.facts.slips->rows.end());
  has_not(under(plain.sheet(), "Registers of exceptions"), "answered for");
  std::string line = plain.made.protocol->lines[weak->in_first.value].id;
  line = line.substr(line.rfind(" / ") + 3);
  const Gathered made = gather(answered("every slip at " + line + " in \"Out\""));
  REQUIRE(made.made.protocol->answered_slips.size() == 1);
  const std::string entry = "Every slip at “" + line + "” in “Out” | Until 1 Jun 2031.\nA second rub hangs at the door.\nAgreed by Ann Other, charge nurse.\n";
  has(under(made.sheet(), "Register of slips that are answered for"), entry + "Slips that it answers: ");
  has(under(made.sheet(), "Slips"), "somebody answers for ");
  has(under(made.sheet(), "one slip is enough, and somebody answers for it"), "A second rub hangs at the door.\nAgreed by Ann Other, charge nurse.");
  has_not(under(made.sheet(), "one slip is enough"), "A second rub");
  const Gathered late = gather(answered("every slip at " + line + " in \"Out\""), "2031-06-02");
  has(under(late.sheet(), "Register of slips that are answered for"), "OVER since 1 Jun 2031. The slip is open again.");
  has(under(late.sheet(), "one slip is enough"), "OVER since 1 Jun 2031. The slip is open again.");
}

TEST_CASE("dossier: one finding, told as a story with the card's numbers") {
  std::string text = with(ten_lines_touching("used bench", "clean shelf"), "  disinfect hands with strong chlorine\n", "");
  const std::string findings = under(gather(text).sheet(), "What was found");
  has(findings, "ERROR R101 | ");
  has(findings, "TL1 not kept: clean hands before the apron.\na.ward, line 55\nat step 2\n");
  has(findings, "because: What the gloves carry would reach the neck.\nsource: A handbook, page 7\n");
  has(findings, "how it comes about | (2) wearer takes off the plastic apron\n");
}

TEST_CASE("dossier: what differs between variants names them by their numbers") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  const Sheet sheet = made.sheet();
  has(under(sheet, "The variants and their numbers"), "5 | gown · face shield · rubber boots\n");
  // The gown comes off one step later than the coverall, since its hem is turned up first: its number differs, the rule is the same.
  has(under(sheet, "Which rule is asked at which step"), "LE11 a torn suit is told before it comes off\ncritical rule | 28 (variants 1–4)\n29 (variants 5, 6)\n");
  has(under(sheet, "Which rule is asked at which step"), "HW02 a clean end\ncritical rule | at the ending “clear exit”\n");
  // Every rule that the check calls never asked is here with a reason, and no other one.
  const std::string untested = under(sheet, "Rules that are never asked");
  for (const model::Rule& rule : made.made.protocol->rules) {
    const bool told = untested.find("\n" + rule.number + " | ") != std::string::npos;
    CHECK_MESSAGE(told != (made.made.verdict.rules_tested.count(rule.number) > 0), rule.number);
  }
}

TEST_CASE("dossier: every step of every variant is asked about, or free, or never reached") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  for (const dossier::VariantFacts& variant : made.facts.variants) {
    std::set<std::string> asked;
    for (const check::RuleAtLines& rule : variant.rules)
      for (const model::LineId line : rule.lines) asked.insert(variant.course.label(line));
    // Each removal is asked about by some rule of the pack: it has one before each of them.
    for (const model::LineId line : variant.in_order)
      if (made.made.protocol->lines[line.value].verb == model::VerbKind::doff && variant.reached.count(line)) CHECK(asked.count(variant.course.label(line)) == 1);
    // Where the check walks no interruption either, both walks come to the same lines.
    for (const auto& [line, seen] : variant.map.lines) CHECK(variant.reached.count(line) == 1);
  }
}

TEST_CASE("dossier: its own words can all be said in another language, and are in Spanish") {
  Gathered made = gather_file("examples/aldermoss-exit.ward");
  const translation::Dictionary* spanish = driver::dictionary_of(made.made, "Spanish");
  REQUIRE(spanish != nullptr);
  CHECK(driver::papers_of_dossier(made.made, made.facts, spanish).at(0).unsaid == 0);
  // What is quoted stays as it is: findings, harms, files, the entry that it pairs with, program, command, names of rules and techniques, sources.
  made.facts.findings.clear();
  made.facts.files.clear();
  REQUIRE(made.facts.pairs.size() == 1);
  made.facts.pairs.front().title = "0";
  REQUIRE(made.facts.slips.has_value());
  for (slips::Row& row : made.facts.slips->rows) {
    if (row.harm) row.harm->headline = "";
    for (auto& [variant, harm] : row.harm_in) harm.headline = "";
    for (slips::Catch& each : row.caught)
      for (auto& [variant, here] : each.where) here.words = "";
  }
  made.facts.tool = made.facts.chart.command = made.facts.chart.sha256 = made.facts.chart.why_none = "";
  model::Protocol& protocol = *made.made.protocol;
  for (model::Rule& rule : protocol.rules) rule.name = rule.number = "", rule.sources.clear();
  for (model::Technique& each : protocol.techniques) each.name = "", each.sources.clear();
  for (model::Agent& each : protocol.agents) each.sources.clear();
  for (model::Role& each : protocol.roles) each.sources.clear();
  const translation::Dictionary words = another_script(made.made);
  const std::string text = plain_text(made.sheet(&words));
  std::string allowed = "min s|SHA|" + protocol.document.number;
  for (const model::Pack& pack : protocol.packs) allowed += ' ' + pack.number;
  for (const auto* signatures : {&protocol.document.written_by, &protocol.document.reviewed_by, &protocol.document.approved_by})
    for (const model::Signature& signature : *signatures) allowed += ' ' + signature.name;
  const std::regex word("[A-Za-z]{3,}");
  for (std::sregex_iterator at(text.begin(), text.end(), word), end; at != end; ++at)
    if (allowed.find(at->str()) == std::string::npos) FAIL_CHECK("left in English: " << at->str());
}

TEST_CASE("dossier: every slip that comes to harm, and every one that a confirm alone holds back, has a row, and none where errors stand") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  REQUIRE(made.facts.slips.has_value());
  const std::string told = under(made.sheet(), "one slip is enough") + under(made.sheet(), "only a confirm stands before harm");
  std::size_t wanted = 0, rows = 0;
  for (const slips::Row& row : made.facts.slips->rows) wanted += row.harm.has_value();
  for (std::size_t at = told.find("Comes to"); at != std::string::npos; at = told.find("Comes to", at + 1)) ++rows;
  // Where variants come to different harm, each harm is told.
  for (const slips::Row& row : made.facts.slips->rows) {
    std::set<std::string> others;
    for (const auto& [variant, harm] : row.harm_in) others.insert(harm.headline);
    if (row.harm) wanted += others.size() - 1;
  }
  CHECK(wanted > 20);
  CHECK(told.find_first_of("{}") == std::string::npos);
  const slips::Row& worst = made.facts.slips->rows.front();
  REQUIRE(worst.harm);
  has(told, worst.harm->headline + ".");
  // Each number is said with the variants that have it: the line of the harm stands elsewhere on their cards.
  std::size_t numbered = 0;
  for (const slips::Row& row : made.facts.slips->rows) {
    if (!row.harm || !row.harm->line) continue;
    CHECK(made.facts.variants[row.harm->variant].course.label(row.harm->line) == row.harm->step);
    const std::size_t with_variants = told.find(row.harm->step + " (variant"), alone = told.find("at " + row.harm->step + ": ");
    CHECK_MESSAGE((with_variants != std::string::npos || alone != std::string::npos), row.harm->step);
    ++numbered;
  }
  CHECK(numbered > 20);
  has(told, "Comes to, at 42 (variants 1, 3); 46 (variants 2, 4); 43 (variant 5); 47 (variant 6): respirator may bring dirt to face.");
  has(under(made.sheet(), "Slips"), std::to_string(made.facts.slips->rows.size()) + " slips were tried");
  CHECK(rows == wanted);
  has(told, "the look misses | Observer: LOOK");
  has(under(gather(with(ten_lines_touching("used bench", "clean shelf"), "  disinfect hands with strong chlorine\n", "")).sheet(), "Slips"), "Slips were not tried");
}

TEST_CASE("dossier: the counts of slips add up, and so do the rows that are listed") {
  std::size_t several = 0;
  for (const char* file : {"examples/aldermoss-exit.ward", "stdlib-procedures/protocols/body-fluid-spill-cloth-first.ward", "stdlib-procedures/protocols/exit-area-cleaning.ward"}) {
    CAPTURE(std::string(file));
    const Sheet sheet = gather_file(file).sheet();
    const std::string told = under(sheet, "Slips");
    std::smatch all, kinds, listed;
    REQUIRE(std::regex_search(told, all, std::regex("(\\d+) slips were tried")));
    REQUIRE(std::regex_search(told, kinds, std::regex("(\\d+) come to harm before anything shows them, (\\d+) are caught before harm, (\\d+) are harmless, (\\d+) touch or change nothing")));
    REQUIRE(std::regex_search(told, listed, std::regex("the (\\d+) that come to harm, and (\\d+) of those that are caught, .*The other (\\d+) are counted only")));
    const auto sum = [](const std::smatch& figures) {
      int all_of_them = 0;
      for (std::size_t i = 1; i < figures.size(); ++i) all_of_them += std::stoi(figures[i]);
      return all_of_them;
    };
    CHECK(sum(kinds) == std::stoi(all[1]));
    CHECK(sum(listed) == std::stoi(all[1]));
    std::size_t rows = 0;
    for (const Block& block : sheet.blocks) {
      const auto* row = std::get_if<TableRow>(&block);
      if (!row || row->table != dossier::slips_table) continue;
      ++rows;
      // A row of several steps says at which of them the slip is that comes to this.
      const std::string what = plain_text(row->cells[0]);
      const bool is_several = std::regex_search(what, std::regex("^[A-Z0-9][A-Za-z0-9.]*(, |–)[A-Z0-9]"));
      several += is_several;
      if (is_several) has(plain_text(row->cells[1]), ", the slip at ");
    }
    CHECK(rows == static_cast<std::size_t>(std::stoi(listed[1]) + std::stoi(listed[2])));
  }
  CHECK(several > 0);
  // Mirror, chair and lid are disinfected by one line of a routine; the lid is told of, as the last of them.
  has(under(gather_file("stdlib-procedures/protocols/exit-area-cleaning.ward").sheet(), "one slip is enough"), "17, 20, 24\nleft out | DISINFECT the ");
}

TEST_CASE("dossier: it lies on every sheet that it is printed on without a fault") {
  for (const char* file : {"examples/aldermoss-exit.ward", "stdlib-procedures/protocols/body-fluid-spill-cloth-first.ward", "stdlib-procedures/protocols/hand-rub.ward"}) {
    const Sheet sheet = gather_file(file).sheet();
    for (const pdf::Paper paper : pdf::papers_for(SheetKind::review)) {
      const pdf::LaidOut out = pdf::lay_out(sheet, paper);
      CAPTURE(std::string(file));
      CAPTURE(pdf::name_of(paper));
      for (const pdf::Fault& fault : out.faults) FAIL_CHECK(pdf::sentence(fault));
      CHECK(out.faces.size() > 3);
    }
  }
}

TEST_CASE("dossier: a list does not begin on another face than the words that lead to it") {
  const Sheet sheet = gather_file("examples/aldermoss-exit.ward").sheet();
  const pdf::LaidOut out = pdf::lay_out(sheet, pdf::papers_for(SheetKind::review).front());
  std::size_t lead_ins = 0;
  for (const pdf::LaidFace& face : out.faces) {
    std::size_t last = 0;
    for (const pdf::LaidPart& part : face.parts)
      if (part.part == pdf::Part::block && !part.repeated) last = std::max(last, part.block);
    if (last + 1 >= sheet.blocks.size()) continue;
    const bool leads = std::holds_alternative<Paragraph>(sheet.blocks[last]) && std::holds_alternative<TableHead>(sheet.blocks[last + 1]);
    CHECK_MESSAGE(!leads, words_of(sheet.blocks[last]));
  }
  for (std::size_t i = 0; i + 1 < sheet.blocks.size(); ++i)
    lead_ins += std::holds_alternative<Paragraph>(sheet.blocks[i]) && std::holds_alternative<TableHead>(sheet.blocks[i + 1]);
  CHECK(lead_ins > 5);
}

TEST_CASE("dossier: each way of the flow chart that is cut says at both ends where it goes on") {
  const Sheet sheet = gather_file("examples/aldermoss-exit.ward").sheet();
  std::map<std::string, std::map<std::string, int>> letters;  // by band
  std::string band;
  std::size_t parts = 0, on = 0, from = 0, next_phase = 0;
  std::map<std::string, std::size_t> answers_on, answers_from;  // "": a way that no answer opens
  for (const Block& block : sheet.blocks) {
    if (const auto* heading = std::get_if<Heading>(&block)) band = heading->text;
    const auto* figure = std::get_if<Figure>(&block);
    if (!figure) continue;
    for (const Figure::Words& words : figure->words) {
      if (words.strong && std::regex_match(words.text, std::regex("[a-z]{1,2}"))) ++letters[band][words.text];
      parts += std::regex_match(words.text, std::regex("part [0-9]+ / [0-9]+"));
      std::smatch said;
      if (std::regex_match(words.text, said, std::regex("(?:(.+): )?on at (box )?[A-Z]?[0-9]*[a-z]?"))) ++on, ++answers_on[said[1]];
      if (std::regex_match(words.text, said, std::regex("from (box )?[A-Z]?[0-9]*[a-z]?(?:: (.+))?"))) ++from, ++answers_from[said[2]];
      next_phase += std::regex_match(words.text, std::regex("on at [0-9Q]+: .+"));
      CHECK(words.middle > 0);
      CHECK(words.middle < figure->width);
    }
  }
  std::size_t cuts = 0;
  for (const auto& [title, here] : letters) {
    for (const auto& [letter, times] : here) {
      CHECK_MESSAGE(times == 2, title << ": " << letter);
      ++cuts;
    }
  }
  CHECK(cuts > 5);
  CHECK(parts >= 2 * letters.size());
  CHECK(on == cuts);
  CHECK(from == cuts);
  // Who begins at the far end of a cut has to know which answer leads there.
  CHECK(answers_on == answers_from);
  CHECK(answers_on.count("YES") + answers_on.count("NO") > 0);
  CHECK(next_phase > 3);  // the end of each phase but the last
}

TEST_CASE("dossier: beside a cut stands the part where the way does go on, not one that it only passes") {
  const Gathered made = gather_file("stdlib-procedures/protocols/body-fluid-spill-cloth-first.ward");
  std::size_t far = 0, cuts = 0;
  for (const auto& placed : made.facts.charts) {
    for (std::size_t band = 0; band < placed.chart.bands.size(); ++band) {
      flow_chart::CutLetters letters;
      const auto pieces = flow_chart::pieces_of_band(placed, band, 700, letters);
      std::map<std::string, std::map<std::size_t, std::size_t>> ends;  // by letter: the piece, and the part that is said there
      for (std::size_t p = 0; p < pieces.size(); ++p) {
        for (const flow_chart::Mark& letter : pieces[p].marks) {
          if (letter.what != flow_chart::Mark::What::words || !std::regex_match(letter.text, std::regex("[a-z]{1,2}"))) continue;
          for (const flow_chart::Mark& said : pieces[p].marks) {
            const bool beside = said.what == flow_chart::Mark::What::words && said.points[0].x == letter.points[0].x && std::abs(said.points[0].y - letter.points[0].y) < 160;
            if (beside && said.text.starts_with("part ")) ends[letter.text][p] = std::stoul(said.text.substr(5)) - 1;
          }
        }
      }
      for (const auto& [letter, there] : ends) {
        CAPTURE(placed.chart.bands[band].title + ' ' + letter);
        REQUIRE(there.size() == 2);
        CHECK(there.begin()->second == there.rbegin()->first);
        CHECK(there.rbegin()->second == there.begin()->first);
        far += there.rbegin()->first > there.begin()->first + 1;
        ++cuts;
      }
    }
  }
  CHECK(cuts > 5);
  CHECK(far > 0);  // the way back of the wait passes a part
}

TEST_CASE("dossier: an answer that no run gives is marked in its charts, and the digits are of the picture that cannot say so") {
  const std::string asks = "  if plastic apron is worn by wearer\n    act \"Tell the lead.\"\n  end if\n  finish as clean exit\n";
  const Gathered made = gather(with(ten_lines_touching("used bench", "clean shelf"), "  finish as clean exit\n", asks));
  REQUIRE(made.facts.counts.errors == 0);
  std::set<std::string> labels;
  for (const auto& placed : made.facts.charts)
    for (const auto& band : placed.chart.bands)
      for (const auto& way : band.ways) labels.insert(way.label);
  CHECK(labels == std::set<std::string>{"", "NO", "YES: no run comes here"});
  has(under(made.sheet(), "Flow chart"), "Where “no run comes here” stands at an answer, the check");
  std::string why;
  driver::BandPlacer placer;
  const auto unmarked = driver::dossier_charts(*made.made.protocol, made.made, driver::NeverTaken::is_not_told, placer, why);
  REQUIRE(unmarked.has_value());
  CHECK(made.facts.chart.sha256 == emit::short_hash(emit::sha256(flow_chart::as_svg(*unmarked)), 32));
  has_not(under(gather(ten_lines_touching("used bench", "clean shelf")).sheet(), "Flow chart"), "no run comes here");
}

TEST_CASE("dossier: a wide band stays on the face, in letters of seven points or more") {
  // Its breach B1 is 990 points wide; on A4, 528 points of text at 7/12 hold 905.
  const Sheet sheet = gather_file("stdlib-procedures/protocols/body-fluid-spill-cloth-first.ward").sheet();
  std::size_t cut = 0;
  for (const Block& block : sheet.blocks) {
    const auto* figure = std::get_if<Figure>(&block);
    if (!figure) continue;
    CHECK_MESSAGE(figure->width <= 905, figure->told);
    cut += std::any_of(figure->words.begin(), figure->words.end(), [](const Figure::Words& words) { return words.text.starts_with("part 2 / "); });
    for (const Figure::Stroke& stroke : figure->strokes)
      for (const Figure::Point& point : stroke.points) CHECK((point.x >= 0 && point.x <= figure->width));
  }
  CHECK(cut > 2);
}

TEST_CASE("dossier: the flow chart is in it, every shape once for the variants that draw it alike") {
  const Gathered made = gather_file("examples/aldermoss-exit.ward");
  const Sheet sheet = made.sheet();
  std::string drawn;
  std::size_t figures = 0;
  for (const Block& block : sheet.blocks) {
    const auto* figure = std::get_if<Figure>(&block);
    if (!figure) continue;
    ++figures;
    CHECK(figure->height <= 846);
    CHECK(figure->width <= 820);
    for (const Figure::Words& words : figure->words) {
      drawn += words.text + '\n';
      CHECK(words.foot > 0);
      CHECK(words.foot < figure->height);
    }
  }
  CHECK(figures > 10);
  // Every step of the first variant, and every question, by the number that the card gives it.
  for (const graph::Run& run : made.facts.variants[0].course.runs) {
    for (const graph::Entry& entry : run.entries) {
      if (entry.what != graph::Entry::What::step && entry.what != graph::Entry::What::question) continue;
      const bool there = ("\n" + drawn).find("\n" + entry.label + "\n") != std::string::npos || drawn.find(entry.label + " ") != std::string::npos;
      if (entry.what == graph::Entry::What::step) CHECK_MESSAGE(there, entry.label);
    }
  }
}
