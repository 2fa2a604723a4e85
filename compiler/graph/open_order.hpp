#pragma once
// The step graph of one variant with the order of some lines left open.
//
// A *run* is some statements that follow each other in a block. Where its order is open, they stand around a *choice*, and each of
// them leads back to it:
//
//     written       a → b → c → what follows
//     left open          ┌→ a ─┐
//                   choice→ b ─┤→ choice          and from the choice, once all three are done, to what follows
//                        └→ c ─┘
//
// The graph says where the statements begin; that each is done once is no matter of places but of memory, so whoever lowers such a
// graph adds the ways that leave a choice, with a field for each statement (order/open_walk.hpp). So one walk holds every order, and
// whatever two orders have in common is walked once. Papers, exports and verdicts never see such a graph.

#include "graph/graph.hpp"

namespace stepward::graph {

/// Statements `first` … `first + count` of a block.
struct OpenRun {
  model::BlockId block;
  std::uint32_t first = 0, count = 0;
};

/// A place where a run of the protocol is at liberty. One run of statements may have several: handlers stand in several contexts.
struct Choice {
  NodeId node;
  std::uint32_t run = 0;          ///< by position in what was asked for
  std::vector<NodeId> begins;     ///< by statement; the choice itself: this variant does not have it
  NodeId after;                   ///< what follows when all are done
};

struct GraphWithChoices {
  Graph graph;
  std::vector<Choice> choices;
};

/// No two runs overlap. Contexts are apart, so that a place is a place of a run.
GraphWithChoices with_open_order(const model::Protocol& protocol, const model::Variant& variant, const std::vector<OpenRun>& open);

}  // namespace stepward::graph
