#include "order/open_walk.hpp"

#include <algorithm>
#include <tuple>

#include "base/side_by_side.hpp"
#include "check/variant_check.hpp"
#include "explore/redo.hpp"
#include "model/variants.hpp"
#include "order/open_variant.hpp"
#include "rules/advice.hpp"
#include "wording/story.hpp"

namespace stepward::order {
namespace {

using effects::FieldId;

constexpr std::uint32_t none = UINT32_MAX;

/// Numbers breaches over all variants.
class BreachBook {
 public:
  BreachBook(const model::Protocol& protocol, Orders& out) : protocol_(protocol), out_(out) {}

  /// The set of this one; the empty set, where it is none that an order must keep.
  Breaches number_of(const graph::Graph& graph, const effects::Report& r) {
    if (!counts(r)) return 0;
    const source::Span at = check::place_of_report(protocol_, graph, r);
    const Key key = r.rule ? Key{r.rule.value, 0, 0, 0} : Key{UINT32_MAX, static_cast<std::uint32_t>(r.code), at.file.value, at.begin};
    const auto [known, fresh] = numbers_.try_emplace(key, std::min(out_.breaches.size(), most_breaches - 1));
    if (fresh && out_.breaches.size() < most_breaches) out_.breaches.push_back({r.rule, r.code, wording::report_args(protocol_, r), at});
    return Breaches(1) << known->second;
  }

 private:
  using Key = std::tuple<std::uint32_t, std::uint32_t, std::uint32_t, std::uint32_t>;

  /// An error, or a rule that is advice only because somebody wanted to see behind it.
  bool counts(const effects::Report& r) const {
    if (r.set_aside != UINT32_MAX) return false;
    if (r.rule) return protocol_[r.rule].severity != model::Severity::advisory;
    return r.severity == diagnostics::Severity::error;
  }

  const model::Protocol& protocol_;
  Orders& out_;
  std::map<Key, std::size_t> numbers_;
};

/// Reads the situations off a finished walk.
class SituationReader {
 public:
  SituationReader(const OpenVariant& variant, const std::vector<Run>& runs, const explore::Result& walked, bool rules_as_advice, BreachBook& book, Orders& out)
      : variant_(variant), packed_(variant.packed), runs_(runs), walked_(walked), rules_as_advice_(rules_as_advice), book_(book), out_(out) {}

  void read() {
    find_situations();
    find_breaches();
    look_ahead();
    if (walked_.size() == 0) return;
    for (std::uint32_t s = 0; s < walked_.size(); ++s)
      if (situation_[s] != none) read_ways(s);
    const std::vector<std::uint32_t> first = situation_[0] != none ? std::vector<std::uint32_t>{situation_[0]} : situations_behind(0);
    out_.start.insert(out_.start.end(), first.begin(), first.end());
  }

 private:
  std::uint32_t first_step(std::uint32_t s) const { return s ? walked_.successor_ends[s - 1] : 0; }

  void find_situations() {
    std::map<std::uint32_t, std::size_t> choice_at;
    for (std::size_t c = 0; c < variant_.open.choices.size(); ++c) choice_at[variant_.open.choices[c].node.value] = c;
    situation_.assign(walked_.size(), none);
    for (std::uint32_t s = 0; s < walked_.size(); ++s) {
      const auto at = choice_at.find(explore::get(walked_.state(s), packed_.node));
      if (at == choice_at.end()) continue;
      situation_[s] = static_cast<std::uint32_t>(out_.situations.size());
      Situation made;
      made.order = runs_[variant_.open.choices[at->second].run].order;
      const auto& done = variant_.done[at->second];
      for (std::size_t i = 0; i < done.size(); ++i)
        if (value(s, done[i])) made.done |= 1u << i;
      made.ways.resize(done.size() + 1);
      out_.situations.push_back(std::move(made));
    }
  }

  std::uint32_t value(std::uint32_t s, FieldId field) const {
    const explore::Slot slot = packed_.fields[field.value];
    return slot.mask ? explore::get(walked_.state(s), slot) : variant_.system.fields[field.value].initial;
  }

