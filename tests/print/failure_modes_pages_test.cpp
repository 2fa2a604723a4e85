// The worksheet of failure modes in the review dossier: its rows against the table that `slips --form hfmea` is made from, and its pages.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <regex>
#include <set>

#include "emit/dossier/writer.hpp"
#include "emit/pdf/paper.hpp"

#include "gathered.hpp"

using namespace stepward;
using namespace stepward::emit;
using namespace stepward::test;

namespace {

using slips::FailureDecision;
using slips::FailureMode;
using slips::Outcome;

const char* const of_harm = "Failure modes that come to harm";
const char* const are_caught = "Failure modes that are caught before harm";

/// A mode as it stands on the sheet: the row of words, and behind it all rows that belong to it.
struct ModeOnPaper {
  std::string group, number, words, answers;
  std::size_t first = 0, last = 0;  ///< blocks
  std::vector<std::string> fields;  ///< captions
};

std::vector<ModeOnPaper> worksheet_of(const Sheet& sheet) {
  std::vector<ModeOnPaper> all;
  std::string group;
  for (std::size_t i = 0; i < sheet.blocks.size(); ++i) {
    if (const auto* heading = std::get_if<Heading>(&sheet.blocks[i])) group = heading->text;
    const auto* row = std::get_if<TableRow>(&sheet.blocks[i]);
    if (!row || (group != of_harm && group != are_caught)) continue;
    if (row->table == dossier::modes_table) {
      REQUIRE(row->cells.size() == 3);
      const std::string what = plain_text(row->cells[0]);
      all.push_back({group, what.substr(0, what.find(' ')), words_of(*row), plain_text(row->cells[2]), i, i, {}});
    }
    if (all.empty()) continue;
    all.back().last = i;
    if (is_of_fields(sheet.tables[row->table]))
      for (const Column& column : sheet.tables[row->table]) all.back().fields.push_back(column.caption);
  }
  return all;
}

/// The numbers that stand without a row, from "21: 4(3), 9(2)".
std::multiset<std::string> only_numbers(const Sheet& sheet) {
  std::multiset<std::string> numbers;
  const std::regex number("[A-Za-z0-9.]+\\([0-9]+\\)");
  std::string group;
  for (const Block& block : sheet.blocks) {
    if (const auto* heading = std::get_if<Heading>(&block)) group = heading->text;
    const auto* row = std::get_if<TableRow>(&block);
    if (!row || !group.starts_with("No harm in the model")) continue;
    const std::string list = plain_text(row->cells.at(1));
    const auto begin = static_cast<std::ptrdiff_t>(numbers.size());
    for (std::sregex_iterator at(list.begin(), list.end(), number), end; at != end; ++at) numbers.insert(at->str());
    CHECK(std::stol(list) == static_cast<std::ptrdiff_t>(numbers.size()) - begin);
  }
  return numbers;
}

std::string yes(bool it_is) { return it_is ? "YES" : "NO"; }

std::string answers_to(const FailureMode& mode) {
  const std::map<FailureDecision, std::string> ends = {{FailureDecision::act, "ACT, any score"}, {FailureDecision::act_by_score, "ACT if the score is 8 or more"},
                                                       {FailureDecision::stop_controlled, "STOP: controlled"}, {FailureDecision::stop_obvious, "STOP: obvious"}};
  return "2 Single point: " + yes(mode.answers.single_point_weakness) + "\n3 Control: " + yes(mode.answers.effective_control) + "\n4 Obvious: " + yes(mode.answers.obvious) + "\n" + ends.at(mode.decision);
}

using Faults = std::vector<std::string>;

/// What of the table is not on the sheet as it should be. The table is one of its own, tried anew as `slips` does.
Faults faults_of(const Sheet& sheet, const slips::Table& table, const std::vector<FailureMode>& modes) {
  Faults faults;
  std::map<std::string, const FailureMode*> wanted;
  std::multiset<std::string> harmless;
  for (const FailureMode& mode : modes) {
    if (table.rows[mode.row].outcome == Outcome::harmless) harmless.insert(mode.number);
    else wanted[mode.number] = &mode;
  }
  std::string group, last;
  for (const ModeOnPaper& told : worksheet_of(sheet)) {
    const auto mode = wanted.find(told.number);
    if (mode == wanted.end()) {
      faults.push_back(told.number + " is none, or stands twice");
      continue;
    }
    const slips::Row& row = table.rows[mode->second->row];
    if ((told.group == of_harm) != (row.outcome == Outcome::harm)) faults.push_back(told.number + " stands in the wrong group");
    if (told.group == of_harm && group == are_caught) faults.push_back(told.number + " of harm stands behind what is caught");
    const std::string step = told.number.substr(0, told.number.find('('));
    if (told.group == group && dossier::stands_before(step, last)) faults.push_back(told.number + " is not in the order of the card");
    if (told.answers != answers_to(*mode->second)) faults.push_back(told.number + " has other answers");
    if (row.harm && told.words.find(row.harm->headline) == std::string::npos) faults.push_back(told.number + " does not say what it comes to");
    const bool says_none = told.words.find("Existing control: None.") != std::string::npos;
    if (row.outcome == Outcome::caught && says_none) faults.push_back(told.number + " does not say what shows it");
    const std::string action = row.outcome == Outcome::harm ? "action: eliminate, control or accept" : "action";
    if (told.fields != std::vector<std::string>{"causes", "severity", "probability", "score", action, "who", "by when"}) faults.push_back(told.number + " lacks a field");
    group = told.group;
    last = step;
    wanted.erase(mode);
  }
  for (const auto& [number, mode] : wanted) faults.push_back(number + " is missing");
  if (only_numbers(sheet) != harmless) faults.push_back("the harmless ones are not those of the table");
  return faults;
}

struct Tried {
  slips::Table table;
  std::vector<FailureMode> modes;
};

Tried tried(const Gathered& made) {
  Tried out{slips::analyse(*made.made.protocol, {}), {}};
  out.modes = slips::failure_modes(out.table, [](const slips::Row&) { return 0u; });
  return out;
}

/// Where a block stands for the first time.
std::size_t face_of(const pdf::LaidOut& out, std::size_t block) {
  for (std::size_t face = 0; face < out.faces.size(); ++face)
    for (const pdf::LaidPart& part : out.faces[face].parts)
      if (part.part == pdf::Part::block && part.block == block && !part.repeated) return face + 1;
  return 0;
}

const double pen_room = 10 * 72 / 25.4;

/// The words of a row of fields stand in their boxes, and leave room for a pen below them.
void check_fields(const pdf::LaidPart& part, Faults& faults) {
  double low = part.where.top;
  for (std::size_t i = 0; i < part.texts.size(); ++i) {
    low = std::max(low, part.texts[i].where.bottom);
    if (i > 0 && part.texts[i].where.left < part.texts[i - 1].where.right) faults.push_back("“" + part.texts[i].words + "” stands in the box beside it");
  }
  if (part.where.bottom - low < pen_room - 0.1) faults.push_back("no room for a pen under “" + part.texts.front().words + "”");
  const auto upright = std::count_if(part.marks.begin(), part.marks.end(), [](const pdf::LaidMark& mark) { return mark.where.height() > mark.where.right - mark.where.left; });
  if (static_cast<std::size_t>(upright) + 1 < part.texts.size()) faults.push_back("boxes are not parted");
}

/// What is wrong with its pages: captions stand above the rows of every face, all that belongs to a mode stands on one, and boxes hold a pen.
Faults faults_of_pages(const Sheet& sheet, const pdf::LaidOut& out) {
  Faults faults;
  std::map<std::size_t, std::size_t> mode_of;  // by block
  const std::vector<ModeOnPaper> modes = worksheet_of(sheet);
  for (std::size_t m = 0; m < modes.size(); ++m)
    for (std::size_t i = modes[m].first; i <= modes[m].last; ++i) mode_of[i] = m;
  std::map<std::size_t, std::set<std::size_t>> faces;
  for (std::size_t face = 0; face < out.faces.size(); ++face) {
    bool headed = false;
    for (const pdf::LaidPart& part : out.faces[face].parts) {
      if (part.part != pdf::Part::block) continue;
      const Block& block = sheet.blocks[part.block];
      if (const auto* head = std::get_if<TableHead>(&block)) headed = head->table == dossier::modes_table;
      const auto mode = mode_of.find(part.block);
      if (mode == mode_of.end()) continue;
      faces[mode->second].insert(face);
      if (!headed) faults.push_back(modes[mode->second].number + " stands without captions");
      if (is_of_fields(sheet.tables[std::get<TableRow>(block).table])) check_fields(part, faults);
    }
  }
  for (std::size_t m = 0; m < modes.size(); ++m)
    if (faces[m].size() != 1) faults.push_back(modes[m].number + " is cut");
  return faults;
}

std::string one_of(const Faults& faults) { return faults.empty() ? "" : std::to_string(faults.size()) + ", first " + faults.front(); }

/// Blocks of the worksheet by table.
std::vector<std::size_t> rows_of(const Sheet& sheet, std::size_t table) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < sheet.blocks.size(); ++i)
    if (const auto* row = std::get_if<TableRow>(&sheet.blocks[i]); row && row->table == table) all.push_back(i);
  return all;
}

}  // namespace

