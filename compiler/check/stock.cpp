#include "check/stock.hpp"

#include <algorithm>
#include <array>

#include "check/stock_of_lines.hpp"
#include "explore/redo.hpp"
#include "model/variants.hpp"

namespace stepward::check {
namespace {

using explore::Packed;
using explore::Result;

constexpr std::uint32_t over = UINT32_MAX;  ///< in a list of successors: the run ends

/// So many things are added up side by side, since coming to a state costs more than what is done there.
constexpr std::size_t added_at_once = 4;
using Amounts = std::array<std::uint32_t, added_at_once>;  ///< of each thing

/// Adds up over runs what their lines use.
class Sums {
 public:
  Sums(const effects::System& system, const Packed& packed, const Result& walk, const std::vector<std::uint32_t>& order) : walk_(walk), order_(order) {
    done_.reserve(walk.successors.size());
    for (std::uint32_t s = 0; s < walk.size(); ++s)
      explore::each_step(packed, walk, s, [&](std::uint32_t e, std::uint32_t) {
        done_.push_back(e < packed.first_strike ? system.edges[e].by.value : nothing);  // it strikes before the line is done
      });
  }

  /// `costs` by node of the graph. What was added up before is forgotten.
  void add_up(std::vector<Amounts> costs) {
    costs_ = std::move(costs);
    from_here_.assign(walk_.size(), {});
    for (std::size_t i = order_.size(); i-- > 0;) {
      const std::uint32_t s = order_[i];
      for (std::uint32_t k = begin_of(s); k < walk_.successor_ends[s]; ++k) keep_most(by(k), from_here_[s]);
    }
  }

  /// The most that a run from the start uses of one of the things.
  std::uint32_t most(std::size_t thing) const { return walk_.size() > 0 ? from_here_[0][thing] : 0; }

  struct Use { std::uint32_t node = 0, count = 0; };

  /// What uses one of the things on a run that uses most of it, in its order.
  std::vector<Use> run(std::size_t thing) const {
    std::vector<Use> uses;
    for (std::uint32_t s = 0; s != over && from_here_[s][thing] > 0;) {
      std::uint32_t k = begin_of(s);
      while (by(k)[thing] != from_here_[s][thing]) ++k;
      if (const std::uint32_t count = own(k)[thing]; count > 0) uses.push_back({done_[k], count});
      s = walk_.successors[k];
    }
    return uses;
  }

 private:
  static constexpr std::uint32_t nothing = UINT32_MAX;

  static void keep_most(const Amounts& other, Amounts& kept) {
    for (std::size_t t = 0; t < added_at_once; ++t) kept[t] = std::max(kept[t], other[t]);
  }

  std::uint32_t begin_of(std::uint32_t s) const { return s ? walk_.successor_ends[s - 1] : 0; }

  /// What the `k`th step of the walk uses, and what is used from a state on by it.
  Amounts own(std::uint32_t k) const { return done_[k] == nothing ? Amounts{} : costs_[done_[k]]; }
  Amounts by(std::uint32_t k) const {
    Amounts sum = own(k);
    const std::uint32_t to = walk_.successors[k];
    for (std::size_t t = 0; to != over && t < added_at_once; ++t) sum[t] += from_here_[to][t];
    return sum;
  }

  const Result& walk_;
  const std::vector<std::uint32_t>& order_;
  std::vector<std::uint32_t> done_;   ///< by step of the walk: the node whose line is done
  std::vector<Amounts> costs_;
  std::vector<Amounts> from_here_;    ///< by state
};

std::vector<StockUse> uses_of(const graph::Graph& graph, const std::vector<Sums::Use>& run) {
  std::vector<StockUse> uses;
  for (const auto& [node, count] : run) {
    const model::LineId line = graph.nodes[node].line;
    const auto known = std::find_if(uses.begin(), uses.end(), [&, here = count](const StockUse& use) { return use.line == line && use.count == here; });
    if (known != uses.end()) ++known->times;
    else uses.push_back({line, count, 1});
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

/// What nodes use of the things from `first` on, as many as are added up side by side.
std::vector<Amounts> costs_from(const LineStock& lines, std::size_t first, const std::vector<bool>& reached) {
  std::vector<Amounts> out(reached.size());
  for (std::size_t t = 0; t < added_at_once && first + t < lines.things().size(); ++t) {
    const std::vector<std::uint32_t> cost = lines.cost_by_node(lines.things()[first + t], reached);
    for (std::size_t node = 0; node < cost.size(); ++node) out[node][t] = cost[node];
  }
  return out;
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
                                   const Result& result, const std::vector<std::uint32_t>& order) {
  std::vector<StockNeed> needs;
  note_listed(protocol, graph.variant, needs);
  const LineStock lines(protocol, graph);
  if (lines.things().empty()) return needs;
  std::vector<bool> reached = result.node_reached;
  reached[graph.start.value] = true;  // no step leads to where a run begins
  for (const graph::Node& node : graph.nodes)
    for (const graph::NodeId beside : node.instead) reached[beside.value] = true;  // nor to a line that stands beside another
  Sums sums(system, packed, result, order);
  for (std::size_t t = 0; t < lines.things().size(); ++t) {
    const Kept& thing = lines.things()[t];
    if (t % added_at_once == 0) sums.add_up(costs_from(lines, t, reached));
    auto need = std::find_if(needs.begin(), needs.end(), [&](const StockNeed& each) { return each.thing == thing; });
    if (need == needs.end()) need = needs.insert(needs.end(), StockNeed{thing, 0, false, 0, {}, {}});
    need->needed = std::min(sums.most(t % added_at_once), lines.most_of(thing, reached));
    need->uses = uses_of(graph, sums.run(t % added_at_once));
    if (!need->listed && !need->uses.empty()) need->at = protocol[need->uses.front().line].span;
  }
  return needs;
}

}  // namespace stepward::check
