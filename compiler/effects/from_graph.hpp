#pragma once
// Lowers a step graph to effects. Lines are in `lines`, looks in `looks`, what stands between lines here.

#include "effects/lines.hpp"

namespace stepward::effects {

/// The system under construction, with the world that names its fields: rules still have to be woven in.
struct Lowered {
  World world;
  System system;
};

/// `hold_back`: whether a run goes on after a finding with what it concerns held back, or is meant to be cut there.
Lowered from_graph(const model::Protocol& protocol, const graph::Graph& graph, HoldBack hold_back);

/// Hands the fields over, once nothing more is woven in. `reduce`: fields that no later operation can ask are put back
/// to their lowest value, so that states which differ only in them are one.
System finish(Lowered lowered, bool reduce);

}  // namespace stepward::effects