  // What cuts a run leaves no successor; advice does not, and then every step has to be done anew.
  void find_breaches() {
    broken_.assign(walked_.successors.size(), 0);
    for (std::uint32_t s = 0; s < walked_.successor_ends.size(); ++s)
      explore::each_step(packed_, walked_, s, [&](std::uint32_t edge, std::uint32_t k) {
        if (!rules_as_advice_ && walked_.successors[k] != UINT32_MAX) return;
        explore::redo(packed_, walked_, s, edge, [&](const explore::PackedOp& op) {
          if (op.what != explore::PackedOp::Do::report || (broken_[k] && !rules_as_advice_)) return;
          broken_[k] |= book_.number_of(variant_.open.graph, variant_.system.reports[packed_.reports[op.value].value]);
        });
      });
  }

  // Successors mostly have higher numbers, so sweeping from behind is done after two or three times.
  void look_ahead() {
    ahead_.assign(walked_.size(), 0);
    comes_to_choice_.assign(walked_.size(), false);
    for (bool changed = true; changed;) {
      changed = false;
      for (std::uint32_t s = walked_.size(); s-- > 0;)
        if (situation_[s] == none && s < walked_.successor_ends.size()) changed |= look_ahead_from(s);
    }
  }

  bool look_ahead_from(std::uint32_t s) {
    Breaches broken = 0;
    bool choice = false;
    for (std::uint32_t k = first_step(s); k < walked_.successor_ends[s]; ++k) {
      broken |= broken_[k];
      const std::uint32_t to = walked_.successors[k];
      if (to == UINT32_MAX) continue;
      broken |= ahead_[to];
      choice = choice || situation_[to] != none || comes_to_choice_[to];
    }
    const bool changed = broken != ahead_[s] || choice != comes_to_choice_[s];
    ahead_[s] = broken;
    comes_to_choice_[s] = choice;
    return changed;
  }

  void read_ways(std::uint32_t s) {
    Situation& here = out_.situations[situation_[s]];
    explore::each_step(packed_, walked_, s, [&](std::uint32_t edge, std::uint32_t k) {
      Way& way = here.ways[variant_.system.edges[edge].label.answer];
      way.broken |= broken_[k];
      const std::uint32_t to = walked_.successors[k];
      if (to == UINT32_MAX) return;
      if (situation_[to] != none) way.leads_to = {situation_[to]};
      else if (is_beginning(s)) read_first_line(to, way);
      else {
        way.broken |= ahead_[to];
        if (comes_to_choice_[to] && (rules_as_advice_ || way.broken == 0)) way.leads_to = behind(to);
      }
    });
  }

  /// Nothing strikes before the first line of a run; a choice before it changes nothing of that.
  bool is_beginning(std::uint32_t s) const {
    while (s != 0 && situation_[walked_.parent[s]] != none) s = walked_.parent[s];
    return s == 0;
  }

  void read_first_line(std::uint32_t line, Way& way) {
    explore::each_step(packed_, walked_, line, [&](std::uint32_t edge, std::uint32_t k) {
      if (edge >= packed_.first_strike) return;
      way.broken |= broken_[k];
      const std::uint32_t to = walked_.successors[k];
      if (to == UINT32_MAX) return;
      if (situation_[to] == none) way.broken |= ahead_[to];
      const std::vector<std::uint32_t> more = situation_[to] != none ? std::vector<std::uint32_t>{situation_[to]} : behind(to);
      way.leads_to.insert(way.leads_to.end(), more.begin(), more.end());
    });
    std::sort(way.leads_to.begin(), way.leads_to.end());
    way.leads_to.erase(std::unique(way.leads_to.begin(), way.leads_to.end()), way.leads_to.end());
  }

  const std::vector<std::uint32_t>& behind(std::uint32_t s) {
    const auto [known, fresh] = behind_.try_emplace(s);
    if (fresh) known->second = situations_behind(s);
    return known->second;
  }

