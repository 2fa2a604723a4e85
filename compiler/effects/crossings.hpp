#pragma once
// What stands between lines: questions, loop tests, endings, resumes, and the strike of an interruption.

#include "effects/program.hpp"

namespace stepward::effects {

/// The edges of a crossing, in the order they are tried.
std::vector<Edge> crossing(Program& program, graph::NodeId node);

/// What happens when an interruption strikes, wherever that is; its target is the caller's to set.
Edge strike(Program& program, model::InterruptionId interruption);

/// A bedside question as a formula; what asks of something unknown is reported into the current edge.
Formula question(World& world, const model::Condition& condition);

/// Whether a formula holds in the initial world.
bool holds_at_start(const Formula& formula, const std::vector<Field>& fields);

}  // namespace stepward::effects
