#include "rules/weave.hpp"

#include <algorithm>
#include <map>

#include "model/blocks.hpp"
#include "rules/match.hpp"

namespace stepward::rules {
namespace {

using effects::FieldId;
using effects::Formula;
using effects::Moment;
using effects::Op;
using effects::OpKind;
using model::Event;
using model::Pattern;
using model::RuleId;

// One rule under one binding, with the fields that remember for it. Bounds on time remember nothing: their clocks are
// read off the finished walk, so only where they begin and end is marked.
struct Monitor {
  RuleId rule;
  Binding binding;
  std::vector<FieldId> memory;  ///< before_each: one per required event; after_each: one per required event, or one stage; right_after, always: one
  std::uint32_t timing = 0;       ///< within, at_least: index into the system's timings
  bool tested = false;          ///< some moment can put it to the test
  bool begins = false;          ///< after_each, right_after_each: something can call for what the rule requires
  std::uint64_t hears = 0;      ///< bit w: moments of that kind may matter to it
};

class Weaver {
 public:
  Weaver(const model::Protocol& protocol, effects::Lowered& lowered, effects::HoldBack hold_back)
      : protocol_(protocol), world_(lowered.world), system_(lowered.system), matcher_(protocol, world_), guards_(system_.guards), hold_back_(hold_back) {
    for (std::size_t r = 0; r < protocol.rules.size(); ++r) make_monitors(RuleId(r));
    for (const model::SetAside& aside : protocol.set_aside) excepted_.push_back(model::blocks_within(protocol, aside.blocks));
  }

  std::vector<RuleId> weave() {
    std::vector<Op> before;
    before.swap(system_.ops);
    world_.keep_scratch();
    for (std::uint32_t n = 0; n < system_.nodes.size(); ++n)
      for (std::uint32_t e = 0; e < system_.nodes[n].count; ++e)
        weave_edge(before, system_.edges[system_.nodes[n].first + e]);
    for (effects::Edge& e : system_.strikes) weave_edge(before, e);
    std::vector<RuleId> untested;
    for (std::size_t r = 0; r < protocol_.rules.size(); ++r)
      if (std::none_of(monitors_.begin(), monitors_.end(), [&](const Monitor& m) { return m.rule.value == r && is_tested(m); }))
        untested.push_back(RuleId(r));
    return untested;
  }

 private:
  /// Before its ending, "after each A require B before C" asks nothing where no A can be, however many C there are.
  bool is_tested(const Monitor& m) const {
    const Pattern pattern = protocol_[m.rule].pattern;
    return m.tested && (m.begins || (pattern != Pattern::after_each && pattern != Pattern::right_after_each));
  }

  void make_monitors(RuleId id) {
    const model::Rule& rule = protocol_[id];
    const std::size_t fields = fields_of(rule);
    // What the start itself asks for is owed, or what it gives is met, before the first line.
    const auto is_start = [](const Event& e) { return e.what == Event::What::start; };
    const auto& first = rule.pattern == Pattern::after_each ? rule.trigger.events : rule.require.events;
    const std::uint32_t at_start = std::any_of(first.begin(), first.end(), is_start) ? 1 : 0;
    std::uint32_t memory = 0;
    for (const Binding& b : matcher_.bindings(rule)) {
      Monitor m{id, b, {}, 0, false};
      if (is_timed(rule)) {
        m.timing = static_cast<std::uint32_t>(system_.timings.size());
        const auto& from = rule.trigger.events;
        const bool from_the_start = std::any_of(from.begin(), from.end(), is_start);
        system_.timings.push_back({rule.pattern == Pattern::within, rule.bound.seconds, id, {}, from_the_start});
        m.tested = from_the_start;
      }
      m.begins = at_start == 1;
      for (std::size_t i = 0; i < fields; ++i) m.memory.push_back(world_.monitor(id.value, memory++, rule.has_then ? 2 : 1, at_start));
      m.hears = heard_by(rule);
      monitors_.push_back(std::move(m));
    }
  }

  static bool is_timed(const model::Rule& rule) { return rule.pattern == Pattern::within || rule.pattern == Pattern::at_least; }

