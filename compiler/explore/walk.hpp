#pragma once
// The walk: every state that a system can reach, breadth first, so that the first story of a finding is a shortest one.
//
// It knows no rule and no word. A state is where a run stands and the stored fields; crossings are passed at once, so
// only standing places are stored. Interruptions may strike at every stored state but the first. The walk owns its
// states; `via` and `parent` lead back to the start.

#include <cstdint>
#include <optional>
#include <vector>

#include "explore/packed.hpp"

namespace stepward::explore {

struct Options {
  bool cut = true;              ///< a run ends where an error is found
  bool interruptions = true;
  std::uint64_t limit = 20'000'000;  ///< states; reaching it makes the walk incomplete
};

/// The first run on which a report was reached.
struct Found {
  std::uint32_t report = 0;     ///< its number in the packed system
  std::uint32_t state = 0;      ///< the state before the step that finds it
  std::uint32_t edge = 0;       ///< packed edge taken from there
  std::uint32_t steps = 0;      ///< length of the run, that step included
};

struct Result {
  bool complete = false;
  std::uint32_t words = 0;
  std::vector<std::uint64_t> states;       ///< `words` each, in breadth-first order
  std::vector<std::uint32_t> parent, via;  ///< of each state; state 0 has none
  std::vector<std::uint32_t> depth_ends;   ///< states of depth d end at depth_ends[d]
  std::vector<std::uint32_t> successor_ends, successors;  ///< successors of state s end at successor_ends[s]; UINT32_MAX: a run ends
  std::vector<Found> found;                ///< in order of finding, one a report
  std::vector<bool> edge_taken;
  std::vector<bool> node_reached;          ///< crossings and standing places
  std::uint64_t transitions = 0;

  std::uint32_t size() const { return static_cast<std::uint32_t>(parent.size()); }
  const std::uint64_t* state(std::uint32_t i) const { return states.data() + std::size_t(i) * words; }
};

Result walk(const Packed& packed, const Options& options);

/// How many different runs there are, and the steps of the longest. A count beyond 2^53 is rounded.
struct PathSums { double paths = 0; std::uint32_t longest = 0; bool acyclic = true; };
PathSums path_sums(const Result& result);

/// The packed edges of the run that ends with `found`, first step first; the last is found.edge.
std::vector<std::uint32_t> run_to(const Result& result, const Found& found);

}  // namespace stepward::explore
