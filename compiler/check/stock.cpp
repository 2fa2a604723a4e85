#include "check/stock.hpp"

#include <algorithm>

#include "check/stock_of_lines.hpp"
#include "explore/redo.hpp"
#include "model/variants.hpp"

namespace stepward::check {
namespace {

using explore::Packed;
using explore::Result;

constexpr std::uint32_t over = UINT32_MAX;  ///< in a list of successors: the run ends

/// Adds up over runs what their lines use. Costs are by node of the graph.
class Sums {
 public:
  Sums(const effects::System& system, const Packed& packed, const Result& walk) : walk_(walk), order_(explore::in_order(walk)) {
    done_.reserve(walk.successors.size());
    for (std::uint32_t s = 0; s < walk.size(); ++s)
      explore::each_step(packed, walk, s, [&](std::uint32_t e, std::uint32_t) {
        done_.push_back(e < packed.first_strike ? system.edges[e].by.value : nothing);  // it strikes before the line is done
      });
  }

  /// The most that a run from the start uses.
  std::uint32_t most(const std::vector<std::uint32_t>& cost) {
    from_here_.assign(walk_.size(), 0);
    for (std::size_t i = order_.size(); i-- > 0;) {
      const std::uint32_t s = order_[i];
      for (std::uint32_t k = begin_of(s); k < walk_.successor_ends[s]; ++k) from_here_[s] = std::max(from_here_[s], by(k, cost));
    }
    return walk_.size() > 0 ? from_here_[0] : 0;
  }

  /// The nodes that use something on the run that `most` found, in its order.
  std::vector<std::uint32_t> run(const std::vector<std::uint32_t>& cost) const {
    std::vector<std::uint32_t> nodes;
    for (std::uint32_t s = 0; s != over && from_here_[s] > 0;) {
      std::uint32_t k = begin_of(s);
      while (by(k, cost) != from_here_[s]) ++k;
      if (own(k, cost) > 0) nodes.push_back(done_[k]);
      s = walk_.successors[k];
    }
    return nodes;
  }

 private:
  static constexpr std::uint32_t nothing = UINT32_MAX;

  std::uint32_t begin_of(std::uint32_t s) const { return s ? walk_.successor_ends[s - 1] : 0; }

  /// What the `k`th step of the walk uses, and what is used from a state on by it.
  std::uint32_t own(std::uint32_t k, const std::vector<std::uint32_t>& cost) const { return done_[k] == nothing ? 0 : cost[done_[k]]; }
  std::uint32_t by(std::uint32_t k, const std::vector<std::uint32_t>& cost) const {
    const std::uint32_t to = walk_.successors[k];
    return own(k, cost) + (to == over ? 0 : from_here_[to]);
  }

  const Result& walk_;
  std::vector<std::uint32_t> order_;
  std::vector<std::uint32_t> done_;       ///< by step of the walk: the node whose line is done
  std::vector<std::uint32_t> from_here_;  ///< by state, of the thing that was asked for last
};

std::vector<StockUse> uses_of(const graph::Graph& graph, const std::vector<std::uint32_t>& nodes, const std::vector<std::uint32_t>& cost) {
  std::vector<StockUse> uses;
  for (const std::uint32_t node : nodes) {
    const model::LineId line = graph.nodes[node].line;
    const auto known = std::find_if(uses.begin(), uses.end(), [&](const StockUse& use) { return use.line == line && use.count == cost[node]; });
    if (known != uses.end()) ++known->times;
    else uses.push_back({line, cost[node], 1});
  }
  return uses;
}

/// Bins hold what drops into them; how much, is not counted.
bool is_bin(const model::Protocol& protocol, const Kept& thing) {
  return thing.supply && std::any_of(protocol.techniques.begin(), protocol.techniques.end(), [&](const model::Technique& technique) {
    return technique.drops_into == protocol[thing.supply].name;
  });
}

void note_listed(const model::Protocol& protocol, const model::Variant& variant, std::vector<StockNeed>& needs) {
  for (const model::StockLine& line : protocol.stock) {
    const Kept thing = kept_of(protocol, line.thing, variant);
    const bool is_counted = (thing.item || thing.supply) && !is_bin(protocol, thing);
    if (!is_counted) continue;  // a fixture is there or not
    auto need = std::find_if(needs.begin(), needs.end(), [&](const StockNeed& each) { return each.thing == thing; });
    if (need == needs.end()) need = needs.insert(needs.end(), StockNeed{thing, 0, false, 0, {}, {}});
    if (!need->listed) need->at = line.span;
    need->listed = true;
    need->given += line.count;
  }
}

}  // namespace

std::string kept_name(const model::Protocol& protocol, const Kept& thing) {
  return thing.item ? protocol[thing.item].name : protocol[thing.supply].name;
}

std::string kept_unit(const model::Protocol& protocol, const Kept& thing) {
  std::string unit = thing.item ? "" : protocol[thing.supply].counted_by;
  if (thing.item) {
    for (const model::KindId kind : protocol[thing.item].kinds) {
      if (unit.empty()) unit = protocol[kind].counted_by;
    }
  }
  return unit == "each" ? "" : unit;
}

std::vector<StockNeed> stock_needs(const model::Protocol& protocol, const graph::Graph& graph, const effects::System& system, const Packed& packed,
                                   const Result& result) {
  std::vector<StockNeed> needs;
  note_listed(protocol, graph.variant, needs);
  const LineStock lines(protocol, graph);
  if (lines.things().empty()) return needs;
  Sums sums(system, packed, result);
  std::vector<bool> reached = result.node_reached;
  reached[graph.start.value] = true;  // no step leads to where a run begins
  for (const graph::Node& node : graph.nodes)
    for (const graph::NodeId beside : node.instead) reached[beside.value] = true;  // nor to a line that stands beside another
  for (const Kept& thing : lines.things()) {
    auto need = std::find_if(needs.begin(), needs.end(), [&](const StockNeed& each) { return each.thing == thing; });
    if (need == needs.end()) need = needs.insert(needs.end(), StockNeed{thing, 0, false, 0, {}, {}});
    const std::vector<std::uint32_t> cost = lines.cost_by_node(thing, reached);
    need->needed = std::min(sums.most(cost), lines.most_of(thing, reached));
    need->uses = uses_of(graph, sums.run(cost), cost);
    if (!need->listed && !need->uses.empty()) need->at = protocol[need->uses.front().line].span;
  }
  return needs;
}

}  // namespace stepward::check
