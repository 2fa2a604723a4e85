#pragma once
// Which of the orders that keep everything: fewest weak points, then the shortest longest run, then the nearest to what is written.

#include "order/search.hpp"
#include "order/settle.hpp"

namespace stepward::order {

struct Chosen {
  bool found = false;                 ///< false: every order that was walked breaks a bound on time
  Choice order;
  std::size_t walked = 0;
  std::size_t compared = 0;
  std::size_t weak_points = 0, most_weak_points = 0;
};

/// `search` keeps at least one order.
Chosen choose(const model::Protocol& protocol, const std::vector<Run>& runs, const Search& search, bool has_clocks, const Options& options);

/// Puts the lines of each run into its order.
void put_into_place(model::Protocol& protocol, const std::vector<Run>& runs, const Choice& order);

}  // namespace stepward::order