  static std::size_t fields_of(const model::Rule& rule) {
    switch (rule.pattern) {
      case Pattern::before_each: return rule.require.all ? rule.require.events.size() : 1;
      case Pattern::after_each: return rule.require.all && !rule.has_then ? rule.require.events.size() : 1;
      case Pattern::right_after_each:
      case Pattern::always: return 1;
      case Pattern::never:
      case Pattern::at_ending:
      case Pattern::within:
      case Pattern::at_least: return 0;
    }
    return 0;
  }

  // Most moments matter to few rules; the others need not be asked what they make of them.
  static std::uint64_t heard_by(const model::Rule& rule) {
    if (rule.pattern == Pattern::right_after_each) return ~std::uint64_t(0);  // whatever comes next matters
    const auto bit = [](Event::What what) { return std::uint64_t(1) << static_cast<unsigned>(what); };
    std::uint64_t out = 0;
    if (rule.pattern == Pattern::at_ending || rule.pattern == Pattern::within) out = bit(Event::What::ending);
    if (rule.pattern == Pattern::always) out = bit(Event::What::touches);
    for (const model::Events* events : {&rule.trigger, &rule.require, &rule.then, &rule.since, &rule.before})
      for (const Event& e : events->events)
        for (unsigned w = 0; w <= static_cast<unsigned>(Event::What::any_ending); ++w)
          if (may_match(e, static_cast<Event::What>(w))) out |= std::uint64_t(1) << w;
    return out;
  }

  void weave_edge(const std::vector<Op>& before, effects::Edge& edge) {
    const graph::NodeId node = edge.by;
    node_ = node;
    world_.new_edge();
    const std::uint32_t first = edge.first_op, count = edge.op_count;
    edge.first_op = static_cast<std::uint32_t>(system_.ops.size());
    const bool new_line = node && world_.graph()[node].kind == graph::NodeKind::line;
    if (new_line) begin_line(world_.graph()[node].line);
    for (std::uint32_t i = first; i < first + count; ++i) {
      const Op op = before[i];
      if (op.kind != OpKind::moment) { system_.ops.push_back(op); continue; }
      const Moment& moment = system_.moments[op.value];
      const Formula when = guards_.formula(op.guard);
      for (std::uint32_t m = 0; m < monitors_.size(); ++m)
        if (monitors_[m].hears >> static_cast<unsigned>(moment.what) & 1) at_moment(monitors_[m], m, moment, when);
    }
    if (new_line) end_line();
    if (!node || world_.graph()[node].line) after_line(node);
    for (const auto& [told, now] : to_tell_) emit(OpKind::set, told, 1, Formula::is(now, 1));
    to_tell_.clear();
    edge.op_count = static_cast<std::uint32_t>(system_.ops.size()) - edge.first_op;
  }

  void emit(OpKind kind, FieldId a, std::uint32_t value, const Formula& when, FieldId b = {}) {
    if (when.is_never()) return;
    if (system_.causes.empty() || !remembered_) {
      remembered_ = static_cast<std::uint32_t>(system_.causes.size());
      system_.causes.push_back({effects::Cause::What::remembered, {}, 0xFF, {}, 0xFF});
    }
    system_.ops.push_back({kind, guards_.file(when), a, b, value, remembered_});
  }

  effects::Report report_of(const Monitor& monitor, const Moment& moment) const {
    const model::Rule& rule = protocol_[monitor.rule];
    effects::Report r;
    r.code = rule.severity == model::Severity::advisory ? diagnostics::Code::R102 : diagnostics::Code::R101;
    r.set_aside = set_aside_here(monitor.rule);
    if (r.set_aside != UINT32_MAX) r.code = diagnostics::Code::R105;
    r.severity = diagnostics::default_severity(r.code);
    r.node = node_;
    r.line = moment.line;
    r.rule = monitor.rule;
    r.person = moment.who;
    if (!moment.things.empty()) { r.thing = moment.things.front(); r.has_thing = true; }
    return r;
  }

  /// Of a state that is asked for: where nothing can break it, that is kept for whoever lists what is asked where.
  void report_state(Monitor& monitor, const Moment& moment, const Formula& when) {
    monitor.tested = true;
    if (when.is_never()) system_.never_broken.push_back(report_of(monitor, moment));
    else report(monitor, moment, when);
  }

