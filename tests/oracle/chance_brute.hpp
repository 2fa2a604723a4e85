#pragma once
// Chances of harm by brute force: every run with every slip, in plain recursion over states that are never made one.
//
// It shares with the compiler what a slip is and how an edge changes a state, and nothing of the graph that chances are reckoned on: states are kept
// whole in a map, nothing is forgotten of them, and what a turn is worth is asked of what follows it.

#include <array>
#include <optional>

#include "slips/harm_graph.hpp"

namespace stepward::oracle {

/// None past `most` states with the slips made so far. The chances fit: those of one line are 1 together at most.
std::optional<slips::HarmBounds> brute_bounds(const slips::SlippedSystem& made, const std::vector<slips::Consequence>& kinds, const std::vector<slips::WayChance>& ways, std::size_t most);

}  // namespace stepward::oracle
