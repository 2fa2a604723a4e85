#pragma once
// What the slip report says of a line that is left out, held against the slow walk of a protocol without that line.
//
// A slip is a fault of one run in a protocol that stays as it is; a deletion is a fault of the protocol that every run has. For
// a line that a run does at most once they are the same thing. So the slow walk, which knows nothing of slips, can
// judge the report: without a line that is called harmless it must find nothing at all, and without one whose harm is told it must
// find that harm at that line. Rules only advise here, and nothing interrupts, as in the report.
//
// Lines that are repeated are left out of it: a run that skips them once is not one that skips them each time.

#include <cstdint>
#include <string>

#include "step.hpp"

namespace stepward::oracle {

struct DeletionCount {
  std::size_t harmless = 0, harms = 0;  ///< deletions that were walked, by what the report says of their line
  std::size_t repeated = 0;             ///< rows left out, since their lines stand in a repeat
  std::size_t given_up = 0;             ///< walks that came to `most_states`
  std::string differs;                  ///< in words, a line each; empty: the walk bears the report out
};

struct DeletionSample {
  std::size_t most_states = 200'000;    ///< of one walk
  std::size_t rows = SIZE_MAX;          ///< at most so many of each kind, chosen by `seed`
  std::uint64_t seed = 0;
};

DeletionCount judge_deletions(const Protocol& protocol, const DeletionSample& sample);

}  // namespace stepward::oracle