  void report(Monitor& monitor, const Moment& moment, const Formula& when) {
    if (when.is_never()) return;
    monitor.tested = true;
    const effects::Report r = report_of(monitor, moment);
    Formula said = when;
    const bool hold = hold_back_ == effects::HoldBack::yes && r.severity == diagnostics::Severity::error && r.has_thing;
    if (hold) said = said & Formula::is(world_.told(r.thing), 0);
    system_.reports.push_back(r);
    emit(OpKind::report, {}, static_cast<std::uint32_t>(system_.reports.size() - 1), said);
    if (!hold) return;
    const FieldId now = world_.scratch();
    emit(OpKind::set, now, 1, said);
    to_tell_.emplace_back(world_.told(r.thing), now);
  }

  /// The exception that covers a breach of this rule at the node that is being woven; UINT32_MAX: none.
  std::uint32_t set_aside_here(RuleId rule) const {
    const model::BlockId in = node_ ? world_.graph()[node_].in : model::BlockId();
    for (std::uint32_t i = 0; in && i < excepted_.size(); ++i)
      if (protocol_.set_aside[i].rule == rule && excepted_[i][in.value]) return i;
    return UINT32_MAX;
  }
  /// What is told once is not told again behind it; a breach that is only listed holds nothing back.
  bool holds_back(RuleId rule) const { return hold_back_ == effects::HoldBack::yes && set_aside_here(rule) == UINT32_MAX; }

  Formula at_once(const model::Events& events, const Moment& m, const Binding& b) {
    Formula out = events.all ? Formula::always() : Formula::never();
    for (const Event& e : events.events) out = events.all ? out & matcher_.matches(e, m, b) : out | matcher_.matches(e, m, b);
    return out;
  }
  Formula trigger(const model::Rule& rule, const Moment& m, const Binding& b) {
    const bool all = rule.trigger.all;
    Formula out = all ? Formula::always() : Formula::never();
    for (const Event& e : rule.trigger.events) out = all ? out & matcher_.binds_here(e, m, b) : out | matcher_.binds_here(e, m, b);
    return out;
  }

  /// When this moment calls for what the rule requires.
  Formula called_for(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    const Formula out = when & trigger(rule, m, monitor.binding);
    if (!out.is_never()) monitor.begins = true;
    return out;
  }

  void at_moment(Monitor& monitor, std::uint32_t index, const Moment& m, const Formula& when) {
    const model::Rule& rule = protocol_[monitor.rule];
    switch (rule.pattern) {
      case Pattern::before_each: before_each(monitor, rule, m, when); break;
      case Pattern::after_each: after_each(monitor, rule, m, when); break;
      case Pattern::right_after_each: right_after(monitor, index, rule, m, when); break;
      case Pattern::never: never(monitor, rule, m, when); break;
      case Pattern::at_ending: at_ending(monitor, rule, m, when); break;
      case Pattern::within: within(monitor, rule, m, when); break;
      case Pattern::always:
        if (!m.asked) always(monitor, rule, m, when);
        break;
      case Pattern::at_least: at_least(monitor, rule, m, when); break;
    }
  }

  void before_each(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    if (m.asked) {
      const Formula asked = when & trigger(rule, m, monitor.binding);
      Formula missing;
      for (FieldId f : monitor.memory) missing = missing | Formula::is(f, 0);
      report(monitor, m, asked & missing);
      if (holds_back(monitor.rule) && !asked.is_never()) for (FieldId f : monitor.memory) emit(OpKind::set, f, 1, asked);
      return;
    }
    if (rule.has_since) {
      const Formula forget = when & at_once(rule.since, m, monitor.binding);
      for (FieldId f : monitor.memory) emit(OpKind::set, f, 0, forget);
    }
    if (!rule.require.all) { emit(OpKind::set, monitor.memory[0], 1, when & at_once(rule.require, m, monitor.binding)); return; }
    for (std::size_t i = 0; i < monitor.memory.size(); ++i)
      emit(OpKind::set, monitor.memory[i], 1, when & matcher_.matches(rule.require.events[i], m, monitor.binding));
  }

