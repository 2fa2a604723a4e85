#include "effects/ways.hpp"

#include <algorithm>

namespace stepward::effects {

void add_ways(System& system, const std::vector<Way>& ways) {
  std::vector<Way> in_order = ways;
  std::stable_sort(in_order.begin(), in_order.end(), [](const Way& a, const Way& b) { return a.at.value < b.at.value; });
  std::vector<Edge> edges;
  auto way = in_order.begin();
  for (std::uint32_t n = 0; n < system.nodes.size(); ++n) {
    Edges& place = system.nodes[n];
    const auto first = static_cast<std::uint32_t>(edges.size());
    for (std::uint32_t e = 0; e < place.count; ++e) edges.push_back(std::move(system.edges[place.first + e]));
    for (; way != in_order.end() && way->at.value == n; ++way) edges.push_back(std::move(way->edge));
    place.first = first;
    place.count = static_cast<std::uint32_t>(edges.size()) - first;
  }
  system.edges = std::move(edges);
}

}  // namespace stepward::effects
