// Mistakes planted in small protocols: what is offered for them, and what must never be offered.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "base/file_access.hpp"
#include "diagnostics/render.hpp"
#include "driver/command_line.hpp"
#include "driver/mend_look.hpp"
#include "driver/mend_text.hpp"
#include "mend/costs.hpp"
#include "mend/outline.hpp"
#include "mend/search.hpp"

using namespace stepward;
using mend::Change;

namespace {

const char* const head = R"(stepward 1 protocol

document
  title   "Out of the suit"
  number  ASH-01
  version 1.0
end document

use library standard "layered-equipment"
use library standard "team"
use library standard "disinfectants"
use library standard "cleansing"

surface used bin
  made of hard surface
  begins suspect
  stands in exit area
end surface

people
  wearer begins in care room wearing scrubs, inner gloves, coverall, respirator, plastic apron, goggles
  observer begins in exit area wearing scrubs, clogs, inner gloves
  observer ends dressed, continue with ASH-02
  wearer acts unless a line names someone else
end people

endings
  clean exit is normal
    wearer wears inner gloves, respirator
  assisted exit is emergency, continue with ASH-03
end endings

)";

/// The steps of a good protocol; cases take something out of it or put it elsewhere.
const char* const good_steps = R"(phase "Out"
  move to exit area
  observer inspects inner gloves for soil
  if soil on inner gloves
    act "Hold both hands still."
    do clear soiled gloves
  end if
  act "Close the lid of the bin." touching used bin
  disinfect hands with strong chlorine
  observer inspects plastic apron for soil
  if soil on plastic apron
    do clear soil given place is plastic apron
  end if
  take off plastic apron using break the loop
  disinfect hands with strong chlorine
  observer inspects goggles for soil
  if soil on goggles
    act "Keep your eyes shut until I say open."
  end if
  take off goggles using strap from behind
  disinfect hands with strong chlorine
  observer inspects coverall for soil
  if soil on coverall
    do clear soil given place is coverall
  end if
  take off coverall using roll down from inside
  disinfect hands with strong chlorine
  finish as clean exit
end phase
)";

std::string without(std::string text, const std::string& line, int nth = 1) {
  std::size_t at = text.find(line);
  for (int n = 1; n < nth; ++n) at = text.find(line, at + 1);
  REQUIRE(at != std::string::npos);
  const std::size_t begin = text.rfind('\n', at) + 1;
  return text.erase(begin, text.find('\n', at) + 1 - begin);
}

std::string with_words(std::string text, const std::string& old, const std::string& now) {
  REQUIRE(text.find(old) != std::string::npos);
  return text.replace(text.find(old), old.size(), now);
}

std::string swapped(std::string text, const std::string& a, const std::string& b) {
  const std::size_t at_a = text.find(a), at_b = text.find(b);
  REQUIRE(at_a < at_b);
  REQUIRE(at_b != std::string::npos);
  text.replace(at_b, b.size(), a);
  return text.replace(at_a, a.size(), b);
}

FilesInMemory file_of(const std::string& steps) {
  FilesInMemory files;
  files.put("exit.ward", head + steps);
  return files;
}

mend::Result mends_of(const std::string& steps, unsigned workers = 2) {
  const FilesInMemory files = file_of(steps);
  return mend::find_mends(driver::recheck_of("exit.ward", files, "2031-01-15"), {600, 3, workers});
}

std::size_t errors_of(const std::string& whole_text) {
  FilesInMemory files;
  files.put("exit.ward", whole_text);
  return diagnostics::count(driver::recheck_of("exit.ward", files, "2031-01-15")({}, {std::nullopt, true, false, 2}).findings).errors;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(mend::without_margin(line));
  return out;
}

/// Whether every line of the text before is still there; of a question that was parted, what it asks.
bool keeps_every_line(const std::string& before, const std::string& after) {
  std::vector<std::string> left = lines_of(after);
  for (std::string line : lines_of(before)) {
    auto at = std::find(left.begin(), left.end(), line);
    if (at == left.end() && line.rfind("otherwise if ", 0) == 0) at = std::find(left.begin(), left.end(), line.substr(10));
    if (at == left.end()) return false;
    left.erase(at);
  }
  return true;
}

