// Kit list, dilution card, sign-off page and competency sheet of the example, held against its source, against the walk,
// and against published arithmetic; and how their rows lie on a face.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>

#include "driver/disk.hpp"
#include "driver/papers.hpp"
#include "emit/pdf/block_setter.hpp"
#include "example_papers.hpp"
#include "emit/card/card.hpp"
#include "emit/competency/competency_sheet.hpp"
#include "emit/kit/kit_list.hpp"
#include "graph/quiet_path.hpp"
#include "laid_papers.hpp"
#include "model/variants.hpp"
#include "wording/step_text.hpp"

using namespace stepward;
using namespace stepward::emit;

namespace {

constexpr double mm = 72.0 / 25.4;
const std::string example_folder = std::string(STEPWARD_SOURCE_DIR) + "/examples/";

std::string text_of_file(const std::string& path) {
  std::ifstream in(path);
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

/// An example with some of its lines changed, read and walked.
driver::Compilation made_from(const std::string& file, const std::string& from = "", const std::string& to = "") {
  FilesInMemory files;
  for (const char* each : {"aldermoss-exit.ward", "aldermoss-entry.ward", "aldermoss-exit.es.ward", "aldermoss-library.ward", "aldermoss-rules.ward"}) {
    std::string text = text_of_file(example_folder + each);
    if (each == file && !from.empty()) {
      REQUIRE(text.find(from) != std::string::npos);
      text.replace(text.find(from), from.size(), to);
    }
    files.put(each, text);
  }
  driver::Compilation made = driver::read(file, files, "2030-11-01");
  driver::walk(made, {});
  REQUIRE_FALSE(made.verdict.walks.empty());
  return made;
}

test::Origin first_variant_of(const char* library_name) {
  const model::Protocol protocol = test::library_protocol(library_name);
  test::Origin origin{library_name, protocol, model::all_variants(protocol).front(), {}, {}};
  origin.course = graph::number_steps(origin.protocol, origin.variant);
  return origin;
}

Sheet variant_paper(const driver::Compilation& made, std::size_t variant, const std::string& what) {
  return driver::papers_of(made, made.verdict.walks.at(variant), {what}).at(0).sheet;
}

Sheet paper_of_protocol(const driver::Compilation& made, const std::string& what) { return driver::papers_of_protocol(made, {what}, {}).at(0).sheet; }

std::vector<TableRow> rows_of(const Sheet& sheet) {
  std::vector<TableRow> rows;
  for (const Block& block : sheet.blocks) {
    if (const auto* row = std::get_if<TableRow>(&block)) rows.push_back(*row);
  }
  return rows;
}

/// The row whose words begin so.
TableRow row_with(const Sheet& sheet, const std::string& words) {
  for (const TableRow& row : rows_of(sheet)) {
    for (const Text& cell : row.cells) {
      if (plain_text(cell).rfind(words, 0) == 0) return row;
    }
  }
  FAIL("no row begins with " << words);
  return {};
}

std::string cell(const TableRow& row, std::size_t at) { return plain_text(row.cells.at(at)); }

Sheet with_table(Table table, std::vector<Block> blocks) {
  Sheet sheet;
  sheet.kind = SheetKind::table;
  sheet.control.title = "Sample";
  sheet.control.code = "S-1";
  sheet.captions.critical = "CRITICAL";
  sheet.captions.continued = "[where], continued";
  sheet.tables = {std::move(table)};
  sheet.blocks = std::move(blocks);
  return sheet;
}

pdf::Galley set(const Sheet& sheet, const Block& block, pdf::Paper paper) {
  pdf::Faults faults;
  pdf::Typesetter type(faults);
  const pdf::Look look = pdf::look_of(sheet.kind, paper);
  pdf::BlockSetter setter(type, look, sheet, [](const std::string&) { return 0; });
  pdf::Galley galley = setter.set(block, 0);
  CHECK(faults.empty());
  return galley;
}

}  // namespace

// ---------------------------------------------------------------- how rows are laid out

TEST_CASE("rows: boxes to tick take a gloved marker, stand side by side, and no words run into them") {
  using What = Column::What;
  const Table table{{What::label, "", 0}, {What::words, "what", 1}, {What::tick, "1", 0}, {What::tick, "2", 0}, {What::tick, "3", 0}};
  const std::string words = "words that go on until they need a second line, and then a third one on the smaller papers";
  const Sheet sheet = with_table(table, {TableHead{0}, TableRow{0, "B1.10", true, {{{words, false, ""}}}}});
  for (const auto paper : {pdf::Paper::a4, pdf::Paper::a5, pdf::Paper::letter}) {
    const pdf::Galley row = set(sheet, sheet.blocks[1], paper);
    std::vector<pdf::Ink> boxes;
    double words_end = 0, disc_begins = 99;
    bool says_critical = false;
    for (const pdf::Ink& ink : row.inks) {
      if (ink.what == pdf::Ink::What::frame) boxes.push_back(ink);
      if (ink.what == pdf::Ink::What::disc) disc_begins = ink.x;
      if (ink.what != pdf::Ink::What::text) continue;
      const std::string said = pango_layout_get_text(ink.layout.get());
      says_critical |= said == "CRITICAL";
      words_end = std::max(words_end, ink.x + pdf::Typesetter::extent(ink.layout).width);
    }
    REQUIRE(boxes.size() == 3);
    for (const pdf::Ink& box : boxes) {
      CHECK(box.width >= 6 * mm);
      CHECK(box.height >= 6 * mm);
      CHECK(box.y >= 0);
      CHECK(box.y + box.height <= row.height);
    }
    CHECK(boxes[0].x > words_end);
    CHECK(boxes[1].x > boxes[0].x + boxes[0].width + 2);
    CHECK(boxes[2].x + boxes[2].width <= pdf::look_of(sheet.kind, paper).text_width());
    CHECK(disc_begins >= 0);   // the black disc of a critical step is inside of the margin, and the word stands there, too
    CHECK(disc_begins < 90);
    CHECK(says_critical);
  }
}

TEST_CASE("rows: room for a pen is ten millimetres high and more") {
  const Sheet sheet = with_table({{Column::What::pen, "name", 1}, {Column::What::pen, "date", 1}}, {TableHead{0}, TableRow{0, "", false, {}}});
  for (const auto paper : {pdf::Paper::a4, pdf::Paper::a5, pdf::Paper::letter}) CHECK(set(sheet, sheet.blocks[1], paper).height >= 10 * mm - 0.01);
}

TEST_CASE("rows: what does not fit is a fault that names its row, and nothing is written") {
  const Table table{{Column::What::tick, "", 0}, {Column::What::words, "what", 1}, {Column::What::words, "where", 1}};
  const auto printed = [&](const std::string& words) {
    return pdf::write(with_table(table, {TableHead{0}, TableRow{0, "", false, {{{"gauze\nsterile", true, ""}}, {{words, false, ""}}}}}), {});
  };
  const pdf::Pdf wide = printed(std::string(80, 'W'));
  REQUIRE_FALSE(wide.faults.empty());
  CHECK(wide.faults[0].what == pdf::Fault::What::too_wide);
  CHECK(wide.faults[0].where == "row “gauze”");
  CHECK(wide.bytes.empty());
  std::string endless;
  for (int i = 0; i < 900; ++i) endless += "again and again ";
  const pdf::Pdf tall = printed(endless);
  REQUIRE_FALSE(tall.faults.empty());
  CHECK(tall.faults[0].what == pdf::Fault::What::too_tall);
  CHECK(pdf::sentence(tall.faults[0]).find("row “gauze”") == 0);
  CHECK(printed("fits").faults.empty());
}

TEST_CASE("rows: a face that goes on with a table says so and repeats its captions") {
  std::vector<Block> blocks{Heading{"Ledger"}, TableHead{0}};
  for (int i = 0; i < 70; ++i) {
    if (i % 2 == 1) blocks.push_back(Notice{{{"because of this:", false, ""}}, 0, ""});  // may be the first line of a face, too
    blocks.push_back(TableRow{0, "", false, {{{"thing" + std::to_string(i), false, ""}}}});
  }
  const test::PrintedFile file(with_table({{Column::What::tick, "", 0}, {Column::What::words, "captionword", 1}}, blocks), pdf::Paper::a4);
  REQUIRE(file.faces() >= 3);
  for (int face = 1; face <= file.faces(); ++face) {
    const std::string page = std::to_string(face);
    const std::string text = file.told_by("pdftotext -f " + page + " -l " + page + " % -");
    CAPTURE(face);
    CHECK(text.find("captionword") != std::string::npos);
    CHECK((text.find("Ledger, continued") != std::string::npos) == (face > 1));
  }
  const std::string all = file.told_by("pdftotext % -");
  for (int i = 0; i < 70; ++i) CHECK_MESSAGE(all.find("thing" + std::to_string(i) + "\n") != std::string::npos, i);
}

// ---------------------------------------------------------------- the kit list

// The example's source, counted by hand: step "do change inner gloves" puts on 1 pair on every run, and a tear of the inner gloves leads to a
// routine that puts on 1 pair more. 3 pairs are listed.
TEST_CASE("kit: as many as the document lists, and why a run may need more than one without trouble does") {
  const driver::Compilation made = made_from("aldermoss-exit.ward");
  const Sheet kit = variant_paper(made, 0, "kit");
  const TableRow gloves = row_with(kit, "Inner gloves");
  CHECK(cell(gloves, 0) == "3 pairs");
  CHECK(cell(gloves, 1).find("\nIn all: 1\xC2\xA0+\xC2\xA0" "1 = 2 pairs.\nAnd 1 spare: take 3 pairs.") != std::string::npos);
  CHECK(cell(gloves, 1).find("Without trouble: 1 pair.") != std::string::npos);
  CHECK(std::regex_search(cell(gloves, 1), std::regex("Box [A-Z], Torn inner gloves: 1 pair more\\.")));
  CHECK(cell(gloves, 2).rfind("Exit area", 0) == 0);
  CHECK(cell(row_with(kit, "Chlorine wipe"), 0) == "40");
  CHECK(cell(row_with(kit, "Tall mirror"), 1) == "Exit area");
  CHECK(cell(row_with(kit, "Waste drum"), 1).find("steps ") != std::string::npos);
  CHECK(cell(row_with(kit, "Strong chlorine"), 0).find("liquid bleach, 3.5 percent") != std::string::npos);
  CHECK(cell(row_with(kit, "Strong chlorine"), 0).find("Strength: 0.5 percent = 5000 ppm\n") != std::string::npos);
  CHECK(cell(row_with(kit, "Basin with soap"), 1) == "Exit area");
  CHECK(cell(row_with(kit, "Telephone, radio or bell"), 0) == "Telephone, radio or bell\nTo call for help.\nTo report to shift lead and occupational health.");
  CHECK(cell(row_with(kit, "Observer"), 1) == "Scrubs, clogs, boot covers, inner gloves, gown, face shield and outer gloves");
}

// "repeat at most 2 times: observer takes 1 eye choice", and one more where the goggles gape.
TEST_CASE("kit: what the work is done on is nothing to bring, unless the document lists it") {
  const auto kit_of = [](const char* name) { return kit_list(first_variant_of(name).source()); };
  const Sheet spill = kit_of("body-fluid-spill-cloth-first"), line = kit_of("central-line-insertion");
  for (const char* there : {"Sharps box", "Spill cloth", "Basin with soap", "Edge chair"}) CHECK_FALSE(row_with(spill, there).cells.empty());
  for (const char* there : {"Sharps box", "Sterile field"}) CHECK_FALSE(row_with(line, there).cells.empty());
  CHECK(plain_text(spill).find("Spill patch") == std::string::npos);
  CHECK(plain_text(line).find("Insertion site") == std::string::npos);
}

TEST_CASE("kit: a second round and a branch are told apart from what every run takes") {
  const driver::Compilation made = made_from("aldermoss-entry.ward");
  const TableRow goggles = row_with(variant_paper(made, 0, "kit"), "Goggles");
  CHECK(cell(goggles, 0) == "3");
  CHECK(cell(goggles, 1).find("\nWithout trouble: 1.\n1 more if step 12 is repeated.\n1 more at step ") != std::string::npos);
  CHECK(cell(goggles, 1).find("if: A gap on the goggles?") != std::string::npos);
}

TEST_CASE("kit: more than the document lists, and what it does not list, is told and printed in full") {
  const driver::Compilation few = made_from("aldermoss-exit.ward", "3 pair inner gloves", "1 pair inner gloves");
  const Sheet kit = driver::papers_of(few, few.verdict.walks[0], {"kit"}).at(0).sheet;
  REQUIRE(few.verdict.walks[0].stock_known);
  CHECK(cell(row_with(kit, "Inner gloves"), 0) == "2 pairs");
  CHECK(cell(row_with(kit, "Inner gloves"), 1).find("lists only 1 pair") != std::string::npos);
  const driver::Compilation none = made_from("aldermoss-exit.ward", "  12 paper towel\n", "");
  CHECK(cell(row_with(variant_paper(none, 0, "kit"), "Paper towel"), 1).find("Not on the document’s own list.") != std::string::npos);
}

TEST_CASE("kit: where the walk found errors, only what is listed is told, and that it is no more than that") {
  const driver::Compilation broken = made_from("aldermoss-exit.ward", "    known as respirator off\n  disinfect hands with strong chlorine\n", "    known as respirator off\n");
  REQUIRE_FALSE(broken.verdict.walks[0].stock_known);
  const Sheet kit = variant_paper(broken, 0, "kit");
  CHECK(plain_text(kit).find("how much a run uses is not known") != std::string::npos);
  CHECK(cell(row_with(kit, "Inner gloves"), 0) == "3 pairs");
  CHECK(kit.control.watermark == "DRAFT");
}

TEST_CASE("kit: everything that the walk counts for a variant has its row, and each row its box") {
  for (const char* file : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const driver::Compilation made = made_from(file);
    for (std::size_t v = 0; v < made.verdict.walks.size(); ++v) {
      const Sheet kit = variant_paper(made, v, "kit");
      for (const check::StockNeed& need : made.verdict.walks[v].stock) {
        const std::string name = wording::capitalised(check::kept_name(*made.protocol, need.thing));
        CAPTURE(name);
        CHECK(std::stoul(cell(row_with(kit, name), 0)) == std::max(need.needed, need.given));
      }
      for (const Table& table : kit.tables) CHECK(table.front().what == Column::What::tick);
    }
  }
}

// ---------------------------------------------------------------- the dilution card

// CDC, Best Practices for Environmental Cleaning in Resource-Limited Settings, appendix E: parts of water = stock / wanted - 1;
// grams per litre = wanted / active * 1000 (both read for mixture/recipe.hpp). Reckoned here in doubles, apart from the program.
TEST_CASE("dilution: parts, buckets and strength agree with the published formula") {
  const driver::Compilation made = made_from("aldermoss-exit.ward");
  const Sheet card = paper_of_protocol(made, "dilution");
  const double stock = 3.5, wanted = 0.5;
  CHECK(cell(row_with(card, "1 part"), 1) == "liquid bleach, 3.5 percent");
  CHECK(std::stod(cell(row_with(card, "6 parts"), 0)) == doctest::Approx(stock / wanted - 1));
  for (const double litres : {1.0, 5.0, 10.0}) {
    std::string measured = cell(row_with(card, litres == 1 ? "1 litre" : std::to_string(static_cast<int>(litres)) + " litres"), 1);
    measured.erase(std::remove(measured.begin(), measured.end(), ' '), measured.end());
    CHECK(std::stod(measured) == doctest::Approx(litres * 1000 * wanted / stock).epsilon(0.005));
    CHECK(measured.find("ml") != std::string::npos);
    if (litres == 10) CHECK(measured == "1430ml");  // as far as a jug can be read
  }
  const std::string all = plain_text(card);
  for (const char* said : {"0.5 percent = 5000 ppm", "NEVER on bare hands, face or eyes.", "Mix with water only", "Only after soil is cleaned off.",
                           "Throw away 24 h after mixing", "Ready to use. Never dilute it."})
    CHECK_MESSAGE(all.find(said) != std::string::npos, said);
  CHECK(cell(row_with(card, "Gloves"), 1) == "45 s");
  CHECK(cell(row_with(card, "Hard surface"), 1) == "10 min");
  // By name: the list of what it is for may stand on another face.
  CHECK(cell(row_with(card, "Suit, apron, head cover, eye cover, foot cover, blower unit and clothing"), 1) == "3 min");
  CHECK(all.find("list above") == std::string::npos);
  CHECK(cell(row_with(card, "Bare hands and gloves"), 1) == "30 s");
}

TEST_CASE("dilution: powder by weight, tablets by count") {
  const std::string use = "use words \"aldermoss-exit.es.ward\" version 2.1\n";
  const auto card_with = [&](const std::string& stock) {
    const driver::Compilation made = made_from("aldermoss-exit.ward", use, "stock for strong chlorine is " + stock + "\n");
    return paper_of_protocol(made, "dilution");
  };
  const Sheet powder = card_with("powder \"grains\" at 70 percent");
  // 0.5 / 70 * 1000 = 7.14 g in a litre
  CHECK(std::stod(cell(row_with(powder, "10 litres"), 1)) == doctest::Approx(0.5 / 70 * 10'000).epsilon(0.005));
  CHECK(cell(row_with(powder, "10 litres"), 2).find("of grains: dissolve it in 10 litres of") == 0);
  const Sheet tablets = card_with("\"tablets\" with 1 g active each");
  // 5 000 ppm are 5 g in a litre: five tablets of a gram.
  CHECK(cell(row_with(tablets, "1 litre"), 1) == "5 tablets");
  const Sheet large = card_with("\"tablets\" with 2 g active each");
  CHECK(cell(row_with(large, "1 litre"), 1) == "2.5 tablets");
  CHECK(cell(row_with(large, "1 litre"), 2).find("make another volume") != std::string::npos);
  CHECK(cell(row_with(large, "10 litres"), 1) == "25 tablets");
}

TEST_CASE("dilution: a mixture that no step uses is not on the card") {
  const driver::Compilation made = made_from("aldermoss-exit.ward");
  const auto& agents = made.protocol->agents;
  REQUIRE(std::any_of(agents.begin(), agents.end(), [](const model::Agent& agent) { return agent.name == "mild chlorine"; }));
  const Sheet card = paper_of_protocol(made, "dilution");
  const auto uses_mild = [&](const model::Line& line) { return line.agent && (*made.protocol)[line.agent].name == "mild chlorine"; };
  const bool used = std::any_of(made.protocol->lines.begin(), made.protocol->lines.end(), uses_mild);
  CHECK((plain_text(card).find("Mild chlorine") != std::string::npos) == used);
}

// ---------------------------------------------------------------- the sign-off page

TEST_CASE("sign-off: every text and date of the document block and every reason of a variant is there, and a row for each signature") {
  for (const char* file : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const driver::Compilation made = made_from(file);
    const std::string page = test::squeezed(test::PrintedFile(paper_of_protocol(made, "sign-off"), pdf::Paper::a4).told_by("pdftotext -raw % -"));
    std::istringstream lines(text_of_file(example_folder + file));
    std::size_t texts = 0, signatures = 0;
    bool within = false;
    for (std::string line; std::getline(lines, line);) {
      if (line == "document" || line == "variants") within = true;
      if (line.rfind("end ", 0) == 0) within = false;
      if (!within) continue;
      signatures += line.find("ten by ") != std::string::npos || line.find("ewed by ") != std::string::npos || line.find("oved by ") != std::string::npos;
      for (std::size_t open = line.find('"'); open != std::string::npos;) {
        const std::size_t close = line.find('"', open + 1);
        const std::string text = line.substr(open + 1, close - open - 1);
        CHECK_MESSAGE(page.find(test::squeezed(text)) != std::string::npos, text);
        ++texts;
        open = line.find('"', close + 1);
      }
    }
    CHECK(texts >= 9);
    const Sheet sheet = paper_of_protocol(made, "sign-off");
    const auto rows = rows_of(sheet);
    const auto signs = std::count_if(rows.begin(), rows.end(), [&](const TableRow& row) { return sheet.tables[row.table].back().what == Column::What::pen; });
    CHECK(static_cast<std::size_t>(signs) == signatures);
    // Once in the foot of each face, and once more where it is signed; figures in one piece come back with another blank.
    const auto count_of = [&](const std::string& words) {
      std::size_t count = 0;
      for (std::size_t at = page.find(words); at != std::string::npos; at = page.find(words, at + 1)) ++count;
      return count;
    };
    const std::string verdict = test::squeezed(std::regex_replace(sheet.control.verdict, std::regex("\xE2\x80\xAF"), " "));
    CHECK(count_of(verdict) == static_cast<std::size_t>(test::PrintedFile(sheet, pdf::Paper::a4).faces()) + 1);
  }
}

TEST_CASE("sign-off: each paper stands under its variant with its check words, and the page's own do not hang on a size") {
  const driver::Compilation made = made_from("aldermoss-exit.ward");
  const std::vector<SignedPaper> papers = {{"Poster", "gown · goggles", "acorn – amber – cabin – zebra"}, {"Badge card", "gown · goggles", "zebra – amber – cabin – acorn"}, {"Dilution card", "", "olive – amber – cabin – acorn"}};
  const Sheet sheet = driver::papers_of_protocol(made, {"sign-off"}, papers).at(0).sheet;
  const std::string all = plain_text(sheet);
  const std::size_t variant = all.find("gown · goggles|\n"), every = all.find("for every variant|");
  for (const SignedPaper& paper : papers) {
    const TableRow row = row_with(sheet, paper.kind);
    CHECK(row.cells.size() == 2);
    CHECK(cell(row, 1) == paper.check_words);
  }
  CHECK(variant < all.find("Poster|"));
  CHECK(all.find("Poster|") < all.find("Badge card|"));
  CHECK(all.find("Badge card|") < every);
  CHECK(every < all.find("Dilution card|"));
}

TEST_CASE("sign-off: what is set aside or changed locally stands there with its reason, its end and who agreed") {
  const driver::Compilation made = made_from("aldermoss-exit.ward", "variants\n",
                                          "set aside rule LE02 in \"Hood\"\n  reason \"the new hood is on trial\"\n  agreed by \"Ina Dale\", \"theatre lead\"\n"
                                          "  ends on 2031-02-01\nend set aside\n\nvariants\n");
  REQUIRE(made.protocol->set_aside.size() == 1);
  const std::string row = cell(row_with(paper_of_protocol(made, "sign-off"), "set aside"), 1);
  CHECK(row == "rule LE02: the new hood is on trial\nUntil 1 Feb 2031. Agreed by Ina Dale, theatre lead.");
}

TEST_CASE("sign-off: a slip that is answered for stands there, and other papers stay as they are") {
  const std::string answer = "answer to slip left out, clumsy at @ in \"Hood\"\n  reason \"a second person holds the hood\"\n  agreed by \"Ina Dale\", \"theatre lead\"\n"
                             "  ends on 2031-02-01\nend answer\n\nvariants\n";
  const driver::Compilation plain = made_from("aldermoss-exit.ward");
  std::string line;  // one of the phase that has words of its own
  const model::Protocol& protocol = *plain.protocol;
  for (const model::Phase& phase : protocol.phases)
    for (const model::Statement& statement : protocol[phase.block].statements)
      if (phase.name == "Hood" && line.empty() && statement.line && protocol[statement.line].id_is_given) line = protocol[statement.line].details.known_as;
  REQUIRE_FALSE(line.empty());
  std::string text = answer;
  text.replace(text.find('@'), 1, line);
  const driver::Compilation made = made_from("aldermoss-exit.ward", "variants\n", text);
  REQUIRE(made.protocol->answered_slips.size() == 1);
  const std::string row = cell(row_with(paper_of_protocol(made, "sign-off"), "slip answered for"), 1);
  CHECK(row == "left out, done clumsily at “" + line + "” in “Hood”: a second person holds the hood\nUntil 1 Feb 2031. Agreed by Ina Dale, theatre lead.");
  for (const char* kind : {"card", "script", "poster", "competency"}) {
    CAPTURE(kind);
    CHECK(variant_paper(made, 0, kind).control.check_words == variant_paper(plain, 0, kind).control.check_words);
  }
}

// ---------------------------------------------------------------- the competency sheet

TEST_CASE("competency: a row for each step that has the wearer do something, none for anybody else's, critical ones marked, breaches asked") {
  const driver::Compilation made = made_from("aldermoss-exit.ward");
  const model::Protocol& protocol = *made.protocol;
  for (std::size_t v = 0; v < made.verdict.walks.size(); ++v) {
    const model::Variant& variant = made.verdict.walks[v].variant;
    const graph::Course course = graph::number_steps(protocol, variant);
    std::map<std::string, std::string> card;  // the act by its number
    const Sheet whole = variant_paper(made, v, "card");
    for (const Block& block : whole.blocks) {
      if (const auto* step = std::get_if<Step>(&block)) card[step->label] = plain_text(step->act);
    }
    std::set<std::string> own, critical;
    for (const model::LineId id : graph::lines_of(protocol, variant)) {
      const model::Line& line = protocol[id];
      const std::string& label = course.label(id);
      // Steps of a breach are asked, not shown. What others ask or hand over has the person answer or take it.
      const bool answers = line.verb == model::VerbKind::decide || (line.verb == model::VerbKind::pass && line.to == protocol.acts);
      const bool is_told = line.verb == model::VerbKind::inspect && !line.details.say.empty() && card.count(label) == 1 && card.at(label).rfind("STAND STILL", 0) != 0;
      if ((line.who != protocol.acts && !answers && !is_told) || label.empty() || label[0] == 'B') continue;
      own.insert(label);
      if (!line.details.critical_because.empty()) critical.insert(label);
    }
    for (const auto& [label, act] : card) {
      if (act.rfind("DO box", 0) == 0 && label[0] != 'B') own.insert(label);  // what it sends to is part of the way
    }
    REQUIRE(own.size() > 40);
    REQUIRE(critical.size() >= 2);
    const Sheet sheet = variant_paper(made, v, "competency");
    std::set<std::string> shown, marked, asked;
    for (const TableRow& row : rows_of(sheet)) {
      if (row.label.empty()) continue;
      const auto ticks = std::count_if(sheet.tables[row.table].begin(), sheet.tables[row.table].end(), [](const Column& c) { return c.what == Column::What::tick; });
      CHECK(ticks == 3);
      const bool is_question = cell(row, 0).find("what do you do?") != std::string::npos;
      CHECK((is_question ? asked : shown).insert(row.label).second);
      if (row.critical) marked.insert(row.label);
    }
    CHECK(shown == own);
    CHECK(marked == critical);
    CHECK(asked == std::set<std::string>{"B1", "B2", "B3"});
  }
}

TEST_CASE("competency: a breach that is longer than a face is asked all the same") {
  std::string many;
  for (int i = 0; i < 60; ++i) many += "  act \"Count to " + std::to_string(i) + ".\"\n";
  const driver::Compilation made = made_from("aldermoss-entry.ward", "  act \"Sit down on the dressing bench.\"\n", many);
  const test::PrintedFile file(variant_paper(made, 0, "competency"), pdf::Paper::a5);
  const std::string text = file.told_by("pdftotext -raw % -");
  for (int i = 0; i < 60; ++i) CHECK_MESSAGE(text.find("COUNT to " + std::to_string(i) + "\n") != std::string::npos, i);
}

TEST_CASE("competency: every warning of the card stands there, before the act that it warns of") {
  for (const char* name : {"respirator-exit", "field-exit"}) {
    const test::Origin origin = first_variant_of(name);
    std::map<std::string, std::string> warned;
    for (const Block& block : card_blocks(origin.source())) {
      const auto* step = std::get_if<Step>(&block);
      for (std::size_t i = 0; step && i < step->warnings.size(); ++i) warned[step->label] += plain_text(step->warnings[i]) + "\n";
    }
    std::size_t rows = 0;
    for (const TableRow& row : rows_of(competency_sheet(origin.source()))) {
      const auto warning = warned.find(row.label);
      if (warning == warned.end()) continue;
      // Above it stands at most the answer that leads to the step.
      const std::size_t at = cell(row, 0).find(warning->second);
      CHECK_MESSAGE((at == 0 || at == cell(row, 0).find('\n') + 1), cell(row, 0));
      ++rows;
    }
    CHECK(rows > 2);
  }
}

TEST_CASE("competency: the answer to a breach is what the card says") {
  const driver::Compilation made = made_from("aldermoss-exit.ward");
  const std::string all = plain_text(variant_paper(made, 0, "competency"));
  const std::string answer = all.substr(all.find("Observer touched wearer: what do you do?"));
  for (const char* said : {"STEP back to the wall", "DISINFECT", "DO box", "YES: do box", "NO: go back to the step where you stopped"}) CHECK_MESSAGE(answer.find(said) != std::string::npos, said);
}
