// Scores of a failure-mode table.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <vector>

#include "reliability/hazard.hpp"

namespace stepward::reliability {
namespace {

constexpr Severity severities[] = {Severity::catastrophic, Severity::major, Severity::moderate, Severity::minor};
constexpr Frequency frequencies[] = {Frequency::frequent, Frequency::occasional, Frequency::uncommon, Frequency::remote};

}  // namespace

TEST_CASE("reliability: the hazard matrix of HFMEA") {
  // DeRosier and others 2002; VA National Center for Patient Safety. Matrix from memory, threshold 8 read.
  const unsigned expected[4][4] = {{16, 12, 8, 4}, {12, 9, 6, 3}, {8, 6, 4, 2}, {4, 3, 2, 1}};
  std::set<unsigned> values;
  unsigned counting = 0;
  for (std::size_t f = 0; f < 4; ++f) {
    for (std::size_t s = 0; s < 4; ++s) {
      const unsigned score = hazard_score(severities[s], frequencies[f]);
      CHECK(score == expected[f][s]);
      values.insert(score);
      counting += score >= counts_by_score;
    }
  }
  CHECK(values == std::set<unsigned>{1, 2, 3, 4, 6, 8, 9, 12, 16});
  CHECK(counting == 6);
}

TEST_CASE("reliability: all sixteen rows of HFMEA's decision tree") {
  // Questions read (VA page on the decision tree), how they follow each other from memory.
  struct Row { bool high, single, control, obvious; HazardDecision decision; };
  using D = HazardDecision;
  const Row rows[] = {
      {false, false, false, false, D::stop_too_small}, {false, false, false, true, D::stop_too_small},
      {false, false, true, false, D::stop_too_small},  {false, false, true, true, D::stop_too_small},
      {false, true, false, false, D::act},             {false, true, false, true, D::stop_obvious},
      {false, true, true, false, D::stop_controlled},  {false, true, true, true, D::stop_controlled},
      {true, false, false, false, D::act},             {true, false, false, true, D::stop_obvious},
      {true, false, true, false, D::stop_controlled},  {true, false, true, true, D::stop_controlled},
      {true, true, false, false, D::act},              {true, true, false, true, D::stop_obvious},
      {true, true, true, false, D::stop_controlled},   {true, true, true, true, D::stop_controlled},
  };
  unsigned acting = 0;
  for (const Row& row : rows) {
    const HazardAnswers answers{row.single, row.control, row.obvious};
    for (const unsigned score : row.high ? std::vector<unsigned>{8, 9, 12, 16} : std::vector<unsigned>{1, 2, 3, 4, 6})
      CHECK(decide(score, answers) == row.decision);
    acting += row.decision == D::act;
  }
  CHECK(acting == 3);
}

TEST_CASE("reliability: a remote catastrophe goes on if one failure is enough") {
  const unsigned score = hazard_score(Severity::catastrophic, Frequency::remote);
  CHECK(score == 4);
  CHECK(decide(score, {}) == HazardDecision::stop_too_small);
  CHECK(decide(score, {.single_point_weakness = true}) == HazardDecision::act);
}

TEST_CASE("reliability: risk priority numbers of a published doffing analysis") {
  // Gurses and others 2019, Infect Control Hosp Epidemiol 40(2):178-186, table 3 (read): a helper walks between dirty and clean areas;
  // a helper omits hand hygiene after untying the apron.
  CHECK(*given(risk_priority({9, 10, 7})) == 630);
  CHECK(*given(risk_priority({8, 5, 8})) == 320);
  CHECK(ranks_above({9, 10, 7}, {8, 5, 8}));
}

TEST_CASE("reliability: there are 120 risk priority numbers, and ties go by severity, occurrence, detection") {
  // 120: well known, from memory; counted here.
  std::set<unsigned> numbers;
  std::vector<Ratings> tied;
  for (unsigned s = 1; s <= 10; ++s) {
    for (unsigned o = 1; o <= 10; ++o) {
      for (unsigned d = 1; d <= 10; ++d) {
        numbers.insert(*given(risk_priority({s, o, d})));
        if (s * o * d == 60) tied.push_back({s, o, d});
      }
    }
  }
  CHECK(numbers.size() == 120);
  CHECK(*numbers.rbegin() == 1000);
  std::sort(tied.begin(), tied.end(), ranks_above);
  REQUIRE(tied.size() > 10);
  CHECK(tied.front() == Ratings{10, 6, 1});
  CHECK(tied[1] == Ratings{10, 3, 2});
  CHECK(tied.back() == Ratings{1, 6, 10});
  CHECK(!ranks_above({1, 6, 10}, {1, 6, 10}));
}

TEST_CASE("reliability: ratings run from 1 to 10") {
  CHECK(refused(risk_priority({0, 5, 5}))->why == Why::rating_outside_1_to_10);
  CHECK(refused(risk_priority({5, 11, 5}))->about == "occurrence");
  CHECK(refused(risk_priority({5, 5, 11}))->value == 11);
}

}  // namespace stepward::reliability