bool says(const mend::Mend& m, const std::string& words) {
  return std::any_of(m.changes.begin(), m.changes.end(), [&](const mend::Placed& p) {
    return std::any_of(p.change.lines.begin(), p.change.lines.end(), [&](const std::string& line) { return line.find(words) != std::string::npos; });
  });
}

bool any_says(const mend::Result& result, const std::string& words) {
  return std::any_of(result.mends.begin(), result.mends.end(), [&](const mend::Mend& m) { return says(m, words); });
}

/// The first offer: one move, after which nothing is left.
const mend::Mend& one_move_clears(const mend::Result& result) {
  REQUIRE_FALSE(result.mends.empty());
  const mend::Mend& first = result.mends.front();
  CHECK(first.left == 0);
  REQUIRE(first.changes.size() == 1);
  CHECK(first.changes.front().change.kind == Change::Kind::move);
  return first;
}

/// What holds of every offer, whatever was wrong.
void hold(const mend::Result& result, const std::string& steps) {
  for (const mend::Mend& m : result.mends) {
    REQUIRE(m.texts.count("exit.ward") == 1);
    const std::string after = mend::joined(m.texts.at("exit.ward"));
    CHECK(errors_of(after) == m.left);
    CHECK(keeps_every_line(head + steps, after));
    CHECK(after.find("set aside") == std::string::npos);
    CHECK(after.find("local change") == std::string::npos);
    CHECK(std::count(after.begin(), after.end(), '\n') >= std::count(steps.begin(), steps.end(), '\n'));
    const auto finishes = [](const std::string& text) { std::size_t n = 0; for (const auto& line : lines_of(text)) n += line.rfind("finish as", 0) == 0; return n; };
    CHECK(finishes(after) == finishes(head + steps));
  }
}

}  // namespace

TEST_CASE("mend: a good protocol needs none") {
  REQUIRE(errors_of(std::string(head) + good_steps) == 0);
  const mend::Result result = mends_of(good_steps);
  CHECK(result.errors.empty());
  CHECK(result.mends.empty());
  CHECK(driver::mends_as_text(result, "exit.ward", 600) == "nothing in the steps of exit.ward has to be mended\n");
}

TEST_CASE("mend: a disinfection that is missing is offered where it was, in the words of the other lines") {
  const std::string steps = without(good_steps, "  disinfect hands with strong chlorine", 2);
  REQUIRE(errors_of(head + steps) > 0);
  const mend::Result result = mends_of(steps);
  REQUIRE_FALSE(result.mends.empty());
  const mend::Mend& first = result.mends.front();
  CHECK(first.left == 0);
  CHECK(first.size == 1);
  CHECK(first.changes.size() == 1);
  CHECK(first.changes.front().change.kind == Change::Kind::insert);
  CHECK(first.changes.front().change.lines == std::vector<std::string>{"  disinfect hands with strong chlorine"});
  hold(result, steps);
}

TEST_CASE("mend: a removal that comes too soon moves with its look, the question about it and the hands behind it") {
  const std::string rule = R"(rule T01 the goggles wait for the apron
  never wearer takes off goggles
  unless no plastic apron is worn by wearer
  severity critical
  because "What splashes when the apron comes off would reach the eyes."
  source common practice
end rule

)";
  const std::string look = "  observer inspects goggles for soil\n";
  const std::string in_order = good_steps;
  const std::size_t from = in_order.find(look), to = in_order.find("  observer inspects coverall for soil");
  const std::string goggles = in_order.substr(from, to - from);
  std::string steps = rule + in_order;
  REQUIRE(errors_of(head + steps) == 0);
  steps.erase(steps.find(look), goggles.size());
  steps.insert(steps.find("  observer inspects plastic apron for soil"), goggles);
  REQUIRE(errors_of(head + steps) > 0);
  const mend::Result result = mends_of(steps);
  const mend::Mend& first = one_move_clears(result);
  std::vector<std::string> moved;
  for (const std::string& line : first.changes.front().change.lines) moved.push_back(mend::without_margin(line));
  CHECK(lines_of(goggles) == moved);
  hold(result, steps);
}

