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

/// The harms that runs with all of these ways taken come to, by report, each with the steps of a shortest run. A run is over where the
/// first report that weighs stops it or harms. `ways`: one or two, by number; `complete`: false past `most` states.
struct SlipHarms { std::map<std::uint32_t, std::uint32_t> steps; bool complete = true; };
SlipHarms brute_harms(const slips::SlippedSystem& made, const std::vector<std::uint32_t>& ways, std::size_t most);

/// Compares every way, and so many pairs of ways, of every variant. What differs, in words.
struct SlipComparison { std::size_t ways = 0, pairs = 0, harms = 0, joint_harms = 0, given_up = 0; std::string differs; };
SlipComparison compare_slips(const model::Protocol& protocol, std::size_t pairs, std::uint64_t seed);

}  // namespace stepward::oracle
