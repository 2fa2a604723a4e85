#pragma once
// How the situation came about in which two rules collide.
//
// A story is told backwards from a finding (explore/slice.hpp), and a situation is none. But two runs go on from it, each in an order that
// keeps one rule and breaks the other; what either breach asks of the past belongs to the story, as far as it lies before the situation.

#include "order/open_phase.hpp"

namespace stepward::order {

/// Without the last line, which says what it is told for. `advised`: the protocol that `variant` was opened from.
std::vector<diagnostics::StoryLine> story_of_situation(const model::Protocol& protocol, const model::Protocol& advised, const OpenVariant& variant,
                                                       const std::vector<BrokenRun>& runs);

}  // namespace stepward::order
