#pragma once
// One variant with the order of some lines open, in the form that is walked.
//
// The lines stand around a choice (graph/open_order.hpp). Here the choice gets its ways, and each line a field that remembers whether it
// is done: a way leads to every line that is not done yet, and behind all once every line is. Behind them the lines are open again, for a
// run that comes here a second time. Whoever reads the walk knows the line that a way leads to by the answer of its label.

#include "effects/system.hpp"
#include "explore/packed.hpp"
#include "graph/open_order.hpp"
#include "model/protocol.hpp"

namespace stepward::order {

struct OpenVariant {
  graph::GraphWithChoices open;
  std::vector<std::vector<effects::FieldId>> done;  ///< by choice and line
  effects::System system;
  explore::Packed packed;
};

/// Errors cut a run; rules do where `protocol` does not have them as advice.
OpenVariant open_variant(const model::Protocol& protocol, const model::Variant& variant, const std::vector<graph::OpenRun>& runs);

/// The same system before it is simplified, for stories; edges, reports and causes have the same numbers in both.
effects::System open_as_lowered(const model::Protocol& protocol, const graph::GraphWithChoices& open);

}  // namespace stepward::order
