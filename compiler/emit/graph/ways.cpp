#include "emit/graph/ways.hpp"

#include <algorithm>
#include <map>

namespace stepward::emit::step_graph {
namespace {

class Measurer {
 public:
  explicit Measurer(VariantGraph& graph) : graph_(graph), next_(graph.nodes.size()), waiting_(graph.nodes.size(), 0) {
    std::map<std::string, std::size_t> position;
    for (std::size_t n = 0; n < graph.nodes.size(); ++n) position[graph.nodes[n].id] = n;
    for (const Edge& edge : graph.edges) {
      if (edge.kind == EdgeKind::again || edge.kind == EdgeKind::strikes) continue;
      const std::size_t from = position.at(edge.from), to = position.at(edge.to);
      next_[from].push_back(to);
      ++waiting_[to];
    }
  }

  void measure() {
    put_in_order();
    count();
    find_unavoidable();
  }

 private:
  /// Each node behind all that lead to it. What only an interruption leads to begins an order of its own.
  void put_in_order() {
    std::vector<std::size_t> open;
    for (std::size_t n = graph_.nodes.size(); n-- > 0;) {
      if (waiting_[n] == 0) open.push_back(n);
    }
    while (!open.empty()) {
      const std::size_t n = open.back();
      open.pop_back();
      order_.push_back(n);
      for (const std::size_t to : next_[n]) {
        if (--waiting_[to] == 0) open.push_back(to);
      }
    }
  }

  void count() {
    std::vector<double> ways(graph_.nodes.size(), 0);
    std::vector<std::uint32_t> longest(graph_.nodes.size(), 0);
    reaches_.assign(graph_.nodes.size(), false);
    for (auto n = order_.rbegin(); n != order_.rend(); ++n) {
      const Node& node = graph_.nodes[*n];
      if (next_[*n].empty()) ways[*n] = 1;
      reaches_[*n] = node.kind == NodeKind::ending && node.normal_ending;
      for (const std::size_t to : next_[*n]) {
        ways[*n] += ways[to];
        longest[*n] = std::max(longest[*n], longest[to]);
        if (reaches_[to]) reaches_[*n] = true;
      }
      if (node.kind == NodeKind::step) ++longest[*n];
    }
    graph_.ways = ways.front();
    graph_.longest = longest.front();
  }

  void find_unavoidable() {
    std::vector<std::size_t> place(graph_.nodes.size());
    for (std::size_t i = 0; i < order_.size(); ++i) place[order_[i]] = i;
    std::vector<bool> used(graph_.nodes.size(), false);
    used[0] = reaches_[0];
    // Where the edges that began so far lead to at the farthest; an ending that is reached at one place is another end at the next.
    std::size_t farthest = 0;
    for (const std::size_t n : order_) {
      if (!used[n]) continue;
      graph_.nodes[n].on_every_way = farthest <= place[n];
      for (const std::size_t to : next_[n]) {
        if (!reaches_[to]) continue;
        used[to] = true;
        farthest = std::max(farthest, place[to]);
      }
      if (next_[n].empty()) farthest = order_.size();
    }
    drop_if_several_ends(used);
  }

  /// Of several normal endings none is on every way.
  void drop_if_several_ends(const std::vector<bool>& used) {
    std::size_t ends = 0;
    for (std::size_t n = 0; n < graph_.nodes.size(); ++n) ends += used[n] && next_[n].empty() ? 1 : 0;
    if (ends < 2) return;
    for (std::size_t n = 0; n < graph_.nodes.size(); ++n) {
      if (next_[n].empty()) graph_.nodes[n].on_every_way = false;
    }
  }

  VariantGraph& graph_;
  std::vector<std::vector<std::size_t>> next_;
  std::vector<std::size_t> waiting_;
  std::vector<std::size_t> order_;
  std::vector<bool> reaches_;  ///< a normal ending
};

}  // namespace

void measure(VariantGraph& graph) {
  if (!graph.nodes.empty()) Measurer(graph).measure();
}

}  // namespace stepward::emit::step_graph