  /// The next situations that runs from here come to.
  std::vector<std::uint32_t> situations_behind(std::uint32_t s) {
    std::vector<std::uint32_t> found, open{s};
    ++round_;
    seen_.resize(walked_.size(), 0);
    seen_[s] = round_;
    while (!open.empty()) {
      const std::uint32_t at = open.back();
      open.pop_back();
      for (std::uint32_t k = first_step(at); k < walked_.successor_ends[at]; ++k) {
        const std::uint32_t to = walked_.successors[k];
        if (to == UINT32_MAX || seen_[to] == round_) continue;
        seen_[to] = round_;
        if (situation_[to] != none) found.push_back(situation_[to]);
        else if (comes_to_choice_[to]) open.push_back(to);
      }
    }
    std::sort(found.begin(), found.end());
    return found;
  }

  const OpenVariant& variant_;
  const explore::Packed& packed_;
  const std::vector<Run>& runs_;
  const explore::Result& walked_;
  bool rules_as_advice_;
  BreachBook& book_;
  Orders& out_;
  std::vector<std::uint32_t> situation_;       ///< by state
  std::vector<Breaches> broken_;               ///< by position in successors
  std::vector<Breaches> ahead_;                ///< by state: what is broken before the next choice
  std::vector<bool> comes_to_choice_;          ///< by state
  std::map<std::uint32_t, std::vector<std::uint32_t>> behind_;
  std::vector<std::uint32_t> seen_;
  std::uint32_t round_ = 0;
};

/// The first of those that differ in nothing but names.
std::vector<std::size_t> apart(const std::vector<OpenVariant>& variants) {
  std::vector<std::size_t> out;
  for (std::size_t v = 0; v < variants.size(); ++v) {
    const bool known = std::any_of(out.begin(), out.end(), [&](std::size_t w) { return explore::walk_alike(variants[w].packed, variants[v].packed); });
    if (!known) out.push_back(v);
  }
  return out;
}

std::vector<explore::Result> walk_side_by_side(const std::vector<OpenVariant>& variants, const std::vector<std::size_t>& which, const WalkOptions& options) {
  explore::Options how;
  how.limit = options.limit;
  std::vector<explore::Result> out(which.size());
  side_by_side(which.size(), options.workers, [&](std::size_t i) { out[i] = explore::walk(variants[which[i]].packed, how); });
  return out;
}

}  // namespace

Orders open_walk(const model::Protocol& protocol, const std::vector<Run>& runs, const WalkOptions& options) {
  Orders out;
  std::vector<graph::OpenRun> open;
  for (const Run& run : runs) {
    if (run.order >= out.lines.size()) out.lines.resize(run.order + 1, 0);
    out.lines[run.order] = run.count;
    open.push_back({run.block, run.first, run.count});
  }
  const model::Protocol advised = options.rules_as_advice ? rules::with_rules_as_advice(protocol) : model::Protocol();
  const model::Protocol& walked_as = options.rules_as_advice ? advised : protocol;
  const std::vector<model::Variant> all = model::all_variants(protocol);
  std::vector<OpenVariant> variants(all.size());
  side_by_side(all.size(), options.workers, [&](std::size_t v) { variants[v] = open_variant(walked_as, all[v], open); });
  BreachBook book(protocol, out);
  const std::vector<std::size_t> walks = apart(variants);
  // As many walks side by side as there are workers; they are read in their order, so that numbers do not depend on who is first.
  for (std::size_t first = 0; first < walks.size() && out.complete; first += std::max(1u, options.workers)) {
    const std::vector<std::size_t> now(walks.begin() + static_cast<std::ptrdiff_t>(first),
                                       walks.begin() + static_cast<std::ptrdiff_t>(std::min(walks.size(), first + std::max(1u, options.workers))));
    std::vector<explore::Result> walked = walk_side_by_side(variants, now, options);
    for (std::size_t i = 0; i < now.size() && out.complete; ++i) {
      const OpenVariant& variant = variants[now[i]];
      out.states += walked[i].size();
      out.complete = walked[i].complete && variant.packed.fits;
      out.has_clocks = out.has_clocks || !variant.system.timings.empty();
      if (out.complete) SituationReader(variant, runs, walked[i], options.rules_as_advice, book, out).read();
    }
  }
  return out;
}

}  // namespace stepward::order
