#pragma once
// Slips tried by brute force: a plain search in sets and maps, which keeps every state with the slips that were made.
//
// It shares with the compiler what a slip *is* (the lowered ways) and nothing of how they are followed: it does not know
// the ordinary walk, comes back to nothing, forgets nothing and keeps no state as quiet. It goes over the whole run with
// the slips that it is allowed, so that every run with them is there.

#include <cstdint>
#include <map>
#include <set>
#include <vector>

#include "slips/slipped_system.hpp"

namespace stepward::oracle {

/// A state with all its fields.
using PlainState = std::vector<std::uint64_t>;
/// What one edge leads to, the crossings behind it included, and the first report on the way that weighs; `goes_on`: the run is not over.
struct PlainStep { PlainState after; std::uint32_t report = UINT32_MAX; bool goes_on = false; };
PlainStep plain_start(const slips::SlippedSystem& made);
PlainStep plain_step(const slips::SlippedSystem& made, const PlainState& before, std::uint32_t edge);

/// The harms that runs with all of these ways taken come to, by report, each with the steps of a shortest run. A run is over where the
/// first report that weighs stops it or harms. `ways`: by number; `complete`: false past `most` states.
struct SlipHarms { std::map<std::uint32_t, std::uint32_t> steps; bool complete = true; };
SlipHarms brute_harms(const slips::SlippedSystem& made, const std::vector<std::uint32_t>& ways, std::size_t most);

/// What may be wrong with the search that is compared, to see that it is noticed.
enum class SlipFault : std::uint8_t {
  none,
  harm_unweighed,   ///< one kind of harm counts for nothing
  harm_stops,       ///< one kind of harm is taken for something that everybody sees
  way_astray,       ///< a way leads where another one does
  third_forgotten,  ///< any two slips are taken to be enough, so that no third is tried
  third_repeated,   ///< the third slip of a run is the second once more
};

/// Compares every way, and so many pairs and sets of three, of every variant. What differs, in words.
struct SlipComparison { std::size_t ways = 0, pairs = 0, triples = 0, harms = 0, joint_harms = 0, threefold_harms = 0, given_up = 0; std::string differs; };
struct SlipRequest { std::size_t pairs = 0, triples = 0; std::uint64_t seed = 0; SlipFault fault = SlipFault::none; };
SlipComparison compare_slips(const model::Protocol& protocol, const SlipRequest& request);

}  // namespace stepward::oracle
