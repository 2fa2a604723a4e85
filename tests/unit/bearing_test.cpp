// What a rule does in a protocol: held against runs that can be counted by hand.
#include <doctest/doctest.h>

#include "base/file_access.hpp"
#include "check/bearing.hpp"
#include "check/without_a_line.hpp"
#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"
#include "model/variants.hpp"

using namespace stepward;

namespace {

// Two ways to the apron: at once, or behind a chair. It is wiped off on both, so the shorter one is the witness.
std::string leaving(const std::string& rules) {
  return R"(stepward 1 protocol
document
  title   "Apron off"
  number  ASH-01
  version 1.0
end document
use library standard "layered-equipment"
use library standard "team"
use library standard "disinfectants"
people
  wearer begins in exit area wearing scrubs, inner gloves, coverall, plastic apron
  wearer acts unless a line names someone else
end people
endings
  clean exit is normal
    wearer wears inner gloves
end endings
)" + rules + R"(
phase "Apron"
  decide tired as yes or no
  if tired is yes
    act "Sit down."
  end if
  disinfect hands with strong chlorine
  take off plastic apron using break the loop
  disinfect hands with strong chlorine
  take off coverall using roll down from inside
  finish as clean exit
end phase
)";
}

std::string rule(const std::string& number, const std::string& lines) {
  return "rule " + number + " of the test\n" + lines +
         "  severity major\n  because \"What the gloves carry would reach the neck.\"\n  source local \"test\"\nend rule\n";
}

struct Asked {
  driver::Compilation made;
  std::vector<check::Bearing> bearing;
};

Asked ask(const std::string& rules) {
  FilesInMemory access;
  access.put("a.ward", leaving(rules));
  Asked asked{driver::read("a.ward", access, ""), {}};
  REQUIRE(asked.made.protocol);
  asked.bearing = check::bearing_of_rules(*asked.made.protocol, check::rules_meant(*asked.made.protocol, "all"), {});
  return asked;
}

const std::string hands = rule("T1", "  before each wearer takes off plastic apron\n  require wearer disinfects hands\n");
const std::string layers = rule("T2", "  before each wearer takes off coverall\n  require wearer takes off plastic apron\n");
const std::string gown = rule("T3", "  before each wearer takes off gown\n  require wearer disinfects hands\n");
const std::string after = rule("T4", "  after each wearer takes off coverall\n  require wearer disinfects hands\n  before wearer takes off plastic apron\n");

}  // namespace

TEST_CASE("bearing: the witness is the shortest run on which the requirement was met") {
  const Asked a = ask(hands);
  CHECK(a.bearing[0].why == check::Bearing::Why::matters);
  // decide, wetting, end of contact time, then the removal
  CHECK(a.bearing[0].steps == 4);
  CHECK(a.made.files.position(a.bearing[0].at.file, a.bearing[0].at.begin).line == 32);
  REQUIRE(!a.bearing[0].story.empty());
  CHECK(a.bearing[0].story.back().here);
}

TEST_CASE("bearing: a rule that only a missing wipe breaks finds it alone, one about covers stands beside the physics") {
  const Asked a = ask(hands + layers);
  CHECK(a.bearing[0].broken_by_omission);
  CHECK(a.bearing[0].alone);
  CHECK(a.bearing[1].broken_by_omission);
  CHECK_FALSE(a.bearing[1].alone);
}

TEST_CASE("bearing: what never comes, and what never falls due") {
  const Asked a = ask(gown + after);
  CHECK(a.bearing[0].why == check::Bearing::Why::never_comes);
  CHECK_FALSE(a.bearing[0].broken_by_omission);
  CHECK(a.bearing[1].why == check::Bearing::Why::never_due);
}

TEST_CASE("bearing: whatever is asked of rules, the check itself is the same") {
  FilesInMemory access;
  access.put("a.ward", leaving(hands + layers));
  driver::Compilation plain = driver::read("a.ward", access, ""), asked = driver::read("a.ward", access, "");
  check::Options options;
  driver::walk(plain, options);
  options.witness = "all";
  driver::walk(asked, options);
  CHECK(plain.verdict.states() == asked.verdict.states());
  CHECK(diagnostics::count(plain.findings).errors == 0);
  CHECK(diagnostics::count(asked.findings).errors == 0);
  CHECK(diagnostics::count(asked.findings).notes == diagnostics::count(plain.findings).notes + 3);
}
