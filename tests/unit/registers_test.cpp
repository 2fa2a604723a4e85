// What the verdict lists of exceptions and local changes, and that its numbers are those of the walk.
#include <doctest/doctest.h>

#include "base/file_access.hpp"
#include "check/verdict.hpp"
#include "driver/pipeline.hpp"
#include "driver/registers.hpp"
#include "driver/verdict_text.hpp"

using namespace stepward;

namespace {

// Of the four runs (in a hurry or not, wiped first or not) two take the apron off without a wipe.
const char* const leaving = R"(stepward 1 protocol
document
  title   "Apron off"
  number  ASH-01
  version 1.0
end document
use library standard "layered-equipment"
use library standard "team"
use library standard "disinfectants"
people
  wearer begins in exit area wearing scrubs, inner gloves, plastic apron
  wearer acts unless a line names someone else
end people
endings
  clean exit is normal
    wearer wears inner gloves
end endings
rule AH1 clean hands before the apron
  before each wearer takes off plastic apron
  require wearer disinfects hands
  severity critical
  because "What the gloves carry would reach the neck."
  source local "round"
end rule
set aside rule AH1 in "apron away"
  reason "The wipes are on the other side."
  agreed by "Ann Other", "charge nurse"
  ends on 2031-06-01
end set aside
local change to routine apron away at turn add after
  act "Breathe out."
  reason "The mirror is low."
  agreed by "Ann Other", "charge nurse"
  look again by 2031-05-01
end change
routine apron away
  act "Turn to the wall."
    known as turn
  take off plastic apron using break the loop
end routine
phase "Apron"
  decide hurry as yes or no
  decide wiped as yes or no
  if wiped is yes
    disinfect hands with strong chlorine
  end if
  if hurry is yes
    do apron away
  otherwise
    act "Sit down."
    do apron away
  end if
  finish as clean exit
end phase
)";

driver::Compilation checked(const std::string& today) {
  FilesInMemory access;
  access.put("a.ward", leaving);
  driver::Compilation made = driver::read("a.ward", access, today);
  driver::walk(made, {});
  return made;
}

}  // namespace

TEST_CASE("registers: an exception is counted by the runs that need it") {
  const driver::Compilation made = checked("2031-01-01");
  REQUIRE(made.walked);
  CHECK(diagnostics::count(made.findings).errors == 0);
  CHECK(made.verdict.paths() == 4);
  REQUIRE(made.verdict.exceptions.size() == 1);
  CHECK(made.verdict.exceptions[0].runs == 2);
  CHECK(made.verdict.exceptions[0].variants == 1);
  CHECK(made.verdict.exceptions[0].lines.size() == 1);
}

TEST_CASE("registers: the verdict counts and lists them") {
  const std::string text = driver::verdict_text(checked("2031-01-01"), {}, false);
  CHECK(text.find("checked against 1 rule (1 of them set aside in some places, 1 step changed locally)") != std::string::npos);
  CHECK(text.find("AH1 clean hands before the apron in “apron away”, until 2031-06-01\n    The wipes are on the other side.\n"
                  "    agreed by Ann Other, charge nurse; needed by 2 of 4 paths in 1 of 1 variants, at a.ward:39") != std::string::npos);
  CHECK(text.find("apron away at “turn”: lines added after it, 2 calls, look again by 2031-05-01") != std::string::npos);
}

TEST_CASE("registers: the same as data") {
  const driver::Compilation made = checked("2031-05-15");
  const auto asides = driver::set_aside_rows(made), changes = driver::local_change_rows(made);
  REQUIRE(asides.size() == 1);
  REQUIRE(changes.size() == 1);
  const std::string json = diagnostics::as_json(made.findings, made.files, {{"set_aside", asides}, {"local_changes", changes}});
  for (const char* part : {"\"rule\": \"AH1\"", "\"runs\": 2.0", "\"over\": false", "\"overdue\": true", "\"step_at\": \"a.ward:37\""})
    CHECK_MESSAGE(json.find(part) != std::string::npos, part << " in " << json);
}
