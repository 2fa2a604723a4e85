#include "emit/graph/taken.hpp"

#include <map>

#include "check/variant_check.hpp"
#include "emit/graph/node_ids.hpp"

namespace stepward::emit::step_graph {
namespace {

class Marker {
 public:
  Marker(VariantGraph& graph, const model::Protocol& protocol, const check::Prepared& walked) : graph_(graph), ids_(protocol), walked_(walked) {
    for (std::size_t e = 0; e < graph.edges.size(); ++e) leaving_[graph.edges[e].from].push_back(e);
    for (const Node& node : graph.nodes) at_once_[node.id] = node.at_once > 0;
  }

  std::vector<std::string> mark(const explore::Result& result) {
    for (Edge& edge : graph_.edges) edge.taken = Edge::Taken::never;
    take("start", EdgeKind::next, 0, node_id(walked_.graph.start));
    for (std::uint32_t n = 0; n < walked_.graph.nodes.size(); ++n) {
      const effects::Edges& edges = walked_.system.nodes[n];
      for (std::uint32_t k = 0; k < edges.count; ++k) {
        if (result.edge_taken[edges.first + k]) move(n, k, walked_.system.edges[edges.first + k]);
      }
    }
    for (std::size_t e = walked_.packed.first_strike; e < result.edge_taken.size(); ++e) {
      if (result.edge_taken[e]) strike(model::InterruptionId(walked_.packed.edges[e].strikes));
    }
    return std::move(strangers_);
  }

 private:
  /// Past the end of a contact time, which is part of its step.
  std::string node_id(graph::NodeId node) const {
    while (node && walked_.graph[node].kind == graph::NodeKind::contact_end) node = walked_.graph[node].next;
    return node ? ids_.of(walked_.graph[node]) : "";
  }

  void move(std::uint32_t at, std::uint32_t position, const effects::Edge& edge) {
    const graph::Node& node = walked_.graph[edge.by ? edge.by : graph::NodeId(at)];
    const bool inside_step = edge.target && walked_.graph[edge.target].kind == graph::NodeKind::contact_end && walked_.graph[edge.target].line == node.line;
    if (inside_step || !edge.target) return;
    switch (node.kind) {
      case graph::NodeKind::line:
      case graph::NodeKind::contact_end: take(ids_.of(node), EdgeKind::next, 0, node_id(edge.target)); break;
      case graph::NodeKind::question: answer(node, position, edge); break;
      case graph::NodeKind::loop_test: take(ids_.of(node), position == 0 ? EdgeKind::yes : position == 1 ? EdgeKind::given_up : EdgeKind::again, 0, node_id(edge.target)); break;
      case graph::NodeKind::finish:
      case graph::NodeKind::resume:
      case graph::NodeKind::off_the_end:
      case graph::NodeKind::choice: break;
    }
  }

  void answer(const graph::Node& node, std::uint32_t position, const effects::Edge& edge) {
    const bool has_condition = position < node.arms.size() && node.arms[position].condition;
    take(ids_.of(node), has_condition ? EdgeKind::yes : EdgeKind::otherwise, position + 1, node_id(edge.target));
  }

  void strike(model::InterruptionId interruption) {
    const std::string id = ids_.of(interruption);
    for (const std::size_t e : leaving_["start"]) {
      if (graph_.edges[e].to == id) graph_.edges[e].taken = Edge::Taken::by_some_run;
    }
    for (const std::size_t e : leaving_[id]) graph_.edges[e].taken = Edge::Taken::by_some_run;
  }

  /// `order` 0: whichever it is.
  void take(const std::string& from, EdgeKind kind, std::uint32_t order, const std::string& to) {
    for (const std::size_t e : leaving_[from]) {
      Edge& edge = graph_.edges[e];
      if (edge.kind != kind || (order > 0 && edge.order != order) || (edge.to != to && !at_once_[from])) continue;
      edge.taken = Edge::Taken::by_some_run;
      return;
    }
    strangers_.push_back(from + " → " + to);
  }

  VariantGraph& graph_;
  NodeIds ids_;
  const check::Prepared& walked_;
  std::map<std::string, std::vector<std::size_t>> leaving_;
  std::map<std::string, bool> at_once_;
  std::vector<std::string> strangers_;
};

}  // namespace

Walking mark_taken(VariantGraph& graph, const model::Protocol& protocol, const model::Variant& variant, const check::Options& options) {
  const check::Prepared prepared = check::prepare(protocol, variant, options);
  const check::Walked walked = check::first_walk(prepared, options);
  if (check::has_error(prepared, walked)) return {Walking::Came::to_errors, {}};
  if (!walked.result.complete) return {Walking::Came::to_the_limit, {}};
  return {Walking::Came::to_its_end, Marker(graph, protocol, prepared).mark(walked.result)};
}

}  // namespace stepward::emit::step_graph
