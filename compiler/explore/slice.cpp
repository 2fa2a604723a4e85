#include "explore/slice.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace stepward::explore {
namespace {

using effects::FieldId;
using effects::OpKind;
using What = effects::FieldMeaning::What;

// A disinfection that a thing's soil withstood, and how many operations had changed something by then.
struct Withstood {
  std::uint32_t step;
  std::size_t behind;
  effects::Bearer thing;
};

// One executed operation that changed something.
struct Executed {
  std::uint32_t step;  ///< index into the run
  std::uint32_t edge;  ///< which of the edges taken, crossings included; scratch is empty again at each
  FieldId wrote;
  std::uint32_t before = 0, after = 0, cause = 0;
  std::vector<FieldId> read;
};

class Replay {
 public:
  Replay(const effects::System& system, const Packed& packed) : system_(system), packed_(packed) {
    for (const effects::Field& f : system.fields) values_.push_back(f.initial);
  }

  Story tell(const std::vector<std::uint32_t>& run, effects::ReportId wanted) {
    Story story;
    node_ = system_.start.value;
    step_ = 0;
    settle();
    for (std::size_t i = 0; i < run.size(); ++i) {
      step_ = static_cast<std::uint32_t>(i);
      places_.push_back(node_);
      if (!take(run[i], wanted)) break;
      if (finding_ == SIZE_MAX) settle(wanted);
    }
    cut_story(run, story);
    return story;
  }

 private:
  bool holds(effects::GuardId g, std::vector<FieldId>* read = nullptr) const {
    for (const effects::Clause& clause : system_.guards[g.value].any) {
      const bool all = std::all_of(clause.begin(), clause.end(),
                                   [&](const effects::Test& t) { return t.allowed >> values_[t.field.value] & 1; });
      if (!all) continue;
      if (read)
        for (const effects::Test& t : clause) read->push_back(t.field);
      return true;
    }
    return false;
  }

  // Strikes are cut down to each place when a system is simplified, so a strike is found by its interruption.
  const effects::Edge& edge(std::uint32_t packed, std::uint32_t node) const {
    if (packed < packed_.first_strike) return system_.edges[packed];
    const effects::Edges& place = system_.nodes[node];
    std::uint32_t s = place.first_strike;
    while (s + 1 < place.first_strike + place.strike_count &&
           system_.strikes[s].label.interruption.value != packed_.edges[packed].strikes)
      ++s;
    return system_.strikes[s];
  }

  bool take(std::uint32_t packed, effects::ReportId wanted) {
    const effects::Edge& e = edge(packed, node_);
    ++edges_taken_;
    if (packed >= packed_.first_strike) back_[packed_.edges[packed].strikes] = packed_.nodes[node_].returns_to;
    for (std::size_t i = 0; i < system_.fields.size(); ++i)
      if (system_.fields[i].scratch) values_[i] = 0;
    for (std::uint32_t i = 0; i < e.op_count; ++i) apply(system_.ops[e.first_op + i], wanted);
    if (e.ends) return false;
    node_ = e.goes_back ? back_[e.goes_back.value] : e.target.value;
    return true;
  }

  void settle(effects::ReportId wanted = {}) {
    while (!system_.nodes[node_].may_be_struck) {
      const effects::Edges& n = system_.nodes[node_];
      std::uint32_t e = n.first;
      while (e < n.first + n.count && !holds(system_.edges[e].guard)) ++e;
      if (e == n.first + n.count || !take(e, wanted)) return;
    }
  }

