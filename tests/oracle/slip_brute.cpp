#include "slip_brute.hpp"

#include <algorithm>
#include <random>

#include <fmt/format.h>

#include "explore/deviation.hpp"
#include "model/variants.hpp"
#include "rules/advice.hpp"

namespace stepward::oracle {
namespace {

using State = std::vector<std::uint64_t>;

class Brute {
 public:
  Brute(const slips::SlippedSystem& made, const std::vector<std::uint32_t>& ways) : made_(made), ways_(ways) {}

  SlipHarms run(std::size_t most) {
    State begin(made_.packed.initial.begin(), made_.packed.initial.begin() + made_.packed.words);
    if (settle(begin, 0)) layer_.insert({begin, 0u});
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
  using Place = std::pair<State, unsigned>;  ///< a state, and the ways already taken, a bit each

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
      State after = place.first;
      first_ = UINT32_MAX;
      const bool goes_on = take(after, e) && settle(after, taken) && first_ == UINT32_MAX;
      if (first_ != UINT32_MAX && taken + 1u == 1u << ways_.size() && made_.signs.reports[first_] == explore::Weight::harm)
        harms_.try_emplace(first_, steps_);
      if (goes_on) next.insert({after, taken});
    }
  }

  bool take(State& state, std::uint32_t e) {
    std::uint64_t w[explore::most_words + explore::most_scratch_words] = {};
    std::copy(state.begin(), state.end(), w);
    explore::operate(made_.packed, made_.packed.edges[e], w, [&](const explore::PackedOp& op) {
      if (op.what == explore::PackedOp::Do::report && made_.signs.reports[op.value] >= explore::Weight::stop && first_ == UINT32_MAX) first_ = op.value;
    });
    if (made_.packed.edges[e].ends) return false;
    explore::put(w, made_.packed.node, made_.packed.edges[e].target);
    state.assign(w, w + made_.packed.words);
    return true;
  }

  bool settle(State& state, unsigned) {
    for (;;) {
      const explore::PackedNode& node = made_.packed.nodes[explore::get(state.data(), made_.packed.node)];
      if (node.standing) return true;
      std::uint32_t e = node.edges.first;
      while (e < node.edges.last && !explore::holds(made_.packed, made_.packed.edges[e].guard, state.data())) ++e;
      if (e == node.edges.last || !take(state, e)) return false;
    }
  }

  const slips::SlippedSystem& made_;
  const std::vector<std::uint32_t>& ways_;
  std::set<Place> layer_, met_;
  std::map<std::uint32_t, std::uint32_t> harms_;
  std::uint32_t steps_ = 1, first_ = UINT32_MAX;
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

class Comparer {
 public:
  Comparer(const slips::SlippedSystem& made, SlipComparison& out)
      : made_(made), out_(out), signs_(made.signs), trodden_(made.packed, explore::walk(made.packed, {.interruptions = false})),
        ordinary_(brute_harms(made, {}, most_places)) {
    // By brute force nobody looks: a run goes on where a slip would be seen.
    for (auto& fields : signs_.seen_by) fields.clear();
  }

  bool singles() {
    explore::Deviations deviations(made_.packed, trodden_, signs_, false, 1'000'000);
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
      if (slow.steps != fast) return tell(w, w, slow.steps, fast);
    }
    return true;
  }

  bool pairs(std::size_t count, std::mt19937_64& dice) {
    if (harmful_.size() != made_.ways.ways.size() || harmful_.size() < 2 || !ordinary_.steps.empty()) return true;
    for (std::size_t i = 0; i < count; ++i) {
      const auto a = static_cast<std::uint32_t>(dice() % harmful_.size()), b = static_cast<std::uint32_t>(dice() % harmful_.size());
      if (a == b || harmful_[a] || harmful_[b]) continue;
      if (!pair(a, b)) return false;
    }
    return true;
  }

 private:
  // Either of the two may come first on a run.
  bool pair(std::uint32_t a, std::uint32_t b) {
    const SlipHarms slow = brute_harms(made_, {a, b}, most_places);
    if (!slow.complete) { ++out_.given_up; return true; }
    std::uint32_t soonest = UINT32_MAX;
    for (const auto& [first, second] : {std::pair(a, b), std::pair(b, a)}) {
      explore::Deviations deviations(made_.packed, trodden_, signs_, false, 1'000'000);
      deviations.follow(made_.ways.ways[first].at, made_.way_edges[first]);
      std::vector<explore::Deviations::Joint> joints;
      deviations.follow_seconds({{made_.ways.ways[second].at, made_.way_edges[second]}}, joints);
      for (const auto& joint : joints) soonest = std::min(soonest, joint.run.steps);
    }
    std::uint32_t least = UINT32_MAX;
    for (const auto& [report, steps] : slow.steps) least = std::min(least, steps);
    ++out_.pairs;
    out_.joint_harms += least != UINT32_MAX;
    if (least == soonest) return true;
    return tell(a, b, slow.steps, {{0, soonest}});
  }

  bool tell(std::uint32_t a, std::uint32_t b, const std::map<std::uint32_t, std::uint32_t>& slow, const std::map<std::uint32_t, std::uint32_t>& fast) {
    const auto at = [&](std::uint32_t w) { return made_.ways.ways[w].at.value; };
    out_.differs += fmt::format("ways {} (kind {}, place {}) and {} (place {}): by brute force{}, by deviation{}\n", a,
                                static_cast<int>(made_.ways.ways[a].kind), at(a), b, at(b), told(slow), told(fast));
    return false;
  }

  const slips::SlippedSystem& made_;
  SlipComparison& out_;
  explore::Signs signs_;
  explore::Trodden trodden_;
  SlipHarms ordinary_;
  std::vector<bool> harmful_;
};

}  // namespace

SlipHarms brute_harms(const slips::SlippedSystem& made, const std::vector<std::uint32_t>& ways, std::size_t most) { return Brute(made, ways).run(most); }

SlipComparison compare_slips(const model::Protocol& protocol, std::size_t pairs, std::uint64_t seed) {
  SlipComparison out;
  std::mt19937_64 dice(seed);
  model::Protocol advised = rules::with_rules_as_advice(protocol);
  advised.interruptions.clear();
  for (const model::Variant& variant : model::all_variants(advised)) {
    const slips::SlippedSystem made = slips::slipped_system(advised, variant);
    Comparer comparer(made, out);
    if (!comparer.singles() || !comparer.pairs(pairs, dice)) return out;
  }
  return out;
}

}  // namespace stepward::oracle
