#pragma once
// A step of a finished walk, done anew: what the walk met on it and did not keep.
//
// A walk keeps of a report only the first run that meets it, and of a mark nothing. Whoever needs to know every step that
// passes one does those steps again: the state before a step is stored, and its operations give the same as before.

#include <algorithm>
#include <array>
#include <cstring>

#include "explore/walk.hpp"

namespace stepward::explore {

/// Calls `visit(edge, position in successors)` for the steps of the walk from `state`, in the order in which it took them.
template <typename Visit>
void each_step(const Packed& packed, const Result& result, std::uint32_t state, Visit visit) {
  const std::uint64_t* here = result.state(state);
  const PackedNode& node = packed.nodes[get(here, packed.node)];
  std::uint32_t k = state ? result.successor_ends[state - 1] : 0;
  const std::uint32_t end = result.successor_ends[state];
  for (const Range& edges : {node.edges, node.strikes})
    for (std::uint32_t e = edges.first; e < edges.last && k < end; ++e)
      if (holds(packed, packed.edges[e].guard, here)) visit(e, k++);
}

/// A state of a run, with room for the scratch fields of a step.
using RunRow = std::array<std::uint64_t, most_words + most_scratch_words>;

/// Does the step along `edge`, the crossings behind it included, to the state `row`, and calls `tell` for every operation that it passes, in order.
template <typename Tell>
void go_along(const Packed& packed, RunRow& row, std::uint32_t edge, Tell tell) {
  std::uint64_t* w = row.data();
  for (std::uint32_t next = edge; next != UINT32_MAX;) {
    const PackedEdge& e = packed.edges[next];
    operate(packed, e, w, tell);
    if (e.ends || e.goes_back != UINT32_MAX) return;  // an interruption comes back to where a run stands
    put(w, packed.node, e.target);
    const PackedNode& node = packed.nodes[e.target];
    next = node.standing ? UINT32_MAX : node.edges.first;
    while (next != UINT32_MAX && next < node.edges.last && !holds(packed, packed.edges[next].guard, w)) ++next;
    if (next == node.edges.last) return;
  }
}

/// Does the step along `edge` from `state` anew, the crossings behind it included, and calls `tell` for every report and
/// mark that it passes, in order.
template <typename Tell>
void redo(const Packed& packed, const std::uint64_t* state, std::uint32_t edge, Tell tell) {
  RunRow row;
  std::memcpy(row.data(), state, packed.words * 8);
  go_along(packed, row, edge, tell);
}

template <typename Tell>
void redo(const Packed& packed, const Result& result, std::uint32_t state, std::uint32_t edge, Tell tell) {
  redo(packed, result.state(state), edge, tell);
}

/// Whether the step along `edge` may pass a report or mark that `wanted` says yes to; its state is not looked at.
template <typename Wanted>
bool may_pass(const Packed& packed, std::uint32_t edge, Wanted wanted) {
  std::vector<std::uint32_t> open{edge}, seen;
  while (!open.empty()) {
    const PackedEdge& e = packed.edges[open.back()];
    open.pop_back();
    for (std::uint32_t i = e.ops.first; i < e.ops.last; ++i)
      if (wanted(packed.ops[i])) return true;
    const bool stands = e.target == UINT32_MAX || packed.nodes[e.target].standing;
    if (stands || std::find(seen.begin(), seen.end(), e.target) != seen.end()) continue;
    seen.push_back(e.target);
    for (std::uint32_t n = packed.nodes[e.target].edges.first; n < packed.nodes[e.target].edges.last; ++n) open.push_back(n);
  }
  return false;
}

}  // namespace stepward::explore
