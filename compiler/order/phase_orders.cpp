#include "order/phase_orders.hpp"

#include <algorithm>

namespace stepward::order {

std::optional<TriedOrder> PhaseOrders::that_keeps(Broken asked, std::uint32_t beginning) {
  Situations here{beginning};
  asked |= without_rule;
  if (line_to_go_on_with(asked, here) == no_line) return std::nullopt;
  TriedOrder out;
  std::uint32_t left = all_done() & ~phase_.done(beginning);
  // Where every run is over before, the rest is done by nobody; it stays as it is written.
  while (!here.empty() && left != 0) {
    const std::uint32_t line = known_[asked].at(here);
    Situations there;
    out.broken |= follow(here, line, there);
    out.lines.push_back(line);
    left &= ~(1u << line);
    here = std::move(there);
  }
  Situations behind;
  out.broken |= here.empty() ? 0 : follow(here, phase_.lines(), behind);
  for (std::uint32_t line = 0; line < phase_.lines(); ++line)
    if (left >> line & 1) out.lines.push_back(line);
  return out;
}

/// What doing this line breaks in one of the situations, and where it leads from all of them.
Broken PhaseOrders::follow(const Situations& here, std::uint32_t line, Situations& there) {
  Broken broken = 0;
  for (std::uint32_t situation : here) {
    const LineWay& way = phase_.way(situation, line);
    broken |= way.broken;
    there.insert(there.end(), way.leads_to.begin(), way.leads_to.end());
  }
  std::sort(there.begin(), there.end());
  there.erase(std::unique(there.begin(), there.end()), there.end());
  return broken;
}

/// Deep as there are lines, which are at most `most_lines_of_a_phase`. Behind the last line, `lines()` stands for what follows.
std::uint32_t PhaseOrders::line_to_go_on_with(Broken asked, const Situations& here) {
  if (here.empty()) return phase_.lines();
  const auto found = known_[asked].find(here);
  if (found != known_[asked].end()) return found->second;
  const std::uint32_t left = all_done() & ~phase_.done(here.front());
  std::uint32_t out = no_line;
  for (std::uint32_t line = 0; line <= phase_.lines() && out == no_line && is_complete(); ++line) {
    if (line < phase_.lines() ? !(left >> line & 1) : left != 0) continue;
    Situations there;
    if (follow(here, line, there) & asked) continue;
    if (line == phase_.lines() || line_to_go_on_with(asked, there) != no_line) out = line;
  }
  ++places_;
  known_[asked].emplace(here, out);
  return out;
}

}  // namespace stepward::order
