#pragma once
// More edges for a system that is already lowered: ways that leave a place beside those of its own line.
//
// They are added before the system is simplified, so that whatever can come of them counts as possible behind them.

#include "effects/system.hpp"

namespace stepward::effects {

struct Way {
  graph::NodeId at;
  Edge edge;
};

/// Puts each way behind the edges that its place has, those of one place in the order given.
void add_ways(System& system, const std::vector<Way>& ways);

}  // namespace stepward::effects
