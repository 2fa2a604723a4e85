#pragma once
// How long a run takes and how many lines it has: the shortest and the longest that nothing interrupts, for each ending.
//
// Of time only what the author declared is known: waits, contact times, lines that say `at least`. So the figures are what
// has to pass in any case; hands and feet come on top. Worked out backwards over the finished quiet walk, once for each ending:
//
//     left(state) = time of its line + the least (or the most) that is left behind it, nothing where this ending cannot be reached
//
// The run with the least time need not be the one with the fewest lines; each figure stands for itself.

#include <vector>

#include "check/quiet_walk.hpp"

namespace stepward::check {

struct RunLengths {
  model::EndingId ending;  ///< none: the last phase ends without one
  std::uint64_t least_seconds = 0, most_seconds = 0;
  std::uint32_t fewest_lines = 0, most_lines = 0;
};

/// Of each ending that some run comes to, in the order of the source. Empty where the walk is not complete.
std::vector<RunLengths> run_lengths(const QuietWalk& walk, const model::Protocol& protocol);

}  // namespace stepward::check
