#include "reliability/importance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "reliability/bands.hpp"

namespace stepward::reliability {
namespace {

/// The harm's chance as it is, with the event certain, without it, and by the cut sets with the event only.
struct FourChances { double now = 0, always = 0, never = 0, by_its_sets = 0; };

double worth(double above, double below) {
  if (below > 0) return above / below;
  return above > 0 ? std::numeric_limits<double>::infinity() : 1.0;
}

Importance measures_of(EventId event, double q, const FourChances& chances) {
  Importance result{event, q};
  result.birnbaum = chances.always - chances.never;
  result.risk_achievement = worth(chances.always, chances.now);
  result.risk_reduction = worth(chances.now, chances.never);
  if (chances.now == 0) return result;
  result.criticality = result.birnbaum * q / chances.now;
  result.fussell_vesely_by_cut_sets = chances.by_its_sets / chances.now;
  result.diagnostic = q * result.risk_achievement;
  return result;
}

std::vector<std::vector<CutSet>> sets_by_event(const HarmTree& tree) {
  std::vector<std::vector<CutSet>> result(tree.chances.size());
  for (const CutSet& set : tree.cut_sets) {
    for (const EventId event : set) result[event.value].push_back(set);
  }
  return result;
}

/// The chance of the harm with one event set to something; only its own part of the diagram is swept anew.
class Settings {
 public:
  Settings(const DecisionDiagram& diagram, std::vector<double> chances) : diagram_(diagram), chances_(std::move(chances)) {
    for (const DecisionPart& part : diagram.parts) parts_.push_back(std::min(1.0, chance_of_part(part, chances_)));
  }

  double with(EventId event, double chance) {
    const double own = chances_[event.value];
    const std::uint32_t part = diagram_.part_of[event.value];
    chances_[event.value] = chance;
    const double changed = std::min(1.0, chance_of_part(diagram_.parts[part], chances_));
    chances_[event.value] = own;
    return any_of(part, changed);
  }

 private:
  double any_of(std::uint32_t except, double its_chance) const {
    double none = std::log1p(-its_chance);
    for (std::uint32_t p = 0; p < parts_.size(); ++p) {
      if (p != except) none += std::log1p(-parts_[p]);
    }
    return -std::expm1(none);
  }

  const DecisionDiagram& diagram_;
  std::vector<double> chances_;
  std::vector<double> parts_;
};

/// Two lines of equal weight must not be told apart by their sixteenth digit.
std::pair<double, double> rank_key(const Importance& row) {
  return {to_figures(row.risk_achievement, 9), to_figures(row.fussell_vesely_by_cut_sets, 9)};
}

}  // namespace

Answer<HarmImportance> importance_of(const HarmTree& tree, std::size_t most_nodes) {
  const Answer<DecisionDiagram> diagram = diagram_of(tree, most_nodes);
  if (const Refusal* no = refused(diagram)) return *no;
  HarmImportance result{chance_of_harm(*given(diagram), tree.chances), {}};
  if (given(diagram)->certain) return result;
  Settings settings(*given(diagram), tree.chances);
  const auto by_event = sets_by_event(tree);
  for (std::uint32_t i = 0; i < by_event.size(); ++i) {
    if (by_event[i].empty()) continue;
    const Answer<DecisionDiagram> own = diagram_of({tree.chances, by_event[i]}, most_nodes);
    if (const Refusal* no = refused(own)) return *no;
    const EventId event(i);
    result.events.push_back(measures_of(event, tree.chances[i],
                                        {result.chance, settings.with(event, 1), settings.with(event, 0),
                                         chance_of_harm(*given(own), tree.chances)}));
  }
  return result;
}

HarmImportance importance_by_rare_events(const HarmTree& tree) {
  HarmImportance result{rare_event_sum(tree), {}};
  const auto by_event = sets_by_event(tree);
  for (std::uint32_t i = 0; i < by_event.size(); ++i) {
    if (by_event[i].empty()) continue;
    HarmTree changed = tree;
    changed.chances[i] = 1;
    const double always = rare_event_sum(changed);
    changed.chances[i] = 0;
    const double never = rare_event_sum(changed);
    const double by_its_sets = rare_event_sum({tree.chances, by_event[i]});
    result.events.push_back(measures_of(EventId(i), tree.chances[i], {result.chance, always, never, by_its_sets}));
  }
  return result;
}

std::vector<EventId> ranked(const HarmImportance& importance) {
  std::vector<Importance> rows = importance.events;
  std::stable_sort(rows.begin(), rows.end(),
                   [](const Importance& one, const Importance& other) { return rank_key(one) > rank_key(other); });
  std::vector<EventId> events;
  for (const Importance& row : rows) events.push_back(row.event);
  return events;
}

}  // namespace stepward::reliability
