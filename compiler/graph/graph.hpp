#pragma once
// The step graph of one variant: where a run can stand, and what may come next.
//
// Calls are already expanded in the model; here `only for` is decided, choices are replaced and blocks are flattened
// into nodes. A node is either a *standing place* (an action line, or the end of its contact time), where an
// interruption may strike, or a *crossing* (question, loop test, ending, resume), which is passed at once.
// Loops keep a counter instead of being unrolled, so a node is a line of the source and the card can number it.
// Handlers of interruptions are separate pieces of the same graph; `resume` has no fixed successor.
//
// Two at once. Inside `together` a run stands between the next line of the one person and the next line of the other,
// and either may come first. Every such pair of positions is a node of its own: the first person's line, with the second
// person's beside it in `instead`. A line that stands beside another is no place where a run stands by itself.
//
// Papers and exports, which want every line once, get the lines in the order of the source, with the same number in
// `at_once` for all lines of one block: it is no order.
//
//     helper:  a  b          (a|x) → (b|x) → x            a|x: node of a, with a node of x beside it
//     wearer:  x               ↓       ↓      ↓
//                              a   →   b  →  what follows
//
// Contexts. From a handler that never resumes, a run does not come back to the lines it was called from. For the walk
// each such handler is therefore a context of its own, with its own copies of the handlers that may strike and resume
// inside it: what the main lines still wanted to know is then no longer carried along. Papers and exports want every
// line once and ask for one context.

#include <vector>

#include "model/protocol.hpp"

namespace stepward::graph {

struct NodeTag;
using NodeId = Id<NodeTag>;

enum class NodeKind : std::uint8_t {
  line,         ///< an action line
  contact_end,  ///< the end of the contact time of the disinfection before it
  question,
  loop_test,
  finish,
  resume,
  off_the_end,  ///< the last phase ended without `finish as`
  choice,       ///< which of several lines comes next is open; only in graph/open_order.hpp, which says what leads away
};

/// How a line is done. All but the first are slips (graph/slip_ways.hpp) and stand in no graph that papers are made of.
enum class Manner : std::uint8_t {
  as_written,
  cut_short,    ///< a disinfection and its contact_end, or a line that waits: its time is not kept
  clumsy,       ///< what may be brushed is brushed
  tearing,      ///< the doer's outermost glove tears, and nobody sees
  overlooking,  ///< the look numbered `look` misses what is there
  out_of_turn,  ///< it has changed places with that person's line in front of it, or with the one behind it
};

struct Arm {
  const model::Condition* condition = nullptr;  ///< none: otherwise
  source::Span span;
  NodeId target;
};

struct Node {
  NodeKind kind = NodeKind::line;
  model::LineId line;                 ///< line, contact_end
  std::vector<NodeId> instead;        ///< line, contact_end: what the other person may do first
  bool stands_beside = false;         ///< it is in some other node's `instead`
  NodeId struck_returns_to;           ///< where an interruption comes back to; none: here
  NodeId next;                        ///< line, contact_end: what follows; question: when no arm holds; loop_test: after the loop
  std::vector<Arm> arms;              ///< question
  const model::Condition* until = nullptr;  ///< loop_test
  NodeId body, fallback;              ///< loop_test
  std::uint32_t loop = 0;             ///< loop_test: which counter
  std::uint32_t at_most = 0;          ///< loop_test
  model::EndingId ending;             ///< finish
  model::InterruptionId handler;      ///< the interruption whose lines these are; none: the protocol's own
  model::PhaseId phase;               ///< none inside handlers
  model::BlockId in;                  ///< the block whose statement it is; none where no statement made it
  std::uint32_t at_once = 0;          ///< lines of one `together` share a number; 0: alone
  std::uint32_t context = 0;          ///< which of the graph's contexts the node stands in
  Manner manner = Manner::as_written; ///< line, contact_end
  std::uint8_t look = 0;              ///< overlooking: which look of the line
  source::Span span;
};

struct Graph {
  model::Variant variant;
  std::vector<Node> nodes;
  NodeId start;
  std::vector<NodeId> handler_start;  ///< per interruption, in context 0
  /// Where each interruption leads when it strikes in a context: [context][interruption].
  std::vector<std::vector<NodeId>> strikes_lead_to;
  std::uint32_t loops = 0;            ///< how many counters
  std::vector<std::uint32_t> loop_bounds;

  const Node& operator[](NodeId id) const { return nodes[id.value]; }
};

/// True where a run can stand and be interrupted.
inline bool is_standing(const Node& node) {
  return (node.kind == NodeKind::line || node.kind == NodeKind::contact_end) && !node.stands_beside;
}

}  // namespace stepward::graph