TEST_CASE("mend: what was done in the wrong order is offered as a move") {
  const std::string steps = swapped(good_steps, "take off plastic apron using break the loop", "take off coverall using roll down from inside");
  REQUIRE(errors_of(head + steps) > 0);
  const mend::Result result = mends_of(steps);
  hold(result, steps);
  const std::string apron = "  take off plastic apron using break the loop\n";
  std::string covered = without(good_steps, apron.substr(0, apron.size() - 1));
  covered.insert(covered.find("  finish as clean exit"), apron);
  REQUIRE(errors_of(head + covered) > 0);
  const mend::Result moved = mends_of(covered);
  REQUIRE_FALSE(moved.mends.empty());
  CHECK(moved.mends.front().left == 0);
  CHECK(moved.mends.front().changes.front().change.kind == Change::Kind::move);
  CHECK(mend::costs_of(moved.mends.front()).seconds == 0);
  hold(moved, covered);
}

TEST_CASE("mend: a question that nobody looked before gets a look, by whoever looks in this protocol") {
  const std::string steps = without(good_steps, "  observer inspects goggles for soil");
  const mend::Result result = mends_of(steps);
  REQUIRE_FALSE(result.mends.empty());
  CHECK(says(result.mends.front(), "observer inspects goggles for soil"));
  CHECK(result.mends.front().left == 0);
  hold(result, steps);
}

TEST_CASE("mend: soil that nobody answers is answered under a question, and never unasked") {
  std::string steps = good_steps;
  const std::string branch = "  if soil on inner gloves\n    act \"Hold both hands still.\"\n    do clear soiled gloves\n  end if\n";
  steps.erase(steps.find(branch), branch.size());
  REQUIRE(errors_of(head + steps) > 0);
  const mend::Result result = mends_of(steps);
  REQUIRE_FALSE(result.mends.empty());
  CHECK(result.mends.front().left == 0);
  CHECK(says(result.mends.front(), "if soil on inner gloves"));
  CHECK(any_says(result, "do clear soil given place is inner gloves"));
  for (const mend::Mend& m : result.mends) CHECK(m.changes.front().change.kind == Change::Kind::branch);
  hold(result, steps);
}

TEST_CASE("mend: an answer that is missing in its branch is written into the branch") {
  const std::string steps = without(good_steps, "    do clear soiled gloves");
  REQUIRE(errors_of(head + steps) > 0);
  const mend::Result result = mends_of(steps);
  REQUIRE_FALSE(result.mends.empty());
  CHECK(result.mends.front().size == 1);
  CHECK(result.mends.front().left == 0);
  CHECK(says(result.mends.front(), "    do clear soil given place is inner gloves"));
  hold(result, steps);
}

TEST_CASE("mend: a repeat whose question nothing can change is given the look or decision that it needs") {
  std::string steps = good_steps;
  steps.insert(steps.find("  take off plastic apron"), R"(  decide lift here as yes or no
  repeat at most 3 times
    act "Look at the lamp."
  until lift here is yes
  if still not
    observer calls "porter"
  end repeat
)");
  const mend::Result result = mends_of(steps);
  REQUIRE_FALSE(result.mends.empty());
  CHECK(says(result.mends.front(), "decide lift here as yes or no"));
  CHECK(result.mends.front().left == 0);
  CHECK(result.mends.front().size == 1);
  hold(result, steps);
}

TEST_CASE("mend: a removal that comes phases too soon is moved behind what it waits for") {
  const std::string coverall = "  take off coverall using roll down from inside\n";
  std::string steps = without(good_steps, "take off coverall");
  steps.insert(steps.find("  take off plastic apron"), coverall);
  const mend::Result result = mends_of(steps);
  const mend::Mend& first = one_move_clears(result);
  CHECK(says(first, "take off coverall"));
  hold(result, steps);
}

