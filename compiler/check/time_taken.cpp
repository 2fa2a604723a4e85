#include "check/time_taken.hpp"

#include <algorithm>
#include <cstring>
#include <map>

#include "check/clocks.hpp"
#include "explore/redo.hpp"

namespace stepward::check {
namespace {

constexpr std::uint32_t none = UINT32_MAX;

/// What is still before a run at one state, itself included.
struct Left {
  bool reaches = false;  ///< the ending asked about
  std::uint64_t least_seconds = UINT64_MAX, most_seconds = 0;
  std::uint32_t fewest_lines = UINT32_MAX, most_lines = 0;

  void may_be(const Left& other) {
    if (!other.reaches) return;
    reaches = true;
    least_seconds = std::min(least_seconds, other.least_seconds);
    most_seconds = std::max(most_seconds, other.most_seconds);
    fewest_lines = std::min(fewest_lines, other.fewest_lines);
    most_lines = std::max(most_lines, other.most_lines);
  }
  void add(std::uint64_t seconds, std::uint32_t lines) {
    if (!reaches) return;
    least_seconds += seconds;
    most_seconds += seconds;
    fewest_lines += lines;
    most_lines += lines;
  }
};

constexpr Left nothing_left{true, 0, 0, 0, 0};

class LengthReader {
 public:
  LengthReader(const QuietWalk& walk, const model::Protocol& protocol)
      : walk_(walk), result_(walk.result), order_(explore::in_order(walk.result)), times_(line_times(protocol, walk.graph)) {
    for (std::uint32_t s = 0; s < result_.size(); ++s) note_endings(s);
  }

  std::vector<RunLengths> read() const {
    std::vector<RunLengths> all;
    if (order_.size() < result_.size() || result_.size() == 0) return all;
    std::map<std::uint32_t, bool> endings;  // by id, the one that is none last
    for (const auto& [step, ending] : ending_of_) endings[ending] = true;
    for (const auto& [ending, is_reached] : endings) {
      const Left left = left_to(ending);
      all.push_back({ending == none ? model::EndingId() : model::EndingId(ending), left.least_seconds, left.most_seconds, left.fewest_lines, left.most_lines});
    }
    return all;
  }

 private:
  void note_endings(std::uint32_t state) {
    explore::each_step(walk_.packed, result_, state, [&](std::uint32_t edge, std::uint32_t step) {
      if (result_.successors[step] == none) ending_of_[step] = ending_behind(state, edge);
    });
  }

  /// The ending that a run comes to which is over with this step.
  std::uint32_t ending_behind(std::uint32_t state, std::uint32_t edge) const {
    const explore::Packed& packed = walk_.packed;
    std::uint64_t w[explore::most_words + explore::most_scratch_words];
    std::memcpy(w, result_.state(state), packed.words * 8);
    for (std::uint32_t next = edge; next != none;) {
      const explore::PackedEdge& e = packed.edges[next];
      explore::operate(packed, e, w, [](const explore::PackedOp&) {});
      if (e.ends || e.target == none) return ending_at(walk_.system.edges[next].by);
      const explore::PackedNode& node = packed.nodes[e.target];
      next = node.edges.first;
      while (next < node.edges.last && !explore::holds(packed, packed.edges[next].guard, w)) ++next;
      if (node.standing || next == node.edges.last) return none;
    }
    return none;
  }

  std::uint32_t ending_at(graph::NodeId node) const {
    return node && walk_.graph[node].ending ? walk_.graph[node].ending.value : none;
  }

  Left left_to(std::uint32_t ending) const {
    std::vector<Left> left(result_.size());
    for (auto s = order_.rbegin(); s != order_.rend(); ++s) {
      const std::uint32_t first = *s ? result_.successor_ends[*s - 1] : 0;
      for (std::uint32_t k = first; k < result_.successor_ends[*s]; ++k) {
        if (result_.successors[k] != none) left[*s].may_be(left[result_.successors[k]]);
        else if (ending_of_.at(k) == ending) left[*s].may_be(nothing_left);
      }
      const std::uint32_t node = explore::get(result_.state(*s), walk_.packed.node);
      left[*s].add(times_[node].least, walk_.graph.nodes[node].kind == graph::NodeKind::line ? 1 : 0);
    }
    return left[0];
  }

  const QuietWalk& walk_;
  const explore::Result& result_;
  std::vector<std::uint32_t> order_;
  std::vector<explore::LineTime> times_;
  std::map<std::uint32_t, std::uint32_t> ending_of_;  ///< by step that ends a run: the ending's id
};

}  // namespace

std::vector<RunLengths> run_lengths(const QuietWalk& walk, const model::Protocol& protocol) {
  return walk.is_complete() ? LengthReader(walk, protocol).read() : std::vector<RunLengths>();
}

}  // namespace stepward::check