  void apply(const effects::Op& op, effects::ReportId wanted) {
    std::vector<FieldId> read;
    if (op.kind == OpKind::moment || op.kind == OpKind::mark || !holds(op.guard, &read)) return;
    if (op.kind == OpKind::report) {
      if (finding_ != SIZE_MAX) return;
      if (op.value != wanted.value) { pass_by(effects::ReportId(op.value)); return; }
      finding_ = executed_.size();
      finding_edge_ = edges_taken_;
      for (FieldId f : read)
        if (is_asked(f)) asked_.push_back(f);
      return;
    }
    std::uint32_t& a = values_[op.a.value];
    const std::uint32_t before = a;
    switch (op.kind) {
      case OpKind::set: a = op.value; break;
      case OpKind::raise: a = std::max(a, op.value); break;
      case OpKind::lift: a = std::max(a, values_[op.b.value]); break;
      case OpKind::lift_suspect: a = std::max(a, std::min(values_[op.b.value], effects::kSuspect)); break;
      case OpKind::copy: a = values_[op.b.value]; break;
      case OpKind::report:
      case OpKind::moment:
      case OpKind::mark: break;
    }
    if (a == before) return;
    if (op.b)
      read = {op.b};  // dirt comes from what was met; that the hand was gloved is no news
    else
      read.erase(std::remove_if(read.begin(), read.end(), [&](FieldId f) { return !leads_on(f); }), read.end());
    executed_.push_back({step_, edges_taken_, op.a, before, a, op.cause, std::move(read)});
  }

  void pass_by(effects::ReportId id) {
    on_the_way_.push_back(id);
    const effects::Report& report = system_.reports[id.value];
    if (report.code == diagnostics::Code::P502) withstood_.push_back({step_, executed_.size(), report.thing});
  }

  // What a finding asked of the world and what is worth telling: that something is clean, or was not named before, is
  // not.
  bool is_asked(FieldId f) const {
    switch (system_.fields[f.value].meaning.what) {
      case What::told:
      case What::missed:
      case What::struck:
      case What::worst: return false;
      case What::level: return values_[f.value] > effects::kClean;
      case What::worn:
      case What::in_hand:
      case What::order:
      case What::known:
      case What::owed:
      case What::reached:
      case What::unlooked:
      case What::wet:
      case What::zone:
      case What::declared:
      case What::recorded:
      case What::answer:
      case What::loop:
      case What::running:
      case What::monitor:
      case What::scratch: return true;
    }
    return true;
  }

  // Whether the reason of a change lies behind this field. What was worn while it happened is no reason.
  bool leads_on(FieldId f) const {
    switch (system_.fields[f.value].meaning.what) {
      case What::level: return values_[f.value] > effects::kClean;
      case What::scratch:
      case What::monitor:
      case What::worst: return true;
      case What::worn:
      case What::in_hand:
      case What::order:
      case What::known:
      case What::owed:
      case What::reached:
      case What::unlooked:
      case What::wet:
      case What::zone:
      case What::declared:
      case What::recorded:
      case What::answer:
      case What::struck:
      case What::loop:
      case What::running:
      case What::missed:
      case What::told: return false;
    }
    return false;
  }

  void forget_scratch(std::set<std::uint32_t>& fields) const {
    std::erase_if(fields, [&](std::uint32_t f) { return system_.fields[f].scratch; });
  }

