#include "slip_brute.hpp"

#include <algorithm>
#include <array>
#include <random>
#include <tuple>

#include <fmt/format.h>

#include "explore/deviation.hpp"
#include "model/variants.hpp"
#include "rules/advice.hpp"

namespace stepward::oracle {
namespace {

class Brute {
 public:
  Brute(const slips::SlippedSystem& made, const std::vector<std::uint32_t>& ways) : made_(made), ways_(ways) {}

  SlipHarms run(std::size_t most) {
    if (const PlainStep begin = plain_start(made_); begin.goes_on) layer_.insert({begin.after, 0u});
    for (steps_ = 1; !layer_.empty(); ++steps_) {
      std::set<Place> next;
      for (const Place& place : layer_) {
        if (!met_.insert(place).second) continue;
        if (met_.size() > most) return {harms_, false};
        step(place, next);
      }
      layer_ = std::move(next);
    }
    return {harms_, true};
  }

 private:
  using Place = std::pair<PlainState, unsigned>;  ///< a state, and the ways already taken, a bit each

  void step(const Place& place, std::set<Place>& next) {
    const explore::PackedNode& node = made_.packed.nodes[explore::get(place.first.data(), made_.packed.node)];
    for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e) {
      unsigned taken = place.second;
      const auto way = std::find(made_.way_edges.begin(), made_.way_edges.end(), e);
      if (way != made_.way_edges.end()) {
        const auto mine = std::find(ways_.begin(), ways_.end(), static_cast<std::uint32_t>(way - made_.way_edges.begin()));
        if (mine == ways_.end() || taken >> (mine - ways_.begin()) & 1) continue;
        taken |= 1u << (mine - ways_.begin());
      } else if (!explore::holds(made_.packed, made_.packed.edges[e].guard, place.first.data())) {
        continue;
      }
      const PlainStep step = plain_step(made_, place.first, e);
      const bool is_over = step.report != UINT32_MAX;
      if (is_over && taken + 1u == 1u << ways_.size() && made_.signs.reports[step.report] == explore::Weight::harm) harms_.try_emplace(step.report, steps_);
      if (step.goes_on && !is_over) next.insert({step.after, taken});
    }
  }

  const slips::SlippedSystem& made_;
  const std::vector<std::uint32_t>& ways_;
  std::set<Place> layer_, met_;
  std::map<std::uint32_t, std::uint32_t> harms_;
  std::uint32_t steps_ = 1;
};

/// Takes one edge of one state; false: the run is over.
bool take(const slips::SlippedSystem& made, PlainStep& step, std::uint32_t edge) {
  const explore::PackedEdge& e = made.packed.edges[edge];
  std::uint64_t w[explore::most_words + explore::most_scratch_words] = {};
  std::copy(step.after.begin(), step.after.end(), w);
  explore::operate(made.packed, e, w, [&](const explore::PackedOp& op) {
    if (op.what == explore::PackedOp::Do::report && made.signs.reports[op.value] >= explore::Weight::stop && step.report == UINT32_MAX) step.report = op.value;
  });
  if (e.ends) return false;
  explore::put(w, made.packed.node, e.target);
  step.after.assign(w, w + made.packed.words);
  return true;
}

bool settle(const slips::SlippedSystem& made, PlainStep& step) {
  for (;;) {
    const explore::PackedNode& node = made.packed.nodes[explore::get(step.after.data(), made.packed.node)];
    if (node.standing) return true;
    std::uint32_t e = node.edges.first;
    while (e < node.edges.last && !explore::holds(made.packed, made.packed.edges[e].guard, step.after.data())) ++e;
    if (e == node.edges.last || !take(made, step, e)) return false;
  }
}

using Three = std::array<std::uint32_t, 3>;

/// Three slips that may come to harm together: each state is kept with the fewest slips that lead to it, and where one that takes three comes to harm, these
/// are proposed. It may propose three of which two are enough, and does not propose all.
class Proposals {
 public:
  Proposals(const slips::SlippedSystem& made, const std::vector<std::uint32_t>& ways) : made_(made), ways_(ways) {}

