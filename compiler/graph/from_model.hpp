#pragma once
// Flattens a protocol into the step graph of one variant.

#include "graph/graph.hpp"

namespace stepward::graph {

/// The graph keeps pointers to the conditions of `protocol`, which must outlive it.
Graph from_model(const model::Protocol& protocol, const model::Variant& variant);

}  // namespace stepward::graph
