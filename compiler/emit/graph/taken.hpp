#pragma once
// Which ways of a step graph some run takes, and that runs take no others.
//
// The walk goes through the same lines with more in mind: contact times have an end of their own, loops a counter, and the
// lines of an interruption that never comes back stand there several times. Every move of it is looked for here among the
// edges of the step graph: what is found marks its edge, what is not would be a run that is no path of the graph.
// Where two people act at once, the graph has their lines in the order of the source, while runs mix them; there an edge
// counts as taken when its line is done.

#include "check/verdict.hpp"
#include "emit/graph/step_graph.hpp"

namespace stepward::emit::step_graph {

struct Walking {
  enum class Came : std::uint8_t { to_its_end, to_errors, to_the_limit } came = Came::to_its_end;
  std::vector<std::string> strangers;  ///< moves of the walk that are no edge, "from → to"; none unless this program is at fault
};

/// Walks the variant that `graph` was made of and says of each edge whether some run takes it. Of a walk that finds errors or
/// comes to its limit nothing can be said: then no edge is marked.
Walking mark_taken(VariantGraph& graph, const model::Protocol& protocol, const model::Variant& variant, const check::Options& options);

}  // namespace stepward::emit::step_graph
