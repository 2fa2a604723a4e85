#include "graph/slip_ways.hpp"

#include <algorithm>
#include <optional>
#include <set>

#include "model/variants.hpp"

namespace stepward::graph {
namespace {

using V = model::VerbKind;

/// Further ahead nobody takes a line for the next one: the lines of others in between are passed over by ear.
constexpr std::size_t most_lines_between = 3;

bool is_pull(const model::Line& line) { return line.verb == V::doff || line.verb == V::don; }
bool has_technique_of_hands(const model::Line& line) { return is_pull(line) || line.verb == V::test; }

class WayMaker {
 public:
  WayMaker(const model::Protocol& protocol, Graph graph) : protocol_(protocol), out_{std::move(graph), {}} {}

  GraphWithSlips make() {
    const auto as_written = static_cast<std::uint32_t>(out_.graph.nodes.size());
    bind_acts(as_written);
    for (std::uint32_t n = 0; n < as_written; ++n) {
      if (!is_standing(out_.graph.nodes[n])) continue;
      const std::vector<NodeId> beside = out_.graph.nodes[n].instead;
      ways_from(NodeId(n), NodeId(n));
      for (NodeId other : beside) ways_from(NodeId(n), other);
    }
    return std::move(out_);
  }

 private:
  void ways_from(NodeId at, NodeId node) {
    if (out_.graph[node].kind != NodeKind::line) return;
    const model::Line& line = protocol_[out_.graph[node].line];
    const NodeId after = behind_line(out_.graph, node);
    const auto way = [&](SlipKind kind, NodeId to, std::uint8_t look = 0) { out_.ways.push_back({at, kind, node, look, to, {}}); };
    if (line.wait_contact_time) way(SlipKind::cut_short, copied(node, after, Manner::cut_short));
    else way(SlipKind::left_out, after);
    if (line.verb == V::disinfect && !line.without_waiting) way(SlipKind::cut_short, wetted_only(node, after));
    if (has_technique_of_hands(line)) way(SlipKind::clumsy, copied(node, after, Manner::clumsy));
    if (is_pull(line)) way(SlipKind::tears, copied(node, after, Manner::tearing));
    if (line.verb == V::inspect) overlook(node, line, after, way);
    if (const auto early = next_done_early(node)) out_.ways.push_back({at, SlipKind::done_early, early->first, 0, early->second, node});
  }

  template <typename Way>
  void overlook(NodeId node, const model::Line& line, NodeId after, Way way) {
    const std::size_t findings = line.findings.size();
    for (std::size_t look = 0; look < line.things.size() * findings; ++look) {
      if (protocol_[line.findings[look % findings]].means == model::FindingMeans::skin_showing) continue;
      const NodeId copy = copied(node, after, Manner::overlooking);
      out_.graph.nodes[copy.value].look = static_cast<std::uint8_t>(look);
      way(SlipKind::overlooked, copy, static_cast<std::uint8_t>(look));
    }
  }

  NodeId copied(NodeId node, NodeId next, Manner manner = Manner::as_written) {
    Node copy = out_.graph[node];
    copy.instead.clear();
    copy.stands_beside = false;
    copy.struck_returns_to = {};
    copy.next = next;
    copy.manner = manner;
    out_.graph.nodes.push_back(std::move(copy));
    return NodeId(out_.graph.nodes.size() - 1);
  }

  NodeId contact_end_of(NodeId node) const {
    const NodeId next = out_.graph[node].next;
    const Node& end = out_.graph[next];
    return end.kind == NodeKind::contact_end && end.line == out_.graph[node].line ? next : NodeId();
  }

  NodeId wetted_only(NodeId node, NodeId after) {
    const NodeId end = contact_end_of(node);
    return end ? copied(node, copied(end, after, Manner::cut_short), Manner::cut_short) : after;
  }

  /// The line with its contact time, before `next`.
  NodeId whole_copy(NodeId node, NodeId next, Manner manner = Manner::as_written) {
    const NodeId end = contact_end_of(node);
    if (!end) return copied(node, next, manner);
    const NodeId late = copied(end, next, manner), first = copied(node, late, manner);
    out_.graph.nodes[late.value].struck_returns_to = first;
    return first;
  }

  /// That person's next line, and the way on which it is done first and this one in its place.
  std::optional<std::pair<NodeId, NodeId>> next_done_early(NodeId node) {
    const model::RoleId who = protocol_[out_.graph[node].line].who;
    if (out_.graph[node].at_once != 0) return std::nullopt;
    std::vector<NodeId> between;
    NodeId next = behind_line(out_.graph, node);
    for (; between.size() <= most_lines_between; next = behind_line(out_.graph, next)) {
      const Node& n = out_.graph[next];
      if (n.kind != NodeKind::line || n.at_once != 0) return std::nullopt;
      if (protocol_[n.line].who == who) break;
      between.push_back(next);
    }
    if (between.size() > most_lines_between || are_bound(node, next)) return std::nullopt;
    NodeId chain = whole_copy(next, whole_copy(node, behind_line(out_.graph, next), Manner::out_of_turn), Manner::out_of_turn);
    for (auto other = between.rbegin(); other != between.rend(); ++other) chain = whole_copy(*other, chain);
    return std::pair(next, chain);
  }

  const model::Line& line_at(NodeId node) const { return protocol_[out_.graph[node].line]; }

  /// Whether the second cannot come before the first: it is done with what the first fetches, or both are.
  bool are_bound(NodeId first, NodeId second) const {
    const model::Line& before = line_at(first);
    const model::Line& line = line_at(second);
    if (before.verb == V::take || before.verb == V::pass)
      return line.verb == V::act || std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) { return is_same(t, before.things.front()); });
    return bound_.count(first.value) != 0 && bound_.count(second.value) != 0;
  }

  bool is_same(const model::Thing& a, const model::Thing& b) const {
    const model::ItemId item = model::item_of(protocol_, a, out_.graph.variant);
    return item && item == model::item_of(protocol_, b, out_.graph.variant);
  }

  // Of an act the model knows no more than what is touched. What a person fetches, the acts right behind it use and put away, in this order.
  void bind_acts(std::uint32_t as_written) {
    for (std::uint32_t n = 0; n < as_written; ++n) {
      const Node& fetch = out_.graph.nodes[n];
      if (fetch.kind != NodeKind::line || protocol_[fetch.line].verb != V::take) continue;
      const model::RoleId who = protocol_[fetch.line].who;
      for (NodeId next = behind_line(out_.graph, NodeId(n)); is_act_of(next, who); next = behind_line(out_.graph, next)) bound_.insert(next.value);
    }
  }

  bool is_act_of(NodeId node, model::RoleId who) const {
    return out_.graph[node].kind == NodeKind::line && line_at(node).verb == V::act && line_at(node).who == who;
  }

  const model::Protocol& protocol_;
  GraphWithSlips out_;
  std::set<std::uint32_t> bound_;  ///< nodes of acts done with what was fetched right before them
};

}  // namespace

NodeId behind_line(const Graph& graph, NodeId node) {
  const Node& next = graph[graph[node].next];
  return next.kind == NodeKind::contact_end && next.line == graph[node].line ? next.next : graph[node].next;
}

GraphWithSlips with_slips(const model::Protocol& protocol, Graph graph) { return WayMaker(protocol, std::move(graph)).make(); }

}  // namespace stepward::graph
