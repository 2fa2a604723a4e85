#include "slips/numbers.hpp"

#include <algorithm>
#include <map>

#include "reliability/lognormal.hpp"

namespace stepward::slips {
namespace {

using namespace reliability;
using graph::SlipKind;

/// So many lines at the top of the ranking say whether its order hangs on the level of dependence.
constexpr std::size_t compared_at_the_top = 5;

class Reckoner {
 public:
  Reckoner(const Table& table, const NumbersRequest& request, Choice choice)
      : table_(table), request_(request), choice_(std::move(choice)) {}

  Answer<Numbers> run() {
    if (request_.something_to_see)
      if (const auto no = unless_probability(*request_.something_to_see, "something to see")) return *no;
    make_events();
    if (why_not_) return *why_not_;
    for (std::size_t v = 0; v < table_.variants.size() && !why_not_; ++v) out_.variants.push_back(of_variant(v, request_.dependence));
    if (!why_not_) out_.order_hangs_on_dependence = hangs_on_dependence();
    if (why_not_) return *why_not_;
    return std::move(out_);
  }

 private:
  template <class Wanted>
  Wanted value_of(const Answer<Wanted>& answer, Wanted otherwise) {
    if (const Refusal* no = refused(answer)) {
      if (!why_not_) why_not_ = *no;
      return otherwise;
    }
    return *given(answer);
  }

  UsedFigure figure(std::string_view name) {
    const UsedFigure found = value_of(figure_of(choice_, name), UsedFigure{});
    const auto same = [&](const auto& f) { return f.first == name; };
    if (std::none_of(out_.figures.begin(), out_.figures.end(), same)) out_.figures.emplace_back(name, found);
    return found;
  }

  Estimate under_stress(std::string_view name) {
    const UsedFigure base = figure(name), stress = figure(stress_figure(request_.stress, request_.experience));
    return value_of(multiplied(base, stress), Estimate{});
  }

  Estimate missed_look() {
    Estimate out = under_stress(check_figure(CheckKind::sees_stated_state));
    out.value *= *request_.something_to_see;
    return out;
  }

  void make_events() {
    for (std::size_t r = 0; r < table_.rows.size(); ++r) {
      const Row& row = table_.rows[r];
      if (row.key.kind == SlipKind::left_out) add(r, false, under_stress(omission_figure(true, row.list_lines)));
      else if (row.key.kind == SlipKind::overlooked && request_.something_to_see) add(r, false, missed_look());
      else if (row.outcome == Outcome::harm) ++out_.not_reckoned;
      if (!row.watch.empty() && event_.count({r, false})) add(r, true, under_stress(check_figure(CheckKind::sees_stated_state)));
    }
  }

  // One opportunity a run: where a line stands in several branches, a run comes through one of them.
  void add(std::size_t row, bool is_confirm, const Estimate& e) {
    event_[{row, is_confirm}] = EventId(out_.events.size());
    out_.events.push_back({row, is_confirm, e.value, e.error_factor.value_or(1)});
  }

  double chance_of(const Event& e, Dependence dependence) {
    return e.is_confirm ? value_of(given_failure(dependence, e.chance), 1.0) : e.chance;
  }

  HarmTree tree_of(std::size_t variant, Dependence dependence) {
    HarmTree tree;
    for (const Event& e : out_.events) tree.chances.push_back(chance_of(e, dependence));
    const auto event = [&](std::size_t row, bool confirm) {
      const auto at = event_.find({row, confirm});
      return at == event_.end() || !table_.rows[row].variants.count(variant) ? EventId() : at->second;
    };
    for (std::size_t r = 0; r < table_.rows.size(); ++r)
      if (table_.rows[r].outcome == Outcome::harm)
        if (const EventId e = event(r, false)) tree.cut_sets.push_back({e});
    for (const Pair& p : table_.pairs) {
      const EventId a = event(p.first, false), b = event(p.second, p.first == p.second);
      if (a && b) tree.cut_sets.push_back({a, b});
    }
    for (const Triple& t : table_.triples) {
      const EventId a = event(t.first, false), b = event(t.second, false), c = event(t.third, t.with_confirm());
      if (a && b && c) tree.cut_sets.push_back({a, b, c});
    }
    return value_of(minimal(tree), HarmTree{});
  }

  Lognormal spread_of(const HarmTree& tree) const {
    std::vector<Lognormal> terms;
    for (const CutSet& set : tree.cut_sets) {
      std::vector<Lognormal> factors;
      for (EventId e : set) factors.push_back({tree.chances[e.value], out_.events[e.value].error_factor});
      terms.push_back(product_of(factors));
    }
    return sum_of(terms);
  }

  VariantNumbers of_variant(std::size_t variant, Dependence dependence) {
    VariantNumbers out;
    out.variant = variant;
    const HarmTree tree = tree_of(variant, dependence);
    if (tree.cut_sets.empty()) return out;
    out.band = band_of(spread_of(tree));
    const Answer<HarmImportance> importance = importance_of(tree);
    if (refused(importance)) {
      out.exact = false;
      out.chance = min_cut_upper_bound(tree);
      return out;
    }
    out.importance = *given(importance);
    out.chance = out.importance.chance;
    out.ranked = ranked(out.importance);
    return out;
  }

  static std::vector<EventId> top(const VariantNumbers& v) {
    std::vector<EventId> out = v.ranked;
    out.resize(std::min(out.size(), compared_at_the_top));
    return out;
  }

  bool hangs_on_dependence() {
    for (const VariantNumbers& v : out_.variants)
      for (const Dependence other : {Dependence::low, Dependence::high})
        if (top(of_variant(v.variant, other)) != top(v)) return true;
    return false;
  }

  const Table& table_;
  const NumbersRequest& request_;
  Choice choice_;
  Numbers out_;
  std::map<std::pair<std::size_t, bool>, EventId> event_;
  std::optional<Refusal> why_not_;
};

}  // namespace

Answer<Numbers> numbers_of(const Table& table, const NumbersRequest& request) {
  const Answer<Choice> choice = choose(request.set, request.overrides);
  if (const Refusal* no = refused(choice)) return *no;
  return Reckoner(table, request, *given(choice)).run();
}

}  // namespace stepward::slips
