#pragma once
// Flattens a protocol into the step graph of one variant.

#include "graph/graph.hpp"

namespace stepward::graph {

/// `one`: every line once. `apart`: handlers that never resume stand apart, with copies of the others inside.
enum class Contexts : bool { one, apart };

/// The graph keeps pointers to the conditions of `protocol`, which must outlive it.
Graph from_model(const model::Protocol& protocol, const model::Variant& variant, Contexts contexts = Contexts::one);

}  // namespace stepward::graph