  // Memory is what is still owed: 0 nothing, 1 the requirement, 2 what comes then.
  void after_each(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    if (m.asked) {
      const Formula asked = when & at_once(rule.before, m, monitor.binding);
      Formula owed;
      for (FieldId f : monitor.memory) owed = owed | Formula::test(f, 0b110);
      report(monitor, m, asked & owed);
      if (holds_back(monitor.rule) && !asked.is_never()) for (FieldId f : monitor.memory) emit(OpKind::set, f, 0, asked);
      return;
    }
    if (rule.has_then) emit(OpKind::set, monitor.memory[0], 0, when & Formula::is(monitor.memory[0], 2) & at_once(rule.then, m, monitor.binding));
    if (rule.require.all && !rule.has_then) {
      for (std::size_t i = 0; i < monitor.memory.size(); ++i)
        emit(OpKind::set, monitor.memory[i], 0, when & matcher_.matches(rule.require.events[i], m, monitor.binding));
    } else {
      emit(OpKind::set, monitor.memory[0], rule.has_then ? 2 : 0, when & Formula::is(monitor.memory[0], 1) & at_once(rule.require, m, monitor.binding));
    }
    const Formula begins = called_for(monitor, rule, m, when);
    for (FieldId f : monitor.memory) emit(OpKind::set, f, 1, begins);
  }

  void right_after(Monitor& monitor, std::uint32_t index, const model::Rule& rule, const Moment& m, const Formula& when) {
    if (m.asked) {
      // An emergency ending leaves the rest to whoever takes over.
      if (m.what == Event::What::ending) {
        if (protocol_[m.ending].normal) report(monitor, m, when & Formula::is(monitor.memory[0], 1));
      }
      else if (due_.count(index)) {
        if (m.what == Event::What::cleans) fall_due(index, when);
        if (is_own_event(m.what)) emit(OpKind::set, due_[index].second, 1, when & at_once(rule.require, m, monitor.binding));
      }
      return;
    }
    emit(OpKind::set, monitor.memory[0], 1, called_for(monitor, rule, m, when));
  }

  void never(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    if (!m.asked) return;
    Formula bad = when & trigger(rule, m, monitor.binding);
    if (bad.is_never()) return;
    if (rule.has_unless) bad = bad & world_.negate(matcher_.holds(rule.unless, monitor.binding));
    if (rule.has_while) bad = bad & matcher_.holds(rule.while_states, monitor.binding);
    report_state(monitor, m, bad);
  }

  void at_ending(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    if (!m.asked || m.what != Event::What::ending || (!rule.any_ending && m.ending != rule.ending)) return;
    report_state(monitor, m, when & world_.negate(matcher_.holds(rule.at_end, monitor.binding)));
  }

  // Told when it begins to be broken, not again while it stays so.
  void always(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    const Formula meant = rule.has_while ? matcher_.holds(rule.while_states, monitor.binding) : Formula::always();
    if (meant.is_never()) return;
    monitor.tested = true;
    const FieldId broken = monitor.memory[0], now = world_.scratch();
    emit(OpKind::set, now, 1, when & meant & world_.negate(matcher_.holds(rule.always, monitor.binding)));
    report(monitor, m, Formula::is(now, 1) & Formula::is(broken, 0));
    emit(OpKind::set, broken, 0, when & Formula::is(now, 0));
    emit(OpKind::set, broken, 1, Formula::is(now, 1));
  }

  void after_line(graph::NodeId node) {
    Moment m;
    if (node) m.line = world_.graph()[node].line;
    if (m.line) m.who = protocol_[m.line].who;
    for (Monitor& monitor : monitors_)
      if (protocol_[monitor.rule].pattern == Pattern::always) always(monitor, protocol_[monitor.rule], m, Formula::always());
  }

  // ---- bounds on time: the clock is read off the walk, only its beginnings and ends are marked here

  void mark(effects::Mark::What what, const Monitor& monitor, const Moment& m, const Formula& when) {
    if (when.is_never()) return;
    system_.marks.push_back({what, monitor.timing, m.asked, m.line, node_});
    system_.ops.push_back({OpKind::mark, guards_.file(when), {}, {}, static_cast<std::uint32_t>(system_.marks.size() - 1), 0});
  }