TEST_CASE("dossier: the worksheet has the failure modes of `slips --form hfmea`, and its pages hold them whole") {
  for (const char* file : {"examples/aldermoss-exit.ward", "stdlib-procedures/protocols/basic-taking-off.ward", "stdlib-procedures/protocols/body-fluid-spill-cloth-first.ward",
                           "stdlib-procedures/protocols/hand-rub.ward"}) {
    CAPTURE(std::string(file));
    const Gathered made = gather_file(file);
    const Sheet sheet = made.sheet();
    const Tried table = tried(made);
    CHECK(one_of(faults_of(sheet, table.table, table.modes)) == "");
    CHECK(worksheet_of(sheet).size() > 1);
    for (const pdf::Paper paper : pdf::papers_for(SheetKind::review)) {
      CAPTURE(pdf::name_of(paper));
      CHECK(one_of(faults_of_pages(sheet, pdf::lay_out(sheet, paper))) == "");
    }
  }
}

TEST_CASE("dossier: a worksheet that lacks something, or says something else, is noticed") {
  const Gathered made = gather_file("stdlib-procedures/protocols/basic-taking-off.ward");
  const Sheet sheet = made.sheet();
  const Tried table = tried(made);
  const auto planted = [&](const auto& plant) {
    Sheet other = sheet;
    plant(other.blocks);
    return !faults_of(other, table.table, table.modes).empty();
  };
  using Blocks = std::vector<Block>;
  const std::vector<std::size_t> words = rows_of(sheet, dossier::modes_table), fields = rows_of(sheet, dossier::action_fields);
  REQUIRE(words.size() > 12);
  REQUIRE_FALSE(planted([](Blocks&) {}));
  CHECK(planted([&](Blocks& all) { all.erase(all.begin() + static_cast<std::ptrdiff_t>(words[3])); }));
  CHECK(planted([&](Blocks& all) { all.insert(all.begin() + static_cast<std::ptrdiff_t>(words[3]), all[words[3]]); }));
  CHECK(planted([&](Blocks& all) { std::swap(all[words[0]], all[words[5]]); }));
  CHECK(planted([&](Blocks& all) { std::swap(all[words.front()], all[words.back()]); }));
  CHECK(planted([&](Blocks& all) { all.erase(all.begin() + static_cast<std::ptrdiff_t>(fields[1])); }));
  CHECK(planted([&](Blocks& all) { std::get<TableRow>(all[words[2]]).cells[2][1].text = "3 Control: YES\n"; }));
  CHECK(planted([&](Blocks& all) { std::get<TableRow>(all[words[2]]).cells[1] = {{"Existing control: None.", false, ""}}; }));
  CHECK(planted([&](Blocks& all) { std::get<TableRow>(all.back()).cells[1][0].text = "0: "; }));
}

