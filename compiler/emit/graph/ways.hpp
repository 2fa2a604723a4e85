#pragma once
// What can be said of a step graph by its shape alone: how many ways lead through it, how long the longest is, and which
// nodes none can leave out.
//
// A way leads from the start along edges to an end, without going round a loop again and without an interruption; so it is
// no run: no run takes every combination of answers, and many runs are one way. Without those edges the graph has no
// cycle. A node is on every way to a normal ending if no edge leads past it: put the nodes that such ways use in an order in
// which every edge leads forward, and look for an edge that begins before a node and ends behind it.

#include "emit/graph/step_graph.hpp"

namespace stepward::emit::step_graph {

/// Fills `ways`, `longest` and every node's `on_every_way`.
void measure(VariantGraph& graph);

}  // namespace stepward::emit::step_graph