  // Reads the executed operations backwards from the finding. A change is explained by what it read; what stood in the
  // field before it no longer matters, unless the change built on it (soil seen on what already may have carried).
  void cut_story(const std::vector<std::uint32_t>& run, Story& story) {
    std::set<std::uint32_t> wanted, direct;  // direct: asked by the finding itself, with no other step between
    for (FieldId f : asked_) {
      wanted.insert(f.value);
      direct.insert(f.value);
    }
    story.asked = asked_;
    story.on_the_way = on_the_way_;
    std::vector<std::vector<Change>> changes(run.size());
    std::vector<bool> over_soil(run.size());
    std::uint32_t within = finding_edge_;
    for (std::size_t i = std::min(finding_, executed_.size()); i-- > 0;) {
      const Executed& x = executed_[i];
      for (; !withstood_.empty() && withstood_.back().behind > i; withstood_.pop_back())
        over_soil[withstood_.back().step] = is_about(wanted, withstood_.back().thing);
      // What an edge read of its scratch and did not write itself was empty; an earlier edge's scratch is another's.
      if (x.edge != within) forget_scratch(wanted), forget_scratch(direct);
      within = x.edge;
      if (wanted.erase(x.wrote.value) == 0) continue;
      const bool scratch = system_.fields[x.wrote.value].scratch;
      const bool was_direct = direct.erase(x.wrote.value) != 0;
      if (was_direct && !scratch) story.roots.push_back({x.wrote, graph::NodeId(places_[x.step]), run[x.step]});
      for (FieldId f : x.read) {
        wanted.insert(f.value);
        if (scratch && was_direct) direct.insert(f.value);
      }
      if (!scratch && x.step < run.size()) changes[x.step].push_back({x.wrote, x.before, x.after, x.cause});
    }
    for (std::uint32_t f : direct) {
      const effects::Field& field = system_.fields[f];
      if (field.meaning.what == What::level && field.initial > effects::kClean)
        story.from_the_start.push_back(FieldId(f));
    }
    bool was_in_vain = false;
    for (std::uint32_t s = 0; s < run.size(); ++s) {
      const bool last = s + 1 == run.size();
      story.passed.push_back(passes_line(run[s], s) ? line_of(run[s], s) : graph::NodeId());
      const bool answer = tells_by_answer(run[s], s < places_.size() ? places_[s] : node_);
      const bool in_vain = over_soil[s] && !was_in_vain;
      was_in_vain = was_in_vain || over_soil[s];
      if (changes[s].empty() && !answer && !in_vain && !last) continue;
      std::reverse(changes[s].begin(), changes[s].end());
      story.steps.push_back({line_of(run[s], s), run[s], s + 1, std::move(changes[s]), answer});
      story.steps.back().over_soil = in_vain;
    }
  }

  bool is_about(const std::set<std::uint32_t>& fields, const effects::Bearer& thing) const {
    return std::any_of(fields.begin(), fields.end(), [&](std::uint32_t f) {
      const effects::FieldMeaning& meaning = system_.fields[f].meaning;
      return meaning.what == What::level && meaning.bearer == thing;
    });
  }

  // Where two act at once, the line taken need not be that of the node where the run stood.
  graph::NodeId line_of(std::uint32_t packed, std::uint32_t step) const {
    const std::uint32_t stood = places_.size() > step ? places_[step] : node_;
    const effects::Edge& taken = edge(packed, stood);
    return taken.by ? taken.by : graph::NodeId(stood);
  }

  bool passes_line(std::uint32_t packed, std::uint32_t step) const {
    using W = effects::EdgeLabel::What;
    const W what = edge(packed, places_.size() > step ? places_[step] : node_).label.what;
    return what != W::slips && what != W::strikes;
  }

  bool tells_by_answer(std::uint32_t packed, std::uint32_t node) const {
    using W = effects::EdgeLabel::What;
    const effects::EdgeLabel& label = edge(packed, node).label;
    switch (label.what) {
      case W::plain: return false;
      case W::looked: return std::find(label.found.begin(), label.found.end(), true) != label.found.end();
      case W::answered: return label.answer != 0;
      case W::strikes:
      case W::slips: return true;
    }
    return false;
  }

  const effects::System& system_;
  const Packed& packed_;
  std::vector<std::uint32_t> values_, places_;
  std::uint32_t node_ = 0, step_ = 0, edges_taken_ = 0, finding_edge_ = 0;
  std::map<std::uint32_t, std::uint32_t> back_;
  std::vector<Executed> executed_;
  std::vector<Withstood> withstood_;
  std::vector<FieldId> asked_;
  std::vector<effects::ReportId> on_the_way_;
  std::size_t finding_ = SIZE_MAX;
};

}  // namespace

Story tell(const effects::System& system, const Packed& packed, const Result& result, const Found& found) {
  return tell(system, packed, run_to(result, found), found.report);
}

Story tell(const effects::System& system, const Packed& packed, const std::vector<std::uint32_t>& run, std::uint32_t report) {
  return Replay(system, packed).tell(run, packed.reports[report]);
}

}  // namespace stepward::explore
