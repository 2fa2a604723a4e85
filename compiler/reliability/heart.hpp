#pragma once
// HEART: a kind of task, and what makes it worse.
//
// A task is one of nine kinds, each with a nominal chance to fail (A 0.55 … H 0.00002, and M where none fits). Conditions of
// the work then multiply it, each by as much of its full effect as the assessor thinks applies:
//
//   chance = nominal x product of ((multiplier - 1) x share + 1), at most 1
//
// Kind F, "moves a system to another state by a procedure, with some checking", is the one for putting on and taking off.
// Worked example (its scenario is published, an operator who isolates a by-pass): kind F 0.003; inexperience 3 at 0.4,
// opposite technique 6 at 1, risk misjudged 4 at 0.8, conflicting aims 2.5 at 0.8, low morale 1.2 at 0.6. The factors are 1.8, 6,
// 3.4, 2.2 and 1.12, the chance 0.27143, published as 0.27.
// Tables second hand; formula read in several descriptions of the method.

#include <vector>

#include "reliability/published.hpp"

namespace stepward::reliability {

/// One condition that makes errors likelier, by its number in the published list (1 to 31), and how much of its effect applies.
struct WorseningCondition {
  unsigned number = 0;
  double share = 1;  ///< 0 to 1
};

/// The names of HEART's figures in the set: "task F", "condition 15". Nothing where the set has none.
std::string heart_task_figure(char kind);
std::string heart_condition_figure(unsigned number);

/// The chance to fail. `heart` is a choice of HEART-1986. Why::unknown_figure for a kind or condition that is not in it,
/// Why::outside_0_to_1 for a share.
Answer<double> heart_chance(const Choice& heart, char kind, const std::vector<WorseningCondition>& conditions);

}  // namespace stepward::reliability