  // From the end of A to the end of B; where one line is both, it ends the old clock before it begins a new one.
  void within(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    if (m.asked) {
      if (m.what == Event::What::ending && protocol_[m.ending].normal) mark(effects::Mark::What::runs_out, monitor, m, when);
      return;
    }
    mark(effects::Mark::What::ends, monitor, m, when & at_once(rule.require, m, monitor.binding));
    begin_clock(monitor, rule, m, when);
  }

  // From the end of A to the beginning of B.
  void at_least(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    if (m.asked)
      mark(effects::Mark::What::ends, monitor, m, when & at_once(rule.require, m, monitor.binding));
    else
      begin_clock(monitor, rule, m, when);
  }

  void begin_clock(Monitor& monitor, const model::Rule& rule, const Moment& m, const Formula& when) {
    const Formula begins = when & trigger(rule, m, monitor.binding);
    if (!begins.is_never()) monitor.tested = true;
    mark(effects::Mark::What::begins, monitor, m, begins);
  }

  // Whether a line of this person counts as "the next line".
  static bool counts(const model::Line& line) {
    using V = model::VerbKind;
    switch (line.verb) {
      case V::don: case V::doff: case V::disinfect: case V::clean: case V::inspect: case V::test: case V::declare: case V::take:
      case V::pass: case V::act: case V::move: return true;
      case V::decide: case V::record: case V::report: case V::call: case V::wait: case V::start_timer: case V::stop_timer: return false;
    }
    return false;
  }

  // The line that comes right after is due: what it is is seen at its asked moments, and judged when it is over.
  void begin_line(model::LineId id) {
    due_.clear();
    line_ = id;
    const model::Line& line = protocol_[id];
    if (!counts(line)) return;
    for (std::uint32_t i = 0; i < monitors_.size(); ++i) {
      const Monitor& m = monitors_[i];
      const model::Rule& rule = protocol_[m.rule];
      if (rule.pattern != Pattern::right_after_each || !is_doer_of(rule, line.who, m.binding)) continue;
      const FieldId due = world_.scratch(), met = world_.scratch();
      due_[i] = {due, met};
      // A cleaning with nothing to clean is passed over: it becomes the next line only when it is asked.
      if (line.verb != model::VerbKind::clean) fall_due(i, Formula::always());
    }
  }

  void fall_due(std::uint32_t index, const Formula& when) {
    const FieldId due = due_[index].first, memory = monitors_[index].memory[0];
    emit(OpKind::lift, due, 0, when, memory);
    emit(OpKind::set, memory, 0, Formula::is(due, 1));
  }

  bool is_doer_of(const model::Rule& rule, model::RoleId who, const Binding& binding) const {
    return std::any_of(rule.trigger.events.begin(), rule.trigger.events.end(), [&](const Event& e) {
      return binding.person ? binding.person == who : matcher_.person_is(e.who, who, binding);
    });
  }

  void end_line() {
    for (const auto& [index, fields] : due_) {
      Moment m;
      m.line = line_;
      m.who = protocol_[line_].who;
      report(monitors_[index], m, Formula::is(fields.first, 1) & Formula::is(fields.second, 0));
    }
    due_.clear();
  }

  const model::Protocol& protocol_;
  effects::World& world_;
  effects::System& system_;
  Matcher matcher_;
  effects::GuardBook guards_;
  effects::HoldBack hold_back_;
  std::vector<Monitor> monitors_;
  std::vector<std::vector<bool>> excepted_;  ///< by rule set aside and block
  std::map<std::uint32_t, std::pair<FieldId, FieldId>> due_;  ///< monitor → due, met
  std::vector<std::pair<FieldId, FieldId>> to_tell_;
  graph::NodeId node_;
  model::LineId line_;
  std::uint32_t remembered_ = 0;
};

}  // namespace

std::vector<model::RuleId> weave(const model::Protocol& protocol, effects::Lowered& lowered, effects::HoldBack hold_back) {
  return Weaver(protocol, lowered, hold_back).weave();
}

effects::Lowered woven(const model::Protocol& protocol, const graph::Graph& graph, effects::HoldBack hold_back) {
  effects::Lowered lowered = effects::from_graph(protocol, graph, hold_back);
  weave(protocol, lowered, hold_back);
  return lowered;
}

}  // namespace stepward::rules
