#pragma once
// The lines of one variant at which one slip alone comes to harm, for whoever marks them on paper.
//
// The table of slips (table.hpp) brings all variants together and is told by the worst of them. A card is one variant's, so here
// each variant is asked by itself: goggles whose strap may swing into the face are no weak point of the card with the face shield.
// An answer of the author's changes nothing here; what somebody answers for can still go wrong at that line.

#include <map>
#include <set>

#include "slips/table.hpp"

namespace stepward::slips {

struct WeakPoint {
  std::set<graph::SlipKind> slips;               ///< each of them alone comes to harm before anything shows it
  Consequence worst = Consequence::left_open;
};

struct WeakPoints {
  std::map<model::LineId, WeakPoint> lines;      ///< every line that shares the number of such a step on the card
  bool complete = true;                          ///< false: a limit was reached, and there may be more
};

/// `number`: the variant's, in the order of `model::all_variants`. The protocol has no errors. Of `options`, `at_once` and `only_variant` do not count.
WeakPoints weak_points(const model::Protocol& protocol, std::size_t number, Options options);

}  // namespace stepward::slips
