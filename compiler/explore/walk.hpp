#pragma once
// The walk: every state that a system can reach, breadth first, so that the first story of a finding is a shortest one.
//
// It knows no rule and no word. A state is where a run stands and the stored fields; crossings are passed at once, so
// only standing places are stored. Interruptions may strike at every stored state but the first. The walk owns its
// states; `via` and `parent` lead back to the start.
//
// States are numbered in the order in which they are met, and that order is the same however many threads work. The
// states of one depth are cut into blocks of 64. Any thread may expand any block, that is, compute its successors into a
// batch (stepper.hpp); only then, and block by block in order, are they looked up, numbered and appended
// (state_set.hpp), by whichever thread finds the next batch ready and nobody at it:
//
//     thread 1   expand 0 · take in 0 · expand 2 · take in 1 · take in 2 · expand 5 …
//     thread 2   expand 1 · expand 3 · expand 4 · take in 3 · take in 4 · …
//
// So a walk by two threads gives bit for bit the walk of one. A narrow depth is walked by one thread: the others would
// wait for it more than they help.
//
// Memory is bounded by the limit: a walk stops before it holds more states than `limit`, or more bytes than
// `most_bytes` allows for that limit, whichever comes first, and says which.

#include <cstdint>
#include <optional>
#include <vector>

#include "explore/packed.hpp"
#include "explore/steady_array.hpp"

namespace stepward::explore {

struct Options {
  bool interruptions = true;
  std::uint64_t limit = 20'000'000;    ///< states; reaching it makes the walk incomplete
  unsigned threads = 1;
  std::uint32_t shared_from = 20'000;  ///< states of one depth from which on several threads share it
};

/// What a walk of so many states may take, path_sums included: a hundred bytes a state, and some to begin with.
constexpr std::uint64_t most_bytes(std::uint64_t limit) { return (std::uint64_t(64) << 20) + limit * 100; }

/// The first run on which a report was reached.
struct Found {
  std::uint32_t report = 0;     ///< its number in the packed system
  std::uint32_t state = 0;      ///< the state before the step that finds it
  std::uint32_t edge = 0;       ///< packed edge taken from there
  std::uint32_t steps = 0;      ///< length of the run, that step included
};

enum class Stopped : std::uint8_t { no, by_limit, by_memory };

struct Result {
  explicit Result(std::uint32_t words_of_a_state = 1) : words(words_of_a_state), states(words_of_a_state) {}

  bool complete = false;
  Stopped stopped = Stopped::no;
  std::uint32_t words = 0;
  SteadyArray<std::uint64_t> states;       ///< a row each, in breadth-first order
  SteadyArray<std::uint32_t> parent, via;  ///< of each state; state 0 has none
  std::vector<std::uint32_t> depth_ends;   ///< states of depth d end at depth_ends[d]
  SteadyArray<std::uint32_t> successor_ends, successors;  ///< successors of state s end at successor_ends[s]; UINT32_MAX: a run ends
  std::vector<Found> found;                ///< in order of finding, one a report
  std::vector<bool> edge_taken;
  std::vector<bool> node_reached;          ///< crossings and standing places
  std::uint64_t transitions = 0;

  std::uint32_t size() const { return static_cast<std::uint32_t>(parent.size()); }
  const std::uint64_t* state(std::uint32_t i) const { return states.row(i); }
};

Result walk(const Packed& packed, const Options& options);

/// The states of a walk, each behind all that lead to it. Fewer than there are: some lie on a cycle.
std::vector<std::uint32_t> in_order(const Result& result);

/// How many different runs there are, and the steps of the longest. A count beyond 2^53 is rounded.
struct PathSums {
  double paths = 0;
  std::uint32_t longest = 0;
  bool acyclic = true;
  std::vector<std::uint32_t> order;  ///< of the states, as in_order gives it
};
PathSums path_sums(const Result& result);

/// How many different runs take one of these steps, given by position in `successors` and in order.
double runs_through(const Result& result, const std::vector<std::uint32_t>& steps);

/// The packed edges of the run that ends with `found`, first step first; the last is found.edge.
std::vector<std::uint32_t> run_to(const Result& result, const Found& found);

}  // namespace stepward::explore
