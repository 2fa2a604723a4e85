#pragma once
// The ways that a run may go when somebody slips at a line.
//
// A slip is a fault at one line. It is drawn into the step graph: a *way* leads from the place where a run stands before
// the line to copies of that line and its neighbours, done in another manner or another order, and from the last copy
// back to where the line leads. So nothing behind the graph has to know what a slip is: a copy is lowered, woven and
// walked like any line.
//
//     as written         disinfect · wait · take off apron · …
//     left out           ─────────────────→ take off apron
//     done early         take off apron' · disinfect' · wait' ───→ …
//     cut short          disinfect' · (no time) ─→ take off apron
//
// Kinds, with the guide word of IEC 61882 that each stands for (from memory):
//
//   left out     the line is not done                                             no
//   done early   it and that person's line before it change places, behind the
//                lines of others between them; not where it is done with what that
//                line fetches, nor where both are acts with what was fetched       before, after
//   cut short    its contact time is not kept, so it disinfects nothing           less, part of
//   clumsy       what its technique `may brush` meets; where nothing is said so,
//                the doer's hands meet the outside of what they handle            as well as
//   tears        the doer's outermost glove tears under the pull, and nobody sees other than
//   overlooked   the look misses what is there                                    no, other than
//
// A way has no guard: whoever walks such a graph decides how many ways a run may take.

#include <cstdint>
#include <string_view>
#include <vector>

#include "graph/graph.hpp"

namespace stepward::graph {

using model::SlipKind;

struct SlipWay {
  NodeId at;                 ///< where a run stands
  SlipKind kind = SlipKind::left_out;
  NodeId slipped;            ///< whose line is not done as written
  std::uint8_t look = 0;     ///< overlooked: which of the line's looks, thing by thing and finding by finding
  NodeId leads_to;
  NodeId before;             ///< done_early: whose line it is done before
};

struct GraphWithSlips {
  Graph graph;               ///< with the copies behind all nodes of the graph that was given
  std::vector<SlipWay> ways; ///< in the order of the places they leave
};

/// Every way that a line of `graph` offers. The graph is one with contexts apart, so that a place is a place of a run.
GraphWithSlips with_slips(const model::Protocol& protocol, Graph graph);

/// Where a run goes on that leaves out the line at this node: behind its contact time, too.
NodeId behind_line(const Graph& graph, NodeId node);

}  // namespace stepward::graph
