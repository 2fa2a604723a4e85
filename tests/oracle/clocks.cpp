#include "clocks.hpp"

#include <algorithm>

#include "lines.hpp"

namespace stepward::oracle {
namespace {

struct Bound {
  bool at_most = true;
  std::uint64_t seconds = 0;
  std::string name;   ///< the rule's number or the timer's name
  std::string key;    ///< tells clocks of one name apart
  Code broken, open;  ///< what is said
};

std::uint64_t capped(const Bound& bound, std::uint64_t seconds) {
  return std::min(seconds, bound.seconds + (bound.at_most ? 1 : 0));
}

/// "contact time … for S": the longest of the things; where a name stands for whatever is worn, the least of all.
std::uint64_t contact_seconds(const Step& step, const Line& line) {
  const auto& times = step.protocol()[line.agent].contact_times;
  std::uint64_t longest = 0, least = times.empty() ? 0 : UINT64_MAX;
  for (const ContactTime& time : times) least = std::min<std::uint64_t>(least, time.time.seconds);
  for (const Thing& thing : line.things) {
    if (thing.what == Thing::What::hands || thing.what == Thing::What::kind) return least;
    const NamedThing named = named_by(step.c(), step.world, thing, line.who);
    std::uint64_t mine = 0;
    bool is_named = false;
    for (const ContactTime& time : times) {
      if (is_named || time.on.empty() || !is_target(step.c(), time.on, named.of)) continue;
      mine = time.time.seconds;
      is_named = true;
    }
    for (const ContactTime& time : times) {
      if (is_named || !time.on.empty()) continue;
      mine = time.time.seconds;
      is_named = true;
    }
    longest = std::max(longest, mine);
  }
  return longest;
}

LineTime time_of(const Step& step, const Line& line) {
  LineTime time;
  if (line.verb == VerbKind::start_timer || line.verb == VerbKind::stop_timer) return {0, 0};
  if (line.verb == VerbKind::wait && !line.wait_contact_time) {
    time = {line.wait.seconds, line.wait.seconds};
  } else {
    if (line.at_least) time.least = line.at_least->seconds;
    if (line.at_most) time.greatest = line.at_most->seconds;
    if (has_contact_time(line)) time.least = std::max(time.least, contact_seconds(step, line));
  }
  // "Two people at once take no longer than the slower one."
  if (step.other_is_busy) time.least = 0;
  return time;
}

LineTime now(const Step& step, const Clock& clock, bool after_the_line, const ClockKey& key) {
  LineTime shown{clock.least, clock.greatest};
  if (!after_the_line || step.line == nullptr || step.time_has_passed || step.fresh_clocks.count(key) > 0) return shown;
  const LineTime line = time_of(step, *step.line);
  shown.least += line.least;
  shown.greatest = shown.greatest && line.greatest ? std::optional(*shown.greatest + *line.greatest) : std::nullopt;
  return shown;
}

void end_clock(Step& step, const Bound& bound, const ClockKey& key, bool after_the_line) {
  const auto found = step.world.clocks.find(key);
  if (found == step.world.clocks.end()) return;
  const LineTime shown = now(step, found->second, after_the_line, key);
  step.world.clocks.erase(found);
  const bool is_broken = bound.at_most ? shown.least > bound.seconds : shown.greatest && *shown.greatest < bound.seconds;
  const bool is_open = bound.at_most ? !shown.greatest || *shown.greatest > bound.seconds : shown.least < bound.seconds;
  if (is_broken) step.findings.insert({bound.broken, step.where, bound.name, bound.key});
  if (is_open) step.findings.insert({bound.open, step.where, bound.name, bound.key});
}

void begin_clock(Step& step, const Bound& bound, const ClockKey& key) {
  if (bound.at_most && step.world.clocks.count(key) > 0) return;  // the older one is the stricter one
  step.world.clocks[key] = Clock{0, 0, bound.at_most, bound.seconds};
  step.fresh_clocks.insert(key);
}

Bound bound_of(const Rule& rule, const RuleBinding& watched) {
  const bool advisory = rule.severity == model::Severity::advisory;
  return {rule.pattern == Pattern::within, rule.bound.seconds, rule.number,
          std::to_string(watched.binding.person.value) + "/" + std::to_string(watched.binding.item.value),
          advisory ? Code::R104 : Code::R103, Code::R202};
}

ClockKey key_of(const RuleBinding& watched) {
  return {0, watched.index, watched.binding.person.value, watched.binding.item.value};
}

template <class Do>
void for_each_clock(Step& step, Pattern pattern, Do what) {
  for (const RuleBinding& watched : all_rule_bindings(step)) {
    const Rule& rule = step.protocol().rules[watched.index];
    if (rule.pattern == pattern) what(rule, watched);
  }
}

void begin_those_of(Step& step, Pattern pattern, const Moment& moment) {
  for_each_clock(step, pattern, [&](const Rule& rule, const RuleBinding& watched) {
    const RuleView first{step.c(), step.world, watched.binding, true};
    if (!meets_events(first, rule.trigger, moment)) return;
    step.note(pattern == Pattern::within ? "pattern 7: within" : "pattern 9: at least");
    begin_clock(step, bound_of(rule, watched), key_of(watched));
  });
}

void end_those_of(Step& step, Pattern pattern, const Moment& moment, bool after_the_line) {
  for_each_clock(step, pattern, [&](const Rule& rule, const RuleBinding& watched) {
    const RuleView later{step.c(), step.world, watched.binding, false};
    if (meets_events(later, rule.require, moment)) {
      end_clock(step, bound_of(rule, watched), key_of(watched), after_the_line);
    }
  });
}

bool is_normal_ending(const Step& step, const Moment& moment) {
  return std::any_of(moment.begin(), moment.end(), [&](const Fact& fact) {
    return fact.what == Event::What::ending && step.protocol()[fact.ending].normal;
  });
}

}  // namespace

void ask_clocks(Step& step, const Moment& moment) {
  end_those_of(step, Pattern::at_least, moment, false);
  if (!is_normal_ending(step, moment)) return;
  for_each_clock(step, Pattern::within, [&](const Rule& rule, const RuleBinding& watched) {
    const Bound bound = bound_of(rule, watched);
    if (step.world.clocks.count(key_of(watched)) == 0) return;
    step.findings.insert({bound.broken, step.where, bound.name, bound.key});
  });
}

void let_clocks_happen(Step& step, const Moment& moment) {
  end_those_of(step, Pattern::within, moment, true);
  begin_those_of(step, Pattern::within, moment);
  begin_those_of(step, Pattern::at_least, moment);
}

void pass_time(Step& step, const Line& line) {
  if (step.time_has_passed) return;
  const LineTime time = time_of(step, line);
  for (auto& [key, clock] : step.world.clocks) {
    if (step.fresh_clocks.count(key) > 0) continue;
    const Bound bound{clock.at_most, clock.bound, {}, {}, Code::R103, Code::R202};
    clock.least = capped(bound, clock.least + time.least);
    clock.greatest = clock.greatest && time.greatest ? std::optional(capped(bound, *clock.greatest + *time.greatest)) : std::nullopt;
  }
  step.time_has_passed = true;
}

// ---------------------------------------------------------------- timers

namespace {

/// The bounds that lines which start this timer give, with the place of the line.
void for_each_timer_bound(const Step& step, TimerId timer, const std::function<void(const Bound&, const ClockKey&, const Line&)>& what) {
  for (std::uint32_t at = 0; at < step.protocol().lines.size(); ++at) {
    const Line& line = step.protocol().lines[at];
    if (line.verb != VerbKind::start_timer || line.timer != timer) continue;
    const std::string name = step.protocol()[timer].name;
    if (line.at_least) what({false, line.at_least->seconds, name, line.id + " least", Code::T811, Code::T812}, {1, at, 0, 0}, line);
    if (line.at_most) what({true, line.at_most->seconds, name, line.id + " most", Code::T811, Code::T812}, {2, at, 0, 0}, line);
  }
}

}  // namespace

void start_timer(Step& step, const Line& line) {
  Fact fact = plain_fact(step, Event::What::timer_starts);
  fact.timer = line.timer;
  ask_own(step, line, {fact});
  if (!step.world.running.insert(line.timer).second) step.say(Code::T802, step.protocol()[line.timer].name, step.doer);
  for_each_timer_bound(step, line.timer, [&](const Bound& bound, const ClockKey& key, const Line& by) {
    if (&by == &line) begin_clock(step, bound, key);
  });
  happen_own(step, line, {fact});
}

void stop_timer(Step& step, const Line& line) {
  Fact fact = plain_fact(step, Event::What::timer_stops);
  fact.timer = line.timer;
  ask_own(step, line, {fact});
  if (step.world.running.erase(line.timer) == 0) step.say(Code::T801, step.protocol()[line.timer].name, step.doer);
  for_each_timer_bound(step, line.timer, [&](const Bound& bound, const ClockKey& key, const Line&) {
    end_clock(step, bound, key, bound.at_most);
  });
  happen_own(step, line, {fact});
}

void say_running_timers(Step& step) {
  for (const TimerId timer : step.world.running) step.say(Code::T803, step.protocol()[timer].name, RoleId{});
}

}  // namespace stepward::oracle
