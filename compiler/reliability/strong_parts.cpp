#include "reliability/strong_parts.hpp"

#include <algorithm>

namespace stepward::reliability {
namespace {

constexpr std::uint32_t not_seen = UINT32_MAX;

class Search {
 public:
  explicit Search(const Successors& graph)
      : graph_(graph), seen_(graph.size(), not_seen), lowest_(graph.size(), 0), is_open_(graph.size(), false) {}

  std::vector<std::vector<std::uint32_t>> all() {
    for (std::uint32_t node = 0; node < graph_.size(); ++node) {
      if (seen_[node] == not_seen) from(node);
    }
    // Tarjan finishes a part only when all that it leads to is finished.
    std::reverse(parts_.begin(), parts_.end());
    return std::move(parts_);
  }

 private:
  struct Visit { std::uint32_t node; std::size_t next_arc; };

  void from(std::uint32_t start) {
    enter(start);
    while (!path_.empty()) {
      Visit& here = path_.back();
      const auto& arcs = graph_[here.node];
      if (here.next_arc < arcs.size()) {
        look_at(here.node, arcs[here.next_arc++]);
      } else {
        leave();
      }
    }
  }

  void enter(std::uint32_t node) {
    seen_[node] = lowest_[node] = count_++;
    open_.push_back(node);
    is_open_[node] = true;
    path_.push_back({node, 0});
  }

  void look_at(std::uint32_t from, std::uint32_t to) {
    if (seen_[to] == not_seen) {
      enter(to);
    } else if (is_open_[to]) {
      lowest_[from] = std::min(lowest_[from], seen_[to]);
    }
  }

  void leave() {
    const std::uint32_t node = path_.back().node;
    path_.pop_back();
    if (!path_.empty()) lowest_[path_.back().node] = std::min(lowest_[path_.back().node], lowest_[node]);
    if (lowest_[node] == seen_[node]) close(node);
  }

  void close(std::uint32_t first) {
    const auto start = std::find(open_.rbegin(), open_.rend(), first).base() - 1;
    parts_.emplace_back(start, open_.end());
    for (const std::uint32_t node : parts_.back()) is_open_[node] = false;
    open_.erase(start, open_.end());
  }

  const Successors& graph_;
  std::vector<std::uint32_t> seen_, lowest_;
  std::vector<bool> is_open_;
  std::vector<std::uint32_t> open_;
  std::vector<Visit> path_;
  std::vector<std::vector<std::uint32_t>> parts_;
  std::uint32_t count_ = 0;
};

}  // namespace

std::vector<std::vector<std::uint32_t>> strong_parts(const Successors& graph) { return Search(graph).all(); }

}  // namespace stepward::reliability