  std::vector<Three> run(std::size_t most) {
    if (const PlainStep begin = plain_start(made_); begin.goes_on) meet(begin.after, UINT32_MAX, UINT32_MAX);
    std::size_t of_less = 0;
    for (slips_ = 0; slips_ <= 3 && states_.size() <= most; ++slips_) {
      const std::size_t here = slips_ == 0 ? 0 : states_.size();
      for (std::size_t s = of_less; s < here; ++s) slip(static_cast<std::uint32_t>(s));
      for (std::size_t s = here; s < states_.size() && states_.size() <= most; ++s) go_on(static_cast<std::uint32_t>(s));
      of_less = here;
    }
    return std::move(found_);
  }

 private:
  struct Origin { std::uint32_t before = UINT32_MAX, way = UINT32_MAX; };

  void meet(const PlainState& state, std::uint32_t before, std::uint32_t way) {
    if (!known_.insert(state).second) return;
    states_.push_back(state);
    origins_.push_back({before, way});
  }

  void slip(std::uint32_t s) {
    for (const std::uint32_t w : ways_)
      if (made_.ways.ways[w].at.value == explore::get(states_[s].data(), made_.packed.node)) take_edge(s, made_.way_edges[w], w);
  }

  void go_on(std::uint32_t s) {
    const PlainState here = states_[s];
    const explore::PackedNode& node = made_.packed.nodes[explore::get(here.data(), made_.packed.node)];
    for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e)
      if (explore::holds(made_.packed, made_.packed.edges[e].guard, here.data())) take_edge(s, e, UINT32_MAX);
  }

  void take_edge(std::uint32_t s, std::uint32_t edge, std::uint32_t way) {
    const PlainStep step = plain_step(made_, states_[s], edge);
    const bool harms = step.report != UINT32_MAX && made_.signs.reports[step.report] == explore::Weight::harm;
    if (harms && slips_ == 3) propose(s, way);
    if (step.goes_on && step.report == UINT32_MAX) meet(step.after, s, way);
  }

  void propose(std::uint32_t s, std::uint32_t last) {
    std::vector<std::uint32_t> on_the_way;
    if (last != UINT32_MAX) on_the_way.push_back(last);
    for (; s != UINT32_MAX; s = origins_[s].before)
      if (origins_[s].way != UINT32_MAX) on_the_way.push_back(origins_[s].way);
    if (on_the_way.size() == 3) found_.push_back({on_the_way[2], on_the_way[1], on_the_way[0]});
  }

  const slips::SlippedSystem& made_;
  std::vector<std::uint32_t> ways_;
  unsigned slips_ = 0;
  std::vector<PlainState> states_;
  std::vector<Origin> origins_;
  std::set<PlainState> known_;
  std::vector<Three> found_;
};

/// What ordinary runs come to is no work of a slip.
void leave_out(SlipHarms& harms, const SlipHarms& ordinary) {
  for (const auto& [report, steps] : ordinary.steps) harms.steps.erase(report);
}

std::string told(const std::map<std::uint32_t, std::uint32_t>& harms) {
  std::string text;
  for (const auto& [report, steps] : harms) text += fmt::format(" report {} after {}", report, steps);
  return text.empty() ? " none" : text;
}

constexpr std::size_t most_places = 60'000;

/// As many slips on either side of one are taken for its neighbours: slips far from each other seldom come to anything together.
constexpr std::size_t near = 6;
class Comparer {
 public:
  Comparer(const slips::SlippedSystem& made, const SlipRequest& request, std::mt19937_64& dice, SlipComparison& out)
      : made_(made), request_(request), dice_(dice), out_(out), packed_(made.packed), signs_(made.signs),
        trodden_(made.packed, explore::walk(made.packed, {.interruptions = false})), ordinary_(brute_harms(made, {}, most_places)) {
    // By brute force nobody looks: a run goes on where a slip would be seen.
    for (auto& fields : signs_.seen_by) fields.clear();
    plant();
  }

  bool singles() {
    Deviations deviations = searcher();
    for (std::uint32_t w = 0; w < made_.ways.ways.size(); ++w) {
      std::map<std::uint32_t, std::uint32_t> fast;
      for (const explore::Halt& h : deviations.follow(made_.ways.ways[w].at, made_.way_edges[w]).harms) fast.emplace(h.report, h.run.steps);
      SlipHarms slow = brute_harms(made_, {w}, most_places);
      if (!slow.complete || !ordinary_.complete) { ++out_.given_up; continue; }
      leave_out(slow, ordinary_);
      for (const auto& [report, steps] : ordinary_.steps) fast.erase(report);
      harmful_.push_back(!slow.steps.empty());
      ++out_.ways;
      out_.harms += slow.steps.size();
      if (slow.steps != fast) return tell({w}, slow.steps, fast);
    }
    return true;
  }

