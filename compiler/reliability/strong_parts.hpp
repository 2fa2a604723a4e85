#pragma once
// The strongly connected parts of a graph, in an order in which nothing leads back.
//
// Two nodes are of one part if each can be reached from the other; every loop lies within one part. Tarjan's algorithm, with its
// stack written out, since a procedure's graph may be as deep as the procedure is long.

#include <cstdint>
#include <vector>

namespace stepward::reliability {

/// For each node, where its arcs lead.
using Successors = std::vector<std::vector<std::uint32_t>>;

/// Every node in exactly one part; an arc leads within its part or to a later one.
std::vector<std::vector<std::uint32_t>> strong_parts(const Successors& graph);

}  // namespace stepward::reliability