TEST_CASE("dossier: a mode that is cut, captions that are gone and boxes too low for a pen are noticed") {
  const Sheet sheet = gather_file("stdlib-procedures/protocols/basic-taking-off.ward").sheet();
  const pdf::LaidOut whole = pdf::lay_out(sheet, pdf::Paper::a4);
  const std::vector<std::size_t> words = rows_of(sheet, dossier::modes_table), fields = rows_of(sheet, dossier::action_fields);
  const auto is_of = [](std::size_t block) { return [block](const pdf::LaidPart& part) { return part.part == pdf::Part::block && part.block == block; }; };
  const auto planted = [&](const auto& plant) {
    pdf::LaidOut other = whole;
    plant(other.faces);
    return !faults_of_pages(sheet, other).empty();
  };
  using Faces = std::vector<pdf::LaidFace>;
  REQUIRE_FALSE(planted([](Faces&) {}));
  const std::size_t face = face_of(whole, fields[4]) - 1;
  CHECK(planted([&](Faces& faces) { std::erase_if(faces[face].parts, [&](const pdf::LaidPart& part) { return part.part == pdf::Part::block && std::holds_alternative<TableHead>(sheet.blocks[part.block]); }); }));
  CHECK(planted([&](Faces& faces) {
    const auto part = std::find_if(faces[face].parts.begin(), faces[face].parts.end(), is_of(fields[4]));
    faces[face + 1].parts.push_back(*part);
    faces[face].parts.erase(part);
  }));
  CHECK(planted([&](Faces& faces) { std::find_if(faces[face].parts.begin(), faces[face].parts.end(), is_of(fields[4]))->where.bottom -= 8; }));
  CHECK(planted([&](Faces& faces) { std::find_if(faces[face].parts.begin(), faces[face].parts.end(), is_of(fields[4]))->marks.clear(); }));
}