  bool pairs() {
    if (!is_whole()) return true;
    for (std::size_t i = 0; i < request_.pairs; ++i) {
      const std::uint32_t a = any(), b = any();
      if (a == b || harmful_[a] || harmful_[b]) continue;
      if (!pair(a, b)) return false;
    }
    return true;
  }

  /// Some that the fast search finds, some that a slow one proposes, which is where one is that the fast one misses, and some neighbours, of which mostly nothing comes.
  bool triples() {
    if (!is_whole() || request_.triples == 0) return true;
    std::vector<Three> all, quiet_three = Proposals(made_, quiet()).run(most_places);
    for (std::vector<Three>* from : {&quiet_three, &(all = found_by_search())}) {
      std::shuffle(from->begin(), from->end(), dice_);
      from->resize(std::min(from->size(), request_.triples));
    }
    all.insert(all.end(), quiet_three.begin(), quiet_three.end());
    for (std::size_t i = 0; i < request_.triples; ++i) {
      const std::uint32_t a = any();
      all.push_back({a, near_to(a), near_to(a)});
    }
    return std::all_of(all.begin(), all.end(), [&](const auto& three) { return triple(three); });
  }

 private:
  using Deviations = explore::Deviations;

  Deviations searcher() const { return {packed_, trodden_, signs_, false, 1'000'000}; }
  Deviations::Second edge_of(std::uint32_t way) const { return {made_.ways.ways[way].at, made_.way_edges[way]}; }
  bool is_whole() const { return harmful_.size() == made_.ways.ways.size() && harmful_.size() > 2 && ordinary_.steps.empty(); }
  std::uint32_t any() { return static_cast<std::uint32_t>(dice_() % harmful_.size()); }
  std::uint32_t near_to(std::uint32_t way) {
    const std::size_t first = way < near ? 0 : way - near, last = std::min(harmful_.size() - 1, way + near);
    return static_cast<std::uint32_t>(first + dice_() % (last - first + 1));
  }

  void plant() {
    const auto harm = std::find(signs_.reports.begin(), signs_.reports.end(), explore::Weight::harm);
    switch (request_.fault) {
      case SlipFault::none:
      case SlipFault::third_forgotten:
      case SlipFault::third_repeated: break;
      case SlipFault::harm_unweighed: if (harm != signs_.reports.end()) *harm = explore::Weight::none; break;
      case SlipFault::harm_stops: if (harm != signs_.reports.end()) *harm = explore::Weight::stop; break;
      case SlipFault::way_astray:
        if (made_.way_edges.size() > 1) packed_.edges[made_.way_edges.front()].target = packed_.edges[made_.way_edges.back()].target;
    }
  }

  // Either of the two may come first on a run.
  bool pair(std::uint32_t a, std::uint32_t b) {
    const SlipHarms slow = brute_harms(made_, {a, b}, most_places);
    if (!slow.complete) { ++out_.given_up; return true; }
    std::uint32_t soonest = UINT32_MAX;
    for (const auto& [first, second] : {std::pair(a, b), std::pair(b, a)}) {
      Deviations deviations = searcher();
      deviations.follow(made_.ways.ways[first].at, made_.way_edges[first]);
      std::vector<Deviations::Joint> joints;
      deviations.follow_seconds({edge_of(second)}, joints);
      for (const auto& joint : joints) soonest = std::min(soonest, joint.run.steps);
    }
    ++out_.pairs;
    out_.joint_harms += least_of(slow) != UINT32_MAX;
    return least_of(slow) == soonest || tell({a, b}, slow.steps, {{0, soonest}});
  }

  static std::uint32_t least_of(const SlipHarms& harms) {
    std::uint32_t least = UINT32_MAX;
    for (const auto& [report, steps] : harms.steps) least = std::min(least, steps);
    return least;
  }

