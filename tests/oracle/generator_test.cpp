// The generator itself: the same number gives the same text, and the compiler reads every text without a word.
#include <doctest/doctest.h>

#include "compare.hpp"
#include "coverage.hpp"
#include "generator.hpp"
#include "model/variants.hpp"
#include "trial.hpp"

using namespace stepward::oracle;

TEST_CASE("oracle: a number always gives the same procedure, another number another one") {
  CHECK(random_procedure(7) == random_procedure(7));
  CHECK(random_procedure(7) != random_procedure(8));
}

TEST_CASE("oracle: the compiler reads random procedures without a finding") {
  for (std::uint64_t number = 0; number < 100; ++number) {
    const Trial trial = read_procedure(number);
    CAPTURE(number);
    REQUIRE(trial.protocol.has_value());
    CHECK(trial.refusals == std::vector<std::string>{});
  }
}

TEST_CASE("oracle: a disagreement names what only one walk found, and how far it was") {
  const Common one{"P401", "gown off", "gown", 4}, other{"P401", "gown off", "gown", 5};
  CHECK(disagreement({one}, {one}).empty());
  CHECK(disagreement({one}, {other}) ==
        "  only slow: P401 at gown off: gown, 4 steps\n  only fast: P401 at gown off: gown, 5 steps\n");
}

TEST_CASE("oracle: the table counts procedures, not walks") {
  Result with, without;
  with.occurred = {"verb: move"};
  with.states = 700;
  with.shortest[{Code::P204, "move", "hall", "wearer"}] = 1;
  without.states = 300;
  Coverage coverage;
  coverage.add(std::vector<Result>{with, with});
  coverage.add(std::vector<Result>{without});
  CHECK(coverage.procedures() == 2);
  CHECK(coverage.share("verb: move") == doctest::Approx(0.5));
  CHECK(coverage.share_with_finding() == doctest::Approx(0.5));
  CHECK(coverage.median_states() == 1400);
  CHECK(coverage.shortfalls().find("too seldom: verb: wait") != std::string::npos);
}
