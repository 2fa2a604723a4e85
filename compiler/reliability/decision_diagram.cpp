#include "reliability/decision_diagram.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "reliability/event_order.hpp"

namespace stepward::reliability {
namespace {

constexpr std::uint32_t no_harm = 0, harm = 1;

/// What is open: reduced cut sets, each a sorted list of levels, the lists sorted.
using Open = std::vector<std::vector<std::uint32_t>>;

// ---- parts that share no event ----

std::uint32_t root_of(std::vector<std::uint32_t>& above, std::uint32_t at) {
  while (above[at] != at) at = above[at] = above[above[at]];
  return at;
}

/// The cut sets by part, in the order of their first appearance.
std::vector<std::vector<CutSet>> apart(const HarmTree& tree) {
  std::vector<std::uint32_t> above(tree.chances.size());
  std::iota(above.begin(), above.end(), 0u);
  for (const CutSet& set : tree.cut_sets) {
    for (const EventId event : set) above[root_of(above, event.value)] = root_of(above, set.front().value);
  }
  std::map<std::uint32_t, std::size_t> place;
  std::vector<std::vector<CutSet>> parts;
  for (const CutSet& set : tree.cut_sets) {
    const auto [it, is_new] = place.emplace(root_of(above, set.front().value), parts.size());
    if (is_new) parts.emplace_back();
    parts[it->second].push_back(set);
  }
  return parts;
}

// ---- one level after the other ----

/// Cut sets as levels, by the level at which each begins.
std::vector<Open> by_level(const std::vector<CutSet>& sets, const std::vector<EventId>& order) {
  std::map<EventId, std::uint32_t> level;
  for (std::uint32_t i = 0; i < order.size(); ++i) level[order[i]] = i;
  std::vector<Open> begins(order.size());
  for (const CutSet& set : sets) {
    std::vector<std::uint32_t> levels;
    for (const EventId event : set) levels.push_back(level[event]);
    std::sort(levels.begin(), levels.end());
    begins[levels.front()].push_back(levels);
  }
  return begins;
}

/// Smallest first, and without what is covered by another.
void tidy_up(Open& open) {
  std::sort(open.begin(), open.end(), [](const auto& one, const auto& other) {
    return one.size() != other.size() ? one.size() < other.size() : one < other;
  });
  Open kept;
  for (auto& set : open) {
    const bool covered = std::any_of(kept.begin(), kept.end(), [&](const auto& part) {
      return std::includes(set.begin(), set.end(), part.begin(), part.end());
    });
    if (!covered) kept.push_back(std::move(set));
  }
  open = std::move(kept);
}

/// What is open once the event of this level has happened; a cut set that is complete shows as an empty one.
Open after_it(const Open& open, const Open& beginning, std::uint32_t level) {
  Open next;
  for (const Open* from : {&open, &beginning}) {
    for (const auto& set : *from) {
      // Its levels are sorted and none has passed, so this one can only be the first.
      next.emplace_back(set.begin() + (set.front() == level ? 1 : 0), set.end());
    }
  }
  tidy_up(next);
  return next;
}

Open without_it(const Open& open, std::uint32_t level) {
  Open next;
  for (const auto& set : open) {
    if (set.front() != level) next.push_back(set);
  }
  return next;
}

/// The diagram from the top down, with positions that are counted from the top; it is turned over at the end.
class Growth {
 public:
  Growth(std::vector<Open> begins, std::size_t most) : begins_(std::move(begins)), most_(most) {
    last_begin_ = 0;
    for (std::uint32_t i = 0; i < begins_.size(); ++i) {
      if (!begins_[i].empty()) last_begin_ = i;
    }
  }

  /// False when it became too large.
  bool grow() {
    std::map<Open, std::uint32_t> here = {{Open{}, 2u}};
    nodes_.resize(3);
    for (std::uint32_t level = 0; level < begins_.size(); ++level) {
      std::map<Open, std::uint32_t> next;
      for (const auto& [open, at] : here) {
        const std::uint32_t happened = place(after_it(open, begins_[level], level), level + 1, next);
        const std::uint32_t did_not = place(without_it(open, level), level + 1, next);
        nodes_[at] = {level, happened, did_not};
        if (nodes_.size() > most_) return false;
      }
      here = std::move(next);
    }
    return true;
  }

  std::vector<DecisionNode> turned_over(const std::vector<EventId>& order) const {
    const auto last = static_cast<std::uint32_t>(nodes_.size() - 1);
    const auto turned = [&](std::uint32_t at) { return at <= harm ? at : last + 2 - at; };
    std::vector<DecisionNode> result(nodes_.size());
    for (std::uint32_t at = 2; at <= last; ++at)
      result[turned(at)] = {order[nodes_[at].event].value, turned(nodes_[at].happened), turned(nodes_[at].did_not)};
    return result;
  }

 private:
  std::uint32_t place(Open open, std::uint32_t level, std::map<Open, std::uint32_t>& next) {
    if (!open.empty() && open.front().empty()) return harm;
    if (open.empty() && level > last_begin_) return no_harm;
    const auto [it, is_new] = next.emplace(std::move(open), static_cast<std::uint32_t>(nodes_.size()));
    if (is_new) nodes_.emplace_back();
    return it->second;
  }

  std::vector<Open> begins_;
  std::size_t most_;
  std::uint32_t last_begin_ = 0;  ///< after this level no cut set begins
  std::vector<DecisionNode> nodes_;
};

std::optional<DecisionPart> part_from(const std::vector<CutSet>& sets, std::size_t most) {
  DecisionPart part;
  part.events = order_of_events(sets);
  Growth growth(by_level(sets, part.events), most);
  if (!growth.grow()) return std::nullopt;
  part.nodes = growth.turned_over(part.events);
  return part;
}

}  // namespace

Answer<DecisionDiagram> diagram_of(const HarmTree& tree, std::size_t most_nodes) {
  DecisionDiagram diagram;
  diagram.part_of.assign(tree.chances.size(), UINT32_MAX);
  diagram.certain = !tree.cut_sets.empty() && tree.cut_sets.front().empty();
  if (diagram.certain) return diagram;
  std::size_t left = most_nodes;
  for (const auto& sets : apart(tree)) {
    auto part = part_from(sets, left);
    if (!part) return Refusal{Why::too_large, "decision diagram", static_cast<double>(most_nodes)};
    left -= std::min(left, part->nodes.size());
    for (const EventId event : part->events) diagram.part_of[event.value] = static_cast<std::uint32_t>(diagram.parts.size());
    diagram.parts.push_back(std::move(*part));
  }
  return diagram;
}

double chance_of_part(const DecisionPart& part, const std::vector<double>& chances) {
  std::vector<double> below(part.nodes.size(), 0.0);
  below[harm] = 1;
  for (std::size_t at = 2; at < part.nodes.size(); ++at) {
    const DecisionNode& node = part.nodes[at];
    const double q = chances[node.event];
    below[at] = q * below[node.happened] + (1 - q) * below[node.did_not];
  }
  return below.back();
}

double chance_of_harm(const DecisionDiagram& diagram, const std::vector<double>& chances) {
  if (diagram.certain) return 1;
  double none = 0;
  for (const DecisionPart& part : diagram.parts) none += std::log1p(-std::min(1.0, chance_of_part(part, chances)));
  return -std::expm1(none);
}

}  // namespace stepward::reliability