  std::vector<Deviations::Threefold> threefold(std::uint32_t first, const std::vector<std::uint32_t>& others) const {
    std::vector<Deviations::Second> edges;
    for (const std::uint32_t w : others) edges.push_back(edge_of(w));
    if (request_.fault == SlipFault::third_repeated) edges.back() = edges.front();
    Deviations deviations = searcher();
    std::vector<Deviations::Threefold> out;
    if (!deviations.follow(made_.ways.ways[first].at, made_.way_edges[first]).harms.empty()) return out;
    deviations.follow_thirds(edges, [&](std::uint32_t, std::uint32_t) { return request_.fault == SlipFault::third_forgotten; }, out);
    return out;
  }

  std::vector<std::uint32_t> quiet() const {
    std::vector<std::uint32_t> out;
    for (std::uint32_t w = 0; w < harmful_.size(); ++w) if (!harmful_[w]) out.push_back(w);
    return out;
  }

  std::vector<Three> found_by_search() const {
    const std::vector<std::uint32_t> ways = quiet();
    std::vector<Three> out;
    for (const std::uint32_t first : ways)
      for (const auto& found : threefold(first, ways)) out.push_back({first, ways[found.second], ways[found.third]});
    return out;
  }

  // All three in any order; no one and no two of them come to harm, by brute force as well.
  bool triple(const Three& three) {
    const auto [a, b, c] = three;
    if (a == b || a == c || b == c || harmful_[a] || harmful_[b] || harmful_[c]) return true;
    for (const auto& two : {std::vector{a, b}, std::vector{a, c}, std::vector{b, c}}) {
      const SlipHarms slow = brute_harms(made_, two, most_places);
      if (!slow.complete || !slow.steps.empty()) return true;
    }
    const SlipHarms slow = brute_harms(made_, {a, b, c}, most_places);
    if (!slow.complete) { ++out_.given_up; return true; }
    std::uint32_t soonest = UINT32_MAX;
    for (const auto& [first, second, third] : {std::tuple(a, b, c), std::tuple(b, a, c), std::tuple(c, a, b)})
      for (const auto& found : threefold(first, {second, third})) soonest = std::min(soonest, found.run.steps);
    ++out_.triples;
    out_.threefold_harms += least_of(slow) != UINT32_MAX;
    return least_of(slow) == soonest || tell({a, b, c}, slow.steps, {{0, soonest}});
  }

  bool tell(const std::vector<std::uint32_t>& ways, const std::map<std::uint32_t, std::uint32_t>& slow, const std::map<std::uint32_t, std::uint32_t>& fast) {
    for (const std::uint32_t w : ways) out_.differs += fmt::format("way {} (kind {}, place {}) ", w, static_cast<int>(made_.ways.ways[w].kind), made_.ways.ways[w].at.value);
    out_.differs += fmt::format(": by brute force{}, by deviation{}\n", told(slow), told(fast));
    return false;
  }

  const slips::SlippedSystem& made_;
  const SlipRequest& request_;
  std::mt19937_64& dice_;
  SlipComparison& out_;
  explore::Packed packed_;  ///< of the search that is compared
  explore::Signs signs_;
  explore::Trodden trodden_;
  SlipHarms ordinary_;
  std::vector<bool> harmful_;
};

}  // namespace

PlainStep plain_start(const slips::SlippedSystem& made) {
  PlainStep out;
  out.after.assign(made.packed.initial.begin(), made.packed.initial.begin() + made.packed.words);
  out.goes_on = settle(made, out);
  return out;
}

PlainStep plain_step(const slips::SlippedSystem& made, const PlainState& before, std::uint32_t edge) {
  PlainStep out;
  out.after = before;
  out.goes_on = take(made, out, edge) && settle(made, out);
  return out;
}

SlipHarms brute_harms(const slips::SlippedSystem& made, const std::vector<std::uint32_t>& ways, std::size_t most) { return Brute(made, ways).run(most); }

SlipComparison compare_slips(const model::Protocol& protocol, const SlipRequest& request) {
  SlipComparison out;
  std::mt19937_64 dice(request.seed);
  model::Protocol advised = rules::with_rules_as_advice(protocol);
  advised.interruptions.clear();
  for (const model::Variant& variant : model::all_variants(advised)) {
    const slips::SlippedSystem made = slips::slipped_system(advised, variant);
    Comparer comparer(made, request, dice, out);
    if (!comparer.singles() || !comparer.pairs() || !comparer.triples()) return out;
  }
  return out;
}

}  // namespace stepward::oracle