TEST_CASE("dossier: the worksheet begins a face of its own, and page one says which") {
  const Sheet sheet = gather_file("examples/aldermoss-exit.ward").sheet();
  const auto heading = std::find_if(sheet.blocks.begin(), sheet.blocks.end(), [](const Block& block) {
    const auto* each = std::get_if<Heading>(&block);
    return each && each->text == "12. Failure modes, to be scored by hand";
  });
  REQUIRE(heading != sheet.blocks.end());
  const auto block = static_cast<std::size_t>(heading - sheet.blocks.begin());
  for (const pdf::Paper paper : {pdf::Paper::a4, pdf::Paper::letter}) {
    const pdf::LaidOut out = pdf::lay_out(sheet, paper);
    const std::size_t face = face_of(out, block);
    REQUIRE(face > 10);
    const auto& parts = out.faces[face - 1].parts;
    CHECK(std::find_if(parts.begin(), parts.end(), [](const pdf::LaidPart& part) { return part.part == pdf::Part::block; })->block == block);
    std::string first;
    for (const pdf::LaidPart& part : out.faces.front().parts)
      for (const pdf::LaidText& text : part.texts) first += text.words + '\n';
    has(first, "with room to write: “Failure modes, to be scored by hand”, page\u00A0" + std::to_string(face) + ".");
  }
}

TEST_CASE("dossier: the scales, the matrix and the questions stand once, at the head of the worksheet") {
  const Sheet sheet = gather_file("examples/aldermoss-exit.ward").sheet();
  // The products by hand; six of the sixteen are 8 or more.
  has(under(sheet, "Score: severity × probability"),
      "Frequent, 4 | 16, counts | 12, counts | 8, counts | 4\nOccasional, 3 | 12, counts | 9, counts | 6 | 3\nUncommon, 2 | 8, counts | 6 | 4 | 2\nRemote, 1 | 4 | 3 | 2 | 1\n");
  has(under(sheet, "Score: severity × probability"), "Only from memory: the words and years of the scales, the matrix, and where each question leads.");
  has(under(sheet, "The scales"), "4 | Catastrophic: somebody may die, or be ill or disabled for good | Frequent: several times in one year\n");
  has(under(sheet, "The scales"), "1 | Minor: nobody is harmed, or first aid is enough | Remote: some time in 5 to 30 years\n");
  has(under(sheet, "The questions"), "3. Effective control: does something show it before harm, on every run? Yes: stop. No: go on at 4.\n");
  CHECK_FALSE(std::regex_search(plain_text(sheet), std::regex("\\b[Ss]afe\\b")));
  const std::vector<std::string> all = headings(sheet);
  CHECK(std::count(all.begin(), all.end(), "The scales") == 1);
}

