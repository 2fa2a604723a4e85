#pragma once
// In which order a decision diagram asks for events.
//
// After some questions, what still matters of the answers are those of *pending* events: events that were asked for and share a
// cut set with one that was not. The diagram cannot become wider than two to the power of how many are pending, so an order is
// good when few ever are. Finding the best is hard; two are made and the better one is taken:
//
//   * the order in which events are numbered, which for the lines of a procedure is that of the procedure: what fails together
//     mostly stands together;
//   * greedily, the event after which the fewest are pending, among equals the one in the most cut sets that have begun, then in the most.
//
// Worked example: cut sets a z, b z, c z. Numbered: a, b, c are pending until z comes: 3. Greedily: z first, then one answer is pending
// to the end.

#include <vector>

#include "reliability/cut_sets.hpp"

namespace stepward::reliability {

/// Every event of the cut sets once.
std::vector<EventId> order_of_events(const std::vector<CutSet>& sets);

/// The most events that are ever pending.
std::size_t most_pending(const std::vector<CutSet>& sets, const std::vector<EventId>& order);

}  // namespace stepward::reliability
