#include "chance_brute.hpp"

#include <algorithm>
#include <map>

#include "slip_brute.hpp"

namespace stepward::oracle {
namespace {

/// What is asked of a turn: least and most of each kind of harm, of any, and the most of a third slip.
constexpr std::size_t kinds_of_harm = 5, any = 10, third = 12, asked = 13;
using Worth = std::array<double, asked>;

bool is_least(std::size_t i) { return i < third && i % 2 == 0; }

graph::NodeId begins_instead_of(const graph::SlipWay& way) { return way.kind == graph::SlipKind::done_early ? way.before : way.slipped; }

class Chances {
 public:
  Chances(const slips::SlippedSystem& made, const std::vector<slips::Consequence>& kinds, const std::vector<slips::WayChance>& ways, std::size_t most)
      : made_(made), kinds_(kinds), ways_(ways), most_(most) {}

  std::optional<slips::HarmBounds> run() {
    const PlainStep begin = plain_start(made_);
    const Worth all = begin.goes_on ? worth(begin.after, 0) : Worth{};
    if (known_.size() > most_) return std::nullopt;
    slips::HarmBounds out;
    for (std::size_t k = 0; k < kinds_of_harm; ++k) out.by_harm[k] = {all[2 * k], all[2 * k + 1]};
    out.any = {all[any], all[any + 1]};
    out.beyond = all[third];
    return out;
  }

 private:
  Worth worth(const PlainState& state, unsigned slips) {
    const auto at = std::pair(state, slips);
    if (const auto known = known_.find(at); known != known_.end()) return known->second;
    if (known_.size() > most_) return {};
    const Worth out = worth_of_turn(state, slips);
    known_.emplace(at, out);
    return out;
  }

  Worth worth_of_turn(const PlainState& state, unsigned slips) {
    const explore::PackedNode& node = made_.packed.nodes[explore::get(state.data(), made_.packed.node)];
    Worth out{};
    bool first = true;
    for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e) {
      if (way_of(e) || !explore::holds(made_.packed, made_.packed.edges[e].guard, state.data())) continue;
      const Worth one = with_slips(state, slips, e);
      for (std::size_t i = 0; i < asked; ++i) out[i] = first ? one[i] : is_least(i) ? std::min(out[i], one[i]) : std::max(out[i], one[i]);
      first = false;
    }
    return out;
  }

  /// The line of this edge, slipped at or done so.
  Worth with_slips(const PlainState& state, unsigned slips, std::uint32_t edge) {
    Worth out{};
    double rest = 1;
    const auto add = [&](double chance, const Worth& one) { for (std::size_t i = 0; i < asked; ++i) out[i] += chance * one[i]; };
    const explore::PackedNode& node = made_.packed.nodes[explore::get(state.data(), made_.packed.node)];
    for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e) {
      const auto way = way_of(e);
      if (!way || begins_instead_of(made_.ways.ways[*way]) != made_.system.edges[edge].by) continue;
      add(ways_[*way].slips * ways_[*way].unseen, slips == 2 ? of_a_third() : behind(state, e, slips + 1));
      rest -= ways_[*way].slips;
    }
    add(rest, behind(state, edge, slips));
    return out;
  }

  Worth behind(const PlainState& state, std::uint32_t edge, unsigned slips) {
    const PlainStep step = plain_step(made_, state, edge);
    if (step.report != UINT32_MAX || !step.goes_on) return of_end(step.report);
    for (const explore::Slot& missed : made_.signs.seen_by[edge]) if (explore::get(state.data(), missed) == 1) return {};
    return worth(step.after, slips);
  }

  Worth of_end(std::uint32_t report) const {
    Worth out{};
    if (report == UINT32_MAX || made_.signs.reports[report] != explore::Weight::harm) return out;
    const auto kind = static_cast<std::size_t>(kinds_[report]);
    for (const std::size_t i : {2 * kind, 2 * kind + 1, any, any + 1}) out[i] = 1;
    return out;
  }

  static Worth of_a_third() {
    Worth out{};
    for (std::size_t i = 0; i < asked; ++i) out[i] = is_least(i) ? 0 : 1;
    return out;
  }

  std::optional<std::size_t> way_of(std::uint32_t edge) const {
    const auto at = std::find(made_.way_edges.begin(), made_.way_edges.end(), edge);
    return at == made_.way_edges.end() ? std::nullopt : std::optional(static_cast<std::size_t>(at - made_.way_edges.begin()));
  }

  const slips::SlippedSystem& made_;
  const std::vector<slips::Consequence>& kinds_;
  const std::vector<slips::WayChance>& ways_;
  std::size_t most_;
  std::map<std::pair<PlainState, unsigned>, Worth> known_;
};

}  // namespace

std::optional<slips::HarmBounds> brute_bounds(const slips::SlippedSystem& made, const std::vector<slips::Consequence>& kinds, const std::vector<slips::WayChance>& ways, std::size_t most) {
  return Chances(made, kinds, ways, most).run();
}

}  // namespace stepward::oracle