TEST_CASE("dossier: what the worksheet says of some modes of the example, followed by hand") {
  const Sheet sheet = gather_file("examples/aldermoss-exit.ward").sheet();
  const std::string harm = under(sheet, of_harm), caught = under(sheet, are_caught);
  // A look that misses the tear in the hood: nothing looks at the hair again.
  has(harm, "21(3) the look misses: tear\nObserver: LOOK at the hood for soil or a tear or crack | ");
  has(harm, "wearer goes to clean lobby, and dirt may be on hair.\nExisting control: None. | 2 Single point: YES\n3 Control: NO\n4 Obvious: NO\nACT, any score\n");
  // The suit is looked at once more, and not by every run.
  has(harm, "Existing control: Not on every run:\nA look finds it, at 12, 25");
  has(caught, "36(1) left out\nat step 36 (variants 2, 4); 37 (variant 6)\nDISINFECT the clogs with strong chlorine | ");
  has(caught, "Existing control: Only a confirm stands before harm.\nWhoever confirms sees: All of it shines wet.");
  has(caught, "Existing control: A question cannot be answered: nobody has looked at outer gloves for soil yet. | 2 Single point: NO\n3 Control: YES\n4 Obvious: NO\nSTOP: controlled\n");
  // Of two variants each is told of the thing that it has, at its own step.
  has(caught, "It cannot go on at 28 (variants 1–4): coverall is still covered by cloth hood.\nIt cannot go on at 29 (variants 5, 6): gown is still covered by cloth hood.");
  has(caught, "The end shows it: inner gloves are still on at clear exit.");
  // Other rules are broken by slips that do no harm: told apart.
  has(under(sheet, "No harm in the model, though a rule is broken"), "HW02 | 1: 47(1)\n");
}

TEST_CASE("dossier: a slip that is answered for says so between its words and its boxes, and not as a control") {
  const std::string ten = with_a_weak_rub();
  const Gathered plain = gather(ten);
  const auto& rows = plain.facts.slips->rows;
  const auto weak = std::find_if(rows.begin(), rows.end(), [&](const slips::Row& row) { return plain.facts.slips->is_open(row); });
  REQUIRE(weak != rows.end());
  has_not(plain_text(plain.sheet()), "Somebody answers for it.");
  std::string line = plain.made.protocol->lines[weak->in_first.value].id;
  line = line.substr(line.rfind(" / ") + 3);
  const std::string text = with(ten, "phase \"Out\"", "answer to every slip at " + line + " in \"Out\"\n  reason \"A second rub hangs at the door.\"\n  agreed by \"Ann Other\", \"charge nurse\"\n  ends on 2031-06-01\nend answer\nphase \"Out\"");
  const Sheet sheet = gather(text).sheet();
  std::size_t answered = 0;
  for (const ModeOnPaper& mode : worksheet_of(sheet)) {
    has_not(mode.words, "A second rub");
    for (std::size_t i = mode.first; i <= mode.last; ++i) {
      const auto& row = std::get<TableRow>(sheet.blocks[i]);
      if (row.table != dossier::list_table) continue;
      ++answered;
      CHECK(words_of(sheet.blocks[i]) == "Somebody answers for it. Until 1 Jun 2031.\nA second rub hangs at the door.\nAgreed by Ann Other, charge nurse.");
      CHECK(mode.group == of_harm);
      CHECK(i > mode.first);
      CHECK(i < mode.last);
    }
  }
  CHECK(answered > 0);
  has(under(gather(text, "2031-06-02").sheet(), of_harm), "Somebody answers for it. OVER since 1 Jun 2031. The slip is open again.");
}

TEST_CASE("dossier: of a protocol with errors there is no worksheet, and page one names none") {
  const Sheet sheet = gather(with(ten_lines_touching("used bench", "clean shelf"), "  disinfect hands with strong chlorine\n", "")).sheet();
  has_not(plain_text(sheet), "to be scored by hand");
}
