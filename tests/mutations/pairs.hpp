#pragma once
// Two mistakes at once. One mistake is told as one error with what follows from it underneath, so two mistakes could
// hide behind each other: here a fixed choice of pairs is made, and both have to be shown, as an error or under one.

#include "mutant.hpp"

namespace stepward::mutations {

struct PairCount {
  std::size_t pairs = 0;
  std::size_t both = 0;      ///< both are shown
  std::size_t apart = 0;     ///< and there are two errors at least
};

/// Takes `mistakes` pairwise, `wanted` of them spread over all pairs, as far as both can be made in one text and each
/// is found by a walk of its own. Pairs that do not show both are printed.
PairCount judge_pairs(const Base& base, const std::vector<Mutant>& mistakes, std::size_t wanted);

}  // namespace stepward::mutations
