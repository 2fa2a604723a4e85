#pragma once
// What leads to harm, as sets of events of which all have to happen.
//
// A *cut set* is a set of slips that together reach a harm; it is minimal when no part of it does. {a} is a single point of
// weakness, {a, b} needs both. The walk finds them; here they are only numbers. Events are independent, each with its chance.
//
// Three numbers for the chance of the harm, from crude to exact:
//   * the *rare-event sum* adds the chances of the cut sets. It can pass 1 and is then cut off there;
//   * the *min-cut upper bound*, 1 - product of (1 - chance of a cut set): never below the truth for independent events;
//   * the exact chance, by a decision diagram (decision_diagram.hpp), at most as large as the bound.
// and from below, the largest chance of any one cut set, and the sum less what pairs have in common (Bonferroni).
//
// Worked example (a published test case of a general risk library): harm if (p1 or v1) and (p2 or v2), with 0.6, 0.4, 0.7, 0.5.
// Cut sets p1 p2, p1 v2, v1 p2, v1 v2. Sum 1.2, so 1; bound 0.766144; exact 0.646.
//
// Owned by whoever asked. An event is known by its position in the list of chances.

#include <vector>

#include "base/id.hpp"
#include "reliability/answer.hpp"

namespace stepward::reliability {

struct EventTag;
using EventId = Id<EventTag>;

/// Sorted by id, none twice. The empty set means that the harm is certain.
using CutSet = std::vector<EventId>;

struct HarmTree {
  std::vector<double> chances;    ///< of each event
  std::vector<CutSet> cut_sets;   ///< any one of them is enough; none: the harm cannot happen
};

/// The tree with its cut sets sorted, by size first, and only the minimal ones left. Why::outside_0_to_1, Why::unknown_event.
Answer<HarmTree> minimal(const HarmTree& tree);

/// What follows takes a tree that came out of `minimal`.

/// Not cut off at 1: what importance measures of the rare-event form are made from.
double rare_event_sum(const HarmTree& tree);
/// At most 1.
double rare_event_chance(const HarmTree& tree);
double min_cut_upper_bound(const HarmTree& tree);
/// How many cut sets `lower_bound` holds against each other; those left out can only raise the chance.
constexpr std::size_t compared_in_pairs = 1000;
/// The larger of the likeliest cut set and the sum less what pairs have in common, over the likeliest cut sets.
double lower_bound(const HarmTree& tree);

}  // namespace stepward::reliability
