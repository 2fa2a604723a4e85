#include "check/stock_of_lines.hpp"

#include <algorithm>
#include <set>

#include "model/variants.hpp"

namespace stepward::check {
namespace {

using model::VerbKind;

constexpr std::uint32_t never = UINT32_MAX;  ///< no run comes here

bool handles_by_technique(VerbKind verb) {
  switch (verb) {
    case VerbKind::don:
    case VerbKind::doff:
    case VerbKind::test:
    case VerbKind::clean: return true;
    case VerbKind::disinfect:
    case VerbKind::inspect:
    case VerbKind::decide:
    case VerbKind::declare:
    case VerbKind::record:
    case VerbKind::report:
    case VerbKind::call:
    case VerbKind::take:
    case VerbKind::pass:
    case VerbKind::act:
    case VerbKind::move:
    case VerbKind::wait:
    case VerbKind::start_timer:
    case VerbKind::stop_timer: return false;
  }
  return false;
}

/// The techniques of a line, each once: a set that comes off together is one movement.
std::vector<model::TechniqueId> techniques_of(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line) {
  std::vector<model::TechniqueId> all;
  if (!handles_by_technique(line.verb)) return all;
  for (const model::Thing& thing : line.things) {
    const model::ItemId item = model::item_of(protocol, thing, variant);
    const model::TechniqueId technique = item ? model::technique_of(protocol, line, item) : line.technique;
    const bool known = line.together && std::find(all.begin(), all.end(), technique) != all.end();
    if (technique && !known) all.push_back(technique);
  }
  return all;
}

std::vector<graph::NodeId> after(const graph::Node& node) {
  std::vector<graph::NodeId> nodes{node.next, node.body, node.fallback};
  for (const graph::Arm& arm : node.arms) nodes.push_back(arm.target);
  nodes.erase(std::remove_if(nodes.begin(), nodes.end(), [](graph::NodeId id) { return !id; }), nodes.end());
  return nodes;
}

}  // namespace

Kept kept_of(const model::Protocol& protocol, const model::Thing& thing, const model::Variant& variant) {
  if (thing.what == model::Thing::What::supply) return {{}, thing.supply};
  return {model::item_of(protocol, thing, variant), {}};
}

LineStock::LineStock(const model::Protocol& protocol, const graph::Graph& graph) : protocol_(protocol), graph_(graph) {
  for (const graph::Node& node : graph_.nodes) note_things(node);
}

void LineStock::note(const Kept& thing) {
  const bool counted = thing.item || thing.supply;
  if (counted && std::find(things_.begin(), things_.end(), thing) == things_.end()) things_.push_back(thing);
}

void LineStock::note_things(const graph::Node& node) {
  if (node.kind != graph::NodeKind::line) return;
  const model::Line& line = protocol_[node.line];
  for (const model::TechniqueId technique : techniques_of(protocol_, graph_.variant, line)) {
    for (const model::UsesUp& use : protocol_[technique].uses_up) note({{}, use.supply});
  }
  if (line.verb != VerbKind::don && line.verb != VerbKind::take && line.verb != VerbKind::pass) return;
  for (const model::Thing& thing : line.things) note(kept_of(protocol_, thing, graph_.variant));
}

LineStock::Demand LineStock::demand_of(const graph::Node& node, const Kept& thing) const {
  Demand demand;
  if (node.kind != graph::NodeKind::line) return demand;
  const model::Line& line = protocol_[node.line];
  for (const model::TechniqueId technique : techniques_of(protocol_, graph_.variant, line)) {
    for (const model::UsesUp& use : protocol_[technique].uses_up) {
      if (thing == Kept{{}, use.supply}) demand.used_up += use.count;
    }
  }
  for (const model::Thing& each : line.things) {
    if (!(kept_of(protocol_, each, graph_.variant) == thing)) continue;
    if (line.verb == VerbKind::don) ++demand.put_on;
    if (line.verb == VerbKind::take) demand.taken += line.count;
    if (line.verb == VerbKind::pass) demand.passed += line.count;
  }
  return demand;
}

std::vector<std::uint32_t> LineStock::ready(const Kept& thing) const {
  std::vector<std::uint32_t> least(graph_.nodes.size(), never);
  std::vector<graph::NodeId> open;
  const auto lower = [&](graph::NodeId id, std::uint32_t to) {
    if (!id || least[id.value] <= to) return;
    least[id.value] = to;
    open.push_back(id);
  };
  // Where two work at once, a run that stands before the one's line stands before the other's as well.
  const auto come_to = [&](graph::NodeId id, std::uint32_t to) {
    lower(id, to);
    if (id) for (const graph::NodeId beside : graph_[id].instead) lower(beside, to);
  };
  come_to(graph_.start, 0);
  for (const auto& context : graph_.strikes_lead_to) {
    for (const graph::NodeId id : context) come_to(id, 0);
  }
  while (!open.empty()) {
    const graph::NodeId id = open.back();
    open.pop_back();
    const Demand demand = demand_of(graph_[id], thing);
    std::uint32_t left = std::max(least[id.value] + demand.taken, demand.passed);
    left -= std::min(left, demand.put_on);
    for (const graph::NodeId next : after(graph_[id])) come_to(next, left);
  }
  return least;
}

std::vector<std::uint32_t> LineStock::cost_by_node(const Kept& thing, const std::vector<bool>& reached) const {
  std::vector<std::uint32_t> cost(graph_.nodes.size(), 0);
  const std::vector<std::uint32_t> least = ready(thing);
  for (std::size_t n = 0; n < cost.size(); ++n) {
    const Demand demand = demand_of(graph_.nodes[n], thing);
    if (!demand.any() || !reached[n] || least[n] == never) continue;
    const std::uint32_t fresh = demand.passed > least[n] ? demand.passed - least[n] : 0;
    const std::uint32_t at_hand = std::max(least[n] + demand.taken, demand.passed);
    cost[n] = demand.used_up + demand.taken + fresh + (demand.put_on > at_hand ? demand.put_on - at_hand : 0);
  }
  return cost;
}

std::uint32_t LineStock::most_of(const Kept& thing, const std::vector<bool>& reached) const {
  if (!thing.item || !protocol_[thing.item].reusable) return UINT32_MAX;
  std::set<model::RoleId> wearers;
  std::uint32_t at_once = 0;
  for (std::size_t n = 0; n < graph_.nodes.size(); ++n) {
    const Demand demand = demand_of(graph_.nodes[n], thing);
    if (!reached[n] || !demand.any()) continue;
    if (demand.put_on > 0) wearers.insert(protocol_[graph_.nodes[n].line].of);
    at_once = std::max({at_once, demand.taken, demand.passed});
  }
  return std::max(at_once, static_cast<std::uint32_t>(wearers.size()));
}

}  // namespace stepward::check
