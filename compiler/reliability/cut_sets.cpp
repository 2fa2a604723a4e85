#include "reliability/cut_sets.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace stepward::reliability {
namespace {

double chance_of(const HarmTree& tree, const CutSet& set) {
  double product = 1;
  for (const EventId event : set) product *= tree.chances[event.value];
  return product;
}

bool is_part_of(const CutSet& part, const CutSet& whole) {
  return std::includes(whole.begin(), whole.end(), part.begin(), part.end());
}

CutSet in_order(CutSet set) {
  std::sort(set.begin(), set.end());
  set.erase(std::unique(set.begin(), set.end()), set.end());
  return set;
}

std::optional<Refusal> unless_sound(const HarmTree& tree) {
  for (std::size_t i = 0; i < tree.chances.size(); ++i) {
    if (auto no = unless_probability(tree.chances[i], std::to_string(i))) return no;
  }
  for (const CutSet& set : tree.cut_sets) {
    for (const EventId event : set) {
      if (event.value >= tree.chances.size()) return Refusal{Why::unknown_event, std::to_string(event.value)};
    }
  }
  return std::nullopt;
}

/// Smaller sets come first, so that only what is kept can be part of what follows. Of those that may be, only the ones that
/// share the first event of their own with the set have to be looked at.
std::vector<CutSet> without_supersets(const std::vector<CutSet>& sorted, std::size_t events) {
  std::vector<CutSet> kept;
  std::vector<std::vector<std::size_t>> by_first(events);
  for (const CutSet& set : sorted) {
    const bool covered = std::any_of(set.begin(), set.end(), [&](EventId event) {
      const auto& near = by_first[event.value];
      return std::any_of(near.begin(), near.end(), [&](std::size_t k) { return is_part_of(kept[k], set); });
    });
    if (covered) continue;
    if (set.empty()) return {set};
    by_first[set.front().value].push_back(kept.size());
    kept.push_back(set);
  }
  return kept;
}

double chance_of_both(const HarmTree& tree, const CutSet& one, const CutSet& other) {
  CutSet all;
  std::set_union(one.begin(), one.end(), other.begin(), other.end(), std::back_inserter(all));
  return chance_of(tree, all);
}

std::vector<CutSet> likeliest(const HarmTree& tree, std::size_t most) {
  std::vector<CutSet> sets = tree.cut_sets;
  std::stable_sort(sets.begin(), sets.end(),
                   [&](const CutSet& one, const CutSet& other) { return chance_of(tree, one) > chance_of(tree, other); });
  sets.resize(std::min(most, sets.size()));
  return sets;
}

}  // namespace

Answer<HarmTree> minimal(const HarmTree& tree) {
  if (const auto no = unless_sound(tree)) return *no;
  std::vector<CutSet> sorted;
  for (const CutSet& set : tree.cut_sets) sorted.push_back(in_order(set));
  std::sort(sorted.begin(), sorted.end(), [](const CutSet& one, const CutSet& other) {
    return one.size() != other.size() ? one.size() < other.size() : one < other;
  });
  return HarmTree{tree.chances, without_supersets(sorted, tree.chances.size())};
}

double rare_event_sum(const HarmTree& tree) {
  double sum = 0;
  for (const CutSet& set : tree.cut_sets) sum += chance_of(tree, set);
  return sum;
}

double rare_event_chance(const HarmTree& tree) { return std::min(1.0, rare_event_sum(tree)); }

double min_cut_upper_bound(const HarmTree& tree) {
  double none = 0;
  for (const CutSet& set : tree.cut_sets) none += std::log1p(-chance_of(tree, set));
  return -std::expm1(none);
}

double lower_bound(const HarmTree& tree) {
  const std::vector<CutSet> sets = likeliest(tree, compared_in_pairs);
  double sum = 0;
  for (std::size_t i = 0; i < sets.size(); ++i) {
    sum += chance_of(tree, sets[i]);
    for (std::size_t j = 0; j < i; ++j) sum -= chance_of_both(tree, sets[i], sets[j]);
  }
  return sets.empty() ? 0 : std::max(sum, chance_of(tree, sets.front()));
}

}  // namespace stepward::reliability