TEST_CASE("mend: a removal that has got into the block of a question moves out of it, as far as it has to") {
  std::string steps = without(good_steps, "take off coverall");
  const std::string inside = "    do clear soil given place is plastic apron\n";
  steps.insert(steps.find(inside), "    take off coverall using roll down from inside\n");
  const mend::Result result = mends_of(steps);
  const mend::Mend& first = one_move_clears(result);
  CHECK(says(first, "take off coverall"));
  CHECK(first.changes.front().before > first.changes.front().last + 10);
  hold(result, steps);
}

TEST_CASE("mend: what is put on too late moves up with the look at it and the question about it") {
  const std::string going_in = with_words(with_words(head, "care room wearing scrubs, inner gloves, coverall, respirator, plastic apron, goggles", "exit area wearing scrubs, clogs"),
                                          "wears inner gloves, respirator", "wears inner gloves, coverall, outer gloves");
  const std::string gloves = "  put on inner gloves using cuff first\n  observer inspects inner gloves for tear\n  if tear on inner gloves\n    finish as assisted exit\n  end if\n";
  const std::string suit = "  put on coverall using step in and draw up\n  put on outer gloves using cuff over the sleeve\n";
  const std::string begin = "phase \"In\"\n  disinfect bare hands with hand rub\n", end = "  finish as clean exit\nend phase\n";
  const auto seen = [&](const std::string& steps) {
    FilesInMemory files;
    files.put("exit.ward", going_in + begin + steps + end);
    return mend::find_mends(driver::recheck_of("exit.ward", files, "2031-01-15"), {600, 3, 2});
  };
  CHECK(seen(gloves + suit).errors.empty());
  const mend::Result result = seen(suit + gloves);
  const mend::Mend& first = one_move_clears(result);
  CHECK(says(first, "put on inner gloves"));
  CHECK(says(first, "observer inspects inner gloves for tear"));
  CHECK(says(first, "if tear on inner gloves"));
}

TEST_CASE("mend: what nobody can see is uncovered, where the removal of what lies above was forgotten") {
  const std::string covered = with_words(with_words(head, "care room wearing scrubs", "care room wearing scrubs, clogs, boot covers"), "wears inner gloves, respirator", "wears inner gloves, respirator, clogs");
  const std::string removal = "  take off boot covers using turn down from inside\n";
  const std::string feet = "  disinfect hands with strong chlorine\n  observer inspects boot covers for soil\n  if soil on boot covers\n    do clear soil given place is boot covers\n  end if\n" + removal +
                           "  disinfect hands with strong chlorine\n  observer inspects clogs for soil\n  if soil on clogs\n    do clear soil given place is clogs\n  end if\n  disinfect clogs with strong chlorine\n";
  const auto seen = [&](const std::string& these) {
    FilesInMemory files;
    files.put("exit.ward", covered + with_words(good_steps, "  finish as clean exit\n", these + "  finish as clean exit\n"));
    return mend::find_mends(driver::recheck_of("exit.ward", files, "2031-01-15"), {600, 3, 2});
  };
  CHECK(seen(feet).errors.empty());
  const mend::Result result = seen(with_words(feet, removal, ""));
  REQUIRE_FALSE(result.mends.empty());
  CHECK(says(result.mends.front(), "take off boot covers"));
  CHECK(result.mends.front().left == 0);
  CHECK(result.mends.front().size == 1);
}

TEST_CASE("mend: an outline has its statements in the order of the text, each behind the block that holds it") {
  const FilesInMemory files = file_of(good_steps);
  const mend::Seen seen = driver::recheck_of("exit.ward", files, "2031-01-15")({}, {});
  REQUIRE(seen.protocol);
  const mend::Outline outline = mend::outline_of(seen.loaded, seen.files, *seen.protocol);
  std::size_t nested = 0;
  for (std::uint32_t s = 1; s < outline.all.size(); ++s) {
    const mend::Statement &one = outline.all[s], &before = outline.all[s - 1];
    CHECK(std::pair(before.file, before.first) < std::pair(one.file, one.first));
    if (one.parent == mend::nowhere) continue;
    REQUIRE(one.parent < s);
    CHECK(outline.all[one.parent].first < one.first);
    CHECK(outline.all[one.parent].last >= one.last);
    nested += outline.all[one.parent].parent != mend::nowhere;
  }
  CHECK(nested == 5);  // what stands in the questions of the good steps
}

