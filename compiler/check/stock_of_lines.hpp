#pragma once
// What each line of a step graph takes from the kit. See stock.hpp for what counts.

#include <cstdint>
#include <vector>

#include "check/stock.hpp"
#include "graph/graph.hpp"
#include "model/protocol.hpp"

namespace stepward::check {

/// The item or supply that a phrase stands for in this variant; neither for anything else.
Kept kept_of(const model::Protocol& protocol, const model::Thing& thing, const model::Variant& variant);

class LineStock {
 public:
  LineStock(const model::Protocol& protocol, const graph::Graph& graph);

  /// Everything that some line uses, in the order of the graph.
  const std::vector<Kept>& things() const { return things_; }

  /// How many of `thing` each node uses. Nodes that no run reaches use nothing.
  std::vector<std::uint32_t> cost_by_node(const Kept& thing, const std::vector<bool>& reached) const;

  /// No run needs more: a reusable item comes back, so one for each person who puts it on is enough.
  std::uint32_t most_of(const Kept& thing, const std::vector<bool>& reached) const;

 private:
  struct Demand {
    std::uint32_t used_up = 0;   ///< by techniques
    std::uint32_t put_on = 0;
    std::uint32_t taken = 0, passed = 0;
    bool any() const { return used_up + put_on + taken + passed > 0; }
  };
  Demand demand_of(const graph::Node& node, const Kept& thing) const;
  void note_things(const graph::Node& node);
  void note(const Kept& thing);
  /// The least of `thing` that lies ready when a run comes to each node.
  std::vector<std::uint32_t> ready(const Kept& thing) const;

  const model::Protocol& protocol_;
  const graph::Graph& graph_;
  std::vector<Kept> things_;
};

}  // namespace stepward::check
