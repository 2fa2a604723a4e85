#include "order/open_phase.hpp"

#include <algorithm>
#include <bit>

#include "explore/redo.hpp"

namespace stepward::order {

OpenPhase::OpenPhase(const model::Protocol& protocol, const OpenVariant& variant, model::PhaseId phase, bool interruptions, std::uint64_t limit)
    : protocol_(protocol), variant_(variant), phase_(phase), limit_(limit), complete_(variant.packed.fits),
      choice_(variant.open.choices.front().node.value), lines_(static_cast<std::uint32_t>(variant.open.choices.front().begins.size())),
      stepper_(variant.packed, interruptions), states_(variant.packed.words), set_(states_, variant.packed.words),
      numbers_(variant.packed.reports.size()), tells_(variant.packed.edges.size(), 0) {
  if (complete_) find_beginnings();
}

std::uint32_t OpenPhase::done(std::uint32_t situation) const {
  const auto& fields = variant_.done.front();
  std::uint32_t out = 0;
  for (std::size_t i = 0; i < fields.size(); ++i) {
    const explore::Slot slot = variant_.packed.fields[fields[i].value];
    const std::uint32_t value = slot.mask ? explore::get(states_.row(situation), slot) : variant_.system.fields[fields[i].value].initial;
    out |= value << i;
  }
  return out;
}

std::uint32_t OpenPhase::take_in(const std::uint64_t* w, std::uint64_t hash) {
  complete_ = complete_ && states_.size() < limit_ && set_.make_room(1) && states_.make_room(1);
  if (!complete_) return nowhere;
  const auto next = static_cast<std::uint32_t>(states_.size());
  const std::uint32_t at = set_.insert(w, hash, next);
  if (at == next) std::copy_n(w, variant_.packed.words, states_.append_row());
  return at;
}

std::vector<OpenPhase::Taken> OpenPhase::taken_in() {
  std::vector<Taken> out;
  for (std::size_t k = 0; k < batch_.steps.size(); ++k) {
    const explore::Step& step = batch_.steps[k];
    out.push_back({step.via, step.over ? nowhere : take_in(batch_.words.data() + k * variant_.packed.words, step.hash)});
  }
  return out;
}

std::vector<OpenPhase::Taken> OpenPhase::steps(std::uint32_t state, bool struck) {
  batch_.clear();
  stepper_.expand(states_.row(state), struck, batch_);
  return taken_in();
}

OpenPhase::Taken OpenPhase::choose(std::uint32_t situation, std::uint32_t line) {
  const explore::Range edges = variant_.packed.nodes[choice_].edges;
  std::uint32_t edge = edges.first;
  while (variant_.system.edges[edge].label.answer != line) ++edge;
  batch_.clear();
  stepper_.follow_one(states_.row(situation), edge, batch_);
  const Taken taken = taken_in().front();
  // A question that nothing comes of is passed at once.
  if (taken.to != nowhere && not_begun_.count(situation) && is_choice(taken.to)) not_begun_.insert(taken.to);
  return taken;
}

bool OpenPhase::tells(std::uint32_t edge) {
  if (tells_[edge] == 0) tells_[edge] = explore::may_pass(variant_.packed, edge, [](const explore::PackedOp& op) { return op.what == explore::PackedOp::Do::report; }) ? 2 : 1;
  return tells_[edge] == 2;
}

bool OpenPhase::is_breach(std::uint32_t report) const {
  const effects::Report& r = variant_.system.reports[variant_.packed.reports[report].value];
  if (r.set_aside != UINT32_MAX) return false;
  return r.rule ? protocol_[r.rule].severity != model::Severity::advisory : r.severity == diagnostics::Severity::error;
}

// A step may pass into the next phase: what is asked there at once is not this one's matter.
bool OpenPhase::is_of_the_phase(std::uint32_t report) const {
  const graph::NodeId at = variant_.system.reports[variant_.packed.reports[report].value].node;
  return !at || variant_.open.graph[at].handler || variant_.open.graph[at].phase == phase_;
}

Broken OpenPhase::number_of(std::uint32_t report) {
  if (numbers_[report]) return *numbers_[report];
  Broken& out = numbers_[report].emplace(0);
  if (!is_breach(report) || !is_of_the_phase(report)) return out;
  const model::RuleId rule = variant_.system.reports[variant_.packed.reports[report].value].rule;
  if (!rule) return out = without_rule;
  const auto at = static_cast<std::size_t>(std::find(rules_.begin(), rules_.end(), rule) - rules_.begin());
  if (at == rules_.size()) rules_.push_back(rule);
  complete_ = complete_ && at < most_rules_told_apart;
  return out = Broken(1) << std::min(at, most_rules_told_apart - 1);
}

Broken OpenPhase::broken_on(std::uint32_t state, std::uint32_t edge) {
  Broken out = 0;
  if (!tells(edge)) return out;
  explore::redo(variant_.packed, states_.row(state), edge, [&](const explore::PackedOp& op) {
    if (op.what == explore::PackedOp::Do::report) out |= number_of(op.value);
  });
  return out;
}

bool OpenPhase::passes_a_breach(std::uint32_t state, std::uint32_t edge) {
  bool out = false;
  if (!tells(edge)) return out;
  explore::redo(variant_.packed, states_.row(state), edge, [&](const explore::PackedOp& op) {
    out = out || (op.what == explore::PackedOp::Do::report && is_breach(op.value));
  });
  return out;
}

bool OpenPhase::is_inside(std::uint32_t state) const {
  const graph::Node& node = variant_.open.graph.nodes[node_of(state)];
  return node.handler || node.phase == phase_;
}

/// Nothing strikes before the first line of a run, also where a choice stands before it.
bool OpenPhase::may_be_struck(std::uint32_t state, std::uint32_t came_from) const { return state != 0 && !not_begun_.count(came_from); }

// The lines before the phase are walked as they are written, and its own, too; a run is followed as long as it breaks nothing.
void OpenPhase::find_beginnings() {
  stepper_.begin(batch_);
  if (taken_in().front().to == nowhere) return;
  came_ = {{nowhere, nowhere, 0}};
  if (is_choice(0)) not_begun_.insert(0);
  std::vector<std::uint32_t> open{0};
  for (std::size_t i = 0; i < open.size() && complete_; ++i) {
    const std::uint32_t state = open[i];
    for (const Taken& t : steps_as_written(state)) {
      if (t.to == nowhere || never_comes_back(t.to) || is_behind(t.to) || passes_a_breach(state, t.edge)) continue;
      if (t.to >= came_.size()) came_.resize(t.to + 1, {nowhere, nowhere, nowhere});
      if (came_[t.to].steps != nowhere) continue;
      came_[t.to] = {state, t.edge, came_[state].steps + (is_choice(state) ? 0 : 1)};
      open.push_back(t.to);
    }
  }
}

bool OpenPhase::is_behind(std::uint32_t state) const {
  const graph::Node& node = variant_.open.graph.nodes[node_of(state)];
  return !node.handler && node.phase.value > phase_.value;
}

std::vector<OpenPhase::Taken> OpenPhase::steps_as_written(std::uint32_t state) {
  if (!is_choice(state)) return steps(state, may_be_struck(state, came_[state].from));
  const auto line = static_cast<std::uint32_t>(std::countr_one(done(state)));
  beginnings_.push_back(state);
  return line < lines_ ? std::vector<Taken>{choose(state, line)} : std::vector<Taken>();
}

const LineWay& OpenPhase::way(std::uint32_t situation, std::uint32_t line) {
  const auto [known, fresh] = ways_.try_emplace(std::uint64_t(situation) << 8 | line);
  if (!fresh) return known->second;
  LineWay& out = known->second;
  const Taken first = choose(situation, line);
  out.broken = broken_on(situation, first.edge);
  if (first.to == nowhere || !is_inside(first.to)) return out;
  std::set<std::uint32_t> leads_to, seen{first.to};
  std::vector<std::uint32_t> open{first.to};
  while (!open.empty() && complete_) {
    const std::uint32_t state = open.back();
    open.pop_back();
    if (is_choice(state)) { leads_to.insert(state); continue; }
    if (never_comes_back(state)) { out.broken |= broken_for_good(state); continue; }
    const bool first_of_run = state == first.to && !may_be_struck(state, situation);
    for (const Taken& t : steps(state, !first_of_run)) {
      out.broken |= broken_on(state, t.edge);
      if (t.to != nowhere && is_inside(t.to) && seen.insert(t.to).second) open.push_back(t.to);
    }
  }
  out.leads_to.assign(leads_to.begin(), leads_to.end());
  return out;
}

/// All that is broken from here to the end of the run, where no way leads back to a choice.
Broken OpenPhase::broken_for_good(std::uint32_t from) {
  const auto [known, fresh] = for_good_.try_emplace(from, 0);
  if (!fresh) return known->second;
  std::set<std::uint32_t> seen{from};
  std::vector<std::uint32_t> open{from};
  while (!open.empty() && complete_) {
    const std::uint32_t state = open.back();
    open.pop_back();
    for (const Taken& t : steps(state, true)) {
      known->second |= broken_on(state, t.edge);
      if (t.to != nowhere && seen.insert(t.to).second) open.push_back(t.to);
    }
  }
  return known->second;
}

std::vector<OpenPhase::Step> OpenPhase::path_to(std::uint32_t state, const std::map<std::uint32_t, Came>& came) const {
  std::vector<Step> out;
  for (auto at = came.find(state); at != came.end() && at->second.from != nowhere; at = came.find(state)) {
    out.push_back({at->second.edge, graph::NodeId(node_of(at->second.from))});
    state = at->second.from;
  }
  for (; came_[state].from != nowhere; state = came_[state].from) out.push_back({came_[state].edge, graph::NodeId(node_of(came_[state].from))});
  std::reverse(out.begin(), out.end());
  return out;
}

std::optional<BrokenRun> OpenPhase::run_that_breaks(std::uint32_t beginning, const std::vector<std::uint32_t>& order, model::RuleId rule) {
  std::map<std::uint32_t, Came> came{{beginning, {nowhere, nowhere, 0}}};
  std::vector<std::uint32_t> open{beginning};
  const auto already = static_cast<std::size_t>(std::popcount(done(beginning)));
  for (std::size_t i = 0; i < open.size() && complete_; ++i) {
    const std::uint32_t state = open[i];
    std::vector<Taken> taken;
    if (is_choice(state)) {
      const std::size_t next = static_cast<std::size_t>(std::popcount(done(state))) - already;
      taken = {choose(state, next < order.size() ? order[next] : lines_)};
    } else {
      taken = steps(state, may_be_struck(state, came[state].from));
    }
    for (const Taken& t : taken) {
      if (const auto report = report_of(state, t.edge, rule)) {
        BrokenRun out{path_to(beginning, {}), 0, *report};
        out.before = out.steps.size();
        out.steps = path_to(state, came);
        out.steps.push_back({t.edge, graph::NodeId(node_of(state))});
        return out;
      }
      if (t.to == nowhere || !is_inside(t.to)) continue;
      if (came.try_emplace(t.to, Came{state, t.edge, 0}).second) open.push_back(t.to);
    }
  }
  return std::nullopt;
}

/// The report of this rule that a step passes.
std::optional<std::uint32_t> OpenPhase::report_of(std::uint32_t state, std::uint32_t edge, model::RuleId rule) {
  std::optional<std::uint32_t> out;
  if (!tells(edge)) return out;
  explore::redo(variant_.packed, states_.row(state), edge, [&](const explore::PackedOp& op) {
    if (out || op.what != explore::PackedOp::Do::report || number_of(op.value) == 0) return;
    if (variant_.system.reports[variant_.packed.reports[op.value].value].rule == rule) out = op.value;
  });
  return out;
}

}  // namespace stepward::order