TEST_CASE("mend: two mistakes are mended together, or it is told how many are left") {
  const std::string steps = without(without(good_steps, "  disinfect hands with strong chlorine", 2), "  observer inspects coverall for soil");
  const mend::Result result = mends_of(steps);
  REQUIRE_FALSE(result.mends.empty());
  CHECK(result.mends.front().left == 0);
  CHECK(result.mends.front().changes.size() == 2);
  CHECK(result.mends.front().size == 2);
  hold(result, steps);
}

TEST_CASE("mend: where no change of steps helps it says so, and what was tried") {
  const std::string steps = R"(phase "Out"
  move to exit area
  observer takes off goggles of wearer using strap from behind
  take off plastic apron using break the loop
  take off coverall using roll down from inside
  finish as clean exit
end phase
)";
  REQUIRE(errors_of(head + steps) > 0);  // the team's observer keeps hands off the wearer
  const mend::Result result = mends_of(steps);
  CHECK(result.mends.empty());
  const std::string text = driver::mends_as_text(result, "exit.ward", 600);
  CHECK(text.find("no mend was found") != std::string::npos);
  CHECK(text.find("tried") != std::string::npos);
}

TEST_CASE("mend: any number of cores gives the same answer") {
  const std::string steps = without(good_steps, "  disinfect hands with strong chlorine", 3);
  const std::string one = driver::mends_as_json(mends_of(steps, 1), "exit.ward", 600);
  CHECK(one == driver::mends_as_json(mends_of(steps, 2), "exit.ward", 600));
  CHECK(one == driver::mends_as_json(mends_of(steps, 5), "exit.ward", 600));
}

TEST_CASE("mend: a limit of a few changes is kept, and told") {
  const std::string steps = without(good_steps, "  observer inspects goggles for soil");
  const FilesInMemory files = file_of(steps);
  const mend::Result result = mend::find_mends(driver::recheck_of("exit.ward", files, "2031-01-15"), {1, 3, 1});
  CHECK(result.tried <= 8);
}

TEST_CASE("mend: a new line is shown with what it costs") {
  const std::string steps = without(good_steps, "  disinfect hands with strong chlorine", 2);
  const mend::Result result = mends_of(steps);
  REQUIRE_FALSE(result.mends.empty());
  const mend::Costs costs = mend::costs_of(result.mends.front());
  CHECK(costs.steps == 2);  // the line, and the end of its contact time
  CHECK(costs.seconds > 0);
  const std::string text = driver::mends_as_text(result, "exit.ward", 600);
  for (const char* words : {"write one line in front of line", "none is left", "2 steps more on the longest path", "No file was changed"})
    CHECK(text.find(words) != std::string::npos);
}

TEST_CASE("mend: lines keep their origin through changes, and nothing is lost") {
  const mend::Text text = mend::text_of("a\n  b\nc\nd\n");
  const mend::Text moved = mend::changed(text, {Change::Kind::move, "x", 5, {"b"}, 2, 2, 0});
  CHECK(mend::joined(moved) == "a\nc\nd\nb\n");
  CHECK(moved[3].origin == 2);
  const mend::Text around = mend::changed(text, {Change::Kind::branch, "x", 2, {"  if q", "    b", "  end if"}, 2, 2, 2});
  CHECK(mend::joined(around) == "a\n  if q\n    b\n  end if\nc\nd\n");
  CHECK(around[2].origin == 2);
  CHECK(around[1].origin == 0);
  CHECK(mend::joined(mend::changed(text, {Change::Kind::insert, "x", 1, {"z"}, 0, 0, 1})) == "z\na\n  b\nc\nd\n");
}
