// Slips that somebody answers for: read from a protocol, laid beside what comes of them, and told apart until their day.
#include <doctest/doctest.h>

#include <algorithm>

#include "base/file_access.hpp"
#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"
#include "driver/registers.hpp"
#include "driver/verdict_text.hpp"
#include "emit/slips/failure_modes.hpp"
#include "emit/slips/slips.hpp"
#include "slips/answers.hpp"
#include "room_protocol.hpp"
#include "slips/failure_modes.hpp"
#include "tidy/tidy.hpp"

using namespace stepward;
using graph::SlipKind;

namespace {

std::string answer(const std::string& head, const std::string& until = "2031-06-01") {
  return "answer to " + head + "\n  reason \"A second rub hangs at the door.\"\n  agreed by \"Ann Other\", \"charge nurse\"\n  ends on " + until + "\nend answer\n\n";
}

// Bare hands take the goggles off. What is not rubbed before reaches the face; that is how plain sheets go wrong.
std::string with(const std::string& answers) {
  return room::leaving_the_room(R"(
  take off single gloves using peel to the skin
  disinfect bare hands with hand rub
    known as rub before the face
  take off goggles using strap from behind
  do rub
  take off gown using untie and roll
  do rub)", answers + "routine rub\n  disinfect bare hands with hand rub\nend routine\n");
}

struct Tried { driver::Compilation made; slips::Table table; };

Tried tried(const std::string& answers, const std::string& today = "2031-01-15") {
  FilesInMemory access;
  access.put("room.ward", with(answers));
  Tried out{driver::read("room.ward", access, today), {}};
  REQUIRE(out.made.is_walkable());
  driver::walk(out.made, {.workers = 1});
  REQUIRE(diagnostics::count(out.made.findings).errors == 0);
  out.table = slips::analyse(*out.made.protocol, {.workers = 1});
  return out;
}

const std::string in_question = "slip left out at rub before the face in \"Out\"";

const slips::Row& row(const slips::Table& table, SlipKind kind, const std::string& line_of_source, const source::Files& files) {
  const auto found = std::find_if(table.rows.begin(), table.rows.end(), [&](const slips::Row& each) {
    return each.key.kind == kind && files.text(each.at).find(line_of_source) != std::string_view::npos;
  });
  REQUIRE(found != table.rows.end());
  return *found;
}

std::size_t harms(const slips::Table& table) {
  return static_cast<std::size_t>(std::count_if(table.rows.begin(), table.rows.end(), [](const slips::Row& each) { return each.outcome == slips::Outcome::harm; }));
}

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("answered slips: one is found by its line and kind, and its outcome stays harm") {
  const Tried plain = tried(""), answered = tried(answer(in_question));
  CHECK(harms(plain.table) == harms(answered.table));
  CHECK(plain.table.rows.size() == answered.table.rows.size());
  CHECK(plain.table.answers.empty());
  REQUIRE(answered.table.answers.size() == 1);
  CHECK(answered.table.answers[0].harms == 1);
  const auto told_apart = std::count_if(answered.table.rows.begin(), answered.table.rows.end(), [&](const slips::Row& each) { return answered.table.is_answered(each); });
  CHECK(told_apart == 1);
  const slips::Row& left_out = row(answered.table, SlipKind::left_out, "disinfect bare hands", answered.made.files);
  CHECK(left_out.outcome == slips::Outcome::harm);
  CHECK(answered.table.is_answered(left_out));
  CHECK_FALSE(answered.table.is_open(left_out));
  CHECK(slips::answers_not_needed(answered.table).empty());
}

TEST_CASE("answered slips: the walk and the verdict are the same with and without") {
  const Tried plain = tried(""), answered = tried(answer(in_question));
  CHECK(plain.made.verdict.states() == answered.made.verdict.states());
  CHECK(plain.made.verdict.transitions() == answered.made.verdict.transitions());
  CHECK(plain.table.states == answered.table.states);
  CHECK(plain.table.states_off == answered.table.states_off);
  CHECK(driver::rules_counted(plain.made) == driver::rules_counted(answered.made));
}

TEST_CASE("answered slips: the report tells them apart until their day, and as open again behind it") {
  const Tried before = tried(answer(in_question)), on_the_day = tried(answer(in_question), "2031-06-01"), after = tried(answer(in_question), "2031-06-02");
  const std::string in_time = emit::slips_as_text(before.table, before.made.files), late = emit::slips_as_text(after.table, after.made.files);
  CHECK(holds(in_time, "  1 of those that come to harm is answered by the author\n"));
  CHECK(holds(in_time, "Answered by the author: one slip alone comes to harm, and somebody answers for it;\nwhether the answer holds it back, the model does not know\n"));
  CHECK(holds(in_time, "      answered by Ann Other, charge nurse, until 2031-06-01, because: A second rub hangs at the door.\n"));
  const std::size_t apart = in_time.find("Answered by the author");
  CHECK(in_time.find("left out: wearer disinfects bare hands") > apart);  // not in the ranking above
  CHECK_FALSE(holds(in_time, "OPEN AGAIN"));
  CHECK_FALSE(on_the_day.made.protocol->answered_slips[0].is_over);
  CHECK_FALSE(holds(late, "Answered by the author"));
  CHECK(holds(late, "      OPEN AGAIN: answered by Ann Other, charge nurse, over since 2031-06-01, because: A second rub hangs at the door.\n"));
  CHECK(diagnostics::count(before.made.findings).warnings + 1 == diagnostics::count(after.made.findings).warnings);
}

TEST_CASE("answered slips: every slip of a line, and a line of a routine at each of its calls") {
  const Tried made = tried(answer("every slip at rub before the face in \"Out\"") + answer("slip left out, overlooked at disinfect bare hands in \"rub\""));
  const model::AnsweredSlip& of_routine = made.made.protocol->answered_slips[1];
  CHECK(of_routine.lines.size() == 2);
  CHECK(of_routine.kinds == std::vector{SlipKind::left_out, SlipKind::overlooked});
  for (const slips::Row& each : made.table.rows) {
    const bool is_line = each.at == (*made.made.protocol)[made.made.protocol->answered_slips[0].lines[0]].span;
    if (is_line && each.outcome == slips::Outcome::harm) CHECK(made.table.is_answered(each));
  }
  // A strap and the inside of a gown leave hands clean, so these rubs are more than is needed; and a rub is no look: nobody can overlook anything there.
  const diagnostics::Sink unneeded = slips::answers_not_needed(made.table);
  REQUIRE(unneeded.size() == 2);
  CHECK(unneeded[0].args == std::vector<std::string>{"left out", "disinfect bare hands", "it is harmless in the model"});
  CHECK(unneeded[1].args == std::vector<std::string>{"overlooked", "disinfect bare hands", "no such slip is tried at that line"});
}

TEST_CASE("answered slips: one that nothing needs is told with the slip of that line that is open, but not where only a part was tried") {
  const Tried made = tried(answer("slip clumsy at take off single gloves in \"Out\"") + answer("slip clumsy at rub before the face in \"Out\""));
  const diagnostics::Sink unneeded = slips::answers_not_needed(made.table);
  const auto of_rub = std::find_if(unneeded.begin(), unneeded.end(), [](const diagnostics::Diagnostic& each) { return each.args[1] == "rub before the face"; });
  REQUIRE(of_rub != unneeded.end());
  CHECK(of_rub->code == diagnostics::Code::S201);
  CHECK(holds(of_rub->fix, "answer to slip left out"));
  CHECK(holds(of_rub->fix, " at rub before the face in \"Out\""));
  // Of an answer that is needed in part, only the other part goes.
  const Tried partly = tried(answer("slip left out, overlooked at rub before the face in \"Out\""));
  REQUIRE(slips::answers_not_needed(partly.table).size() == 1);
  CHECK(slips::answers_not_needed(partly.table)[0].fix == "answer to slip left out at rub before the face in \"Out\"");
  const slips::Table part = slips::analyse(*made.made.protocol, {.only_variant = 0, .workers = 1});
  CHECK(slips::answers_not_needed(part).empty());
}

TEST_CASE("answered slips: csv and json hold all that is said") {
  const Tried made = tried(answer(in_question));
  const std::string csv = emit::slips_as_csv(made.table, made.made.files), json = emit::slips_as_json(made.table, made.made.files);
  CHECK(holds(csv, ",variants,answered,answer,answered by\r\n"));
  CHECK(holds(csv, ",until 2031-06-01,A second rub hangs at the door.,\"Ann Other, charge nurse\"\r\n"));
  for (const char* part : {"\"open\": false", "\"open\": true", "\"answer\": 0", "\"every_slip\": false", "\"at\": \"rub before the face\"", "\"place\": \"Out\"",
                           "\"reason\": \"A second rub hangs at the door.\"", "\"agreed_by\": \"Ann Other\"", "\"office\": \"charge nurse\"", "\"ends_on\": \"2031-06-01\"", "\"over\": false",
                           "\"answers\": 1"})
    CHECK_MESSAGE(holds(json, part), part);
}

TEST_CASE("answered slips: a failure-mode table has the reason as action, with who and until when, and its decision stays") {
  const Tried plain = tried(""), made = tried(answer(in_question)), late = tried(answer(in_question), "2032-01-01");
  const auto modes_of = [](const Tried& it) { return slips::failure_modes(it.table, [](const slips::Row& each) { return each.at.begin; }); };
  const auto modes = modes_of(made);
  const auto acting = [](const std::vector<slips::FailureMode>& all) { return std::count_if(all.begin(), all.end(), [](const slips::FailureMode& m) { return m.decision == slips::FailureDecision::act; }); };
  CHECK(acting(modes) == acting(modes_of(plain)));
  CHECK(holds(emit::failure_modes_as_csv(made.table, modes, emit::FailureForm::hfmea), ",act,,A second rub hangs at the door.,,\"Ann Other, charge nurse\"\r\n"));
  CHECK(holds(emit::failure_modes_as_csv(made.table, modes, emit::FailureForm::iec_60812), ",,,,,A second rub hangs at the door.,\"Ann Other, charge nurse\",2031-06-01,\r\n"));
  CHECK(holds(emit::failure_modes_as_csv(late.table, modes_of(late), emit::FailureForm::hfmea), "OVER since 2031-06-01: A second rub"));
  CHECK(holds(emit::failure_modes_as_text(made.table, modes, emit::FailureForm::hfmea), "action: A second rub hangs at the door. (Ann Other, charge nurse, until 2031-06-01)"));
}

TEST_CASE("answered slips: check lists them among its registers, in words and as data") {
  const Tried made = tried(answer(in_question), "2031-06-02");
  CHECK(holds(driver::verdict_text(made.made, {}, false), "slips that are answered for:\n  left out at “rub before the face” in “Out”, until 2031-06-01 (over)\n"
                                                          "    A second rub hangs at the door.\n    agreed by Ann Other, charge nurse\n"));
  const std::string json = diagnostics::as_json(made.made.findings, made.made.files, {{"answered_slips", driver::answered_slip_rows(made.made)}});
  for (const char* part : {"\"step\": \"rub before the face\"", "\"place\": \"Out\"", "\"over\": true", "\"every_slip\": false"}) CHECK_MESSAGE(holds(json, part), part);
}

TEST_CASE("answered slips: tidy keeps the block and indents its lines") {
  std::string loose = answer(in_question);
  for (std::size_t at = loose.find("\n  "); at != std::string::npos; at = loose.find("\n  ")) loose.replace(at, 3, "\n");
  source::Files files;
  diagnostics::Sink sink;
  const source::FileId file = files.add("room.ward", with(loose));
  CHECK(tidy::tidy(file, files.text(file), sink).text == with(answer(in_question)));
}
