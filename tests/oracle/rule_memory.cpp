// Section 6: the patterns that remember; bounds on time are in clocks.cpp. "At each moment: test, then clear, then set."
#include "rule_memory.hpp"

#include <algorithm>

#include "clocks.hpp"

namespace stepward::oracle {
namespace {

constexpr std::uint32_t nobody = UINT32_MAX;

struct Watched {
  std::uint32_t index = 0;
  const Rule& rule;
  Binding binding;
};

/// "`any item`, `any <kind>`, `anyone` in the first event bind: one memory per item of that kind, and per person."
std::vector<Binding> bindings_of(const Case& c, const Rule& rule) {
  const auto& first = rule.trigger.events;
  std::vector<RoleId> people{RoleId{}};
  std::vector<ItemId> items{ItemId{}};
  if (std::any_of(first.begin(), first.end(), binds_person)) people = all_people(c);
  if (std::any_of(first.begin(), first.end(), binds_item)) {
    items.clear();
    for (std::uint32_t at = 0; at < c.protocol.items.size(); ++at) items.push_back(ItemId{at});
  }
  std::vector<Binding> bindings;
  for (const RoleId person : people) {
    for (const ItemId item : items) bindings.push_back({person, item});
  }
  return bindings;
}

template <class Do>
void for_each_rule(const Step& step, Do what) {
  for (std::uint32_t at = 0; at < step.protocol().rules.size(); ++at) {
    const Rule& rule = step.protocol().rules[at];
    for (const Binding& binding : bindings_of(step.c(), rule)) what(Watched{at, rule, binding});
  }
}

MemoryKey key_of(const Watched& watched) {
  return {watched.index, watched.binding.person.value, watched.binding.item.value};
}

Memory remembered(const Step& step, const Watched& watched) {
  const auto found = step.world.memories.find(key_of(watched));
  return found == step.world.memories.end() ? Memory{} : found->second;
}

void remember(Step& step, const Watched& watched, const Memory& memory) {
  if (memory.is_empty())
    step.world.memories.erase(key_of(watched));
  else
    step.world.memories[key_of(watched)] = memory;
}

RuleView first_event(const Step& step, const Watched& watched) { return {step.c(), step.world, watched.binding, true}; }
RuleView later_event(const Step& step, const Watched& watched) {
  return {step.c(), step.world, watched.binding, false};
}

void say_broken(Step& step, const Rule& rule) {
  const Code code = rule.severity == model::Severity::advisory ? Code::R102 : Code::R101;
  step.findings.insert({code, step.where, rule.number, {}});
}

bool are_settled(const Events& required, const std::set<int>& met) {
  return required.all ? met.size() == required.events.size() : !met.empty();
}

/// Adds those of the required events that this moment meets.
void add_met(const Step& step, const Watched& watched, const Events& required, const Moment& moment,
             std::set<int>& met) {
  for (std::size_t at = 0; at < required.events.size(); ++at) {
    if (meets_event(later_event(step, watched), required.events[at], moment)) met.insert(static_cast<int>(at));
  }
}

// ---------------------------------------------------------------- test

/// 1, 2: "A tests" whether B was met.
bool breaks_before_each(const Step& step, const Watched& watched, const Moment& moment) {
  if (!meets_events(first_event(step, watched), watched.rule.trigger, moment)) return false;
  step.note(watched.rule.has_since ? "pattern 1: before each … since" : "pattern 2: before each");
  return !are_settled(watched.rule.require, remembered(step, watched).met);
}

/// 3: "A tests" whether anything is owed.
bool breaks_after_each(const Step& step, const Watched& watched, const Moment& moment) {
  const int stage = remembered(step, watched).stage;
  if (!meets_events(later_event(step, watched), watched.rule.before, moment)) return false;
  step.note(watched.rule.has_then ? "pattern 3: after each, with a chain" : "pattern 3: after each");
  return stage != 0;
}

/// 5: "A tests S in the world at that moment."
bool breaks_never(const Step& step, const Watched& watched, const Moment& moment) {
  if (!meets_events(first_event(step, watched), watched.rule.trigger, moment)) return false;
  step.note(watched.rule.has_unless ? "pattern 5: never … unless" : "pattern 5: never … while");
  if (watched.rule.has_unless) return !meets_states(later_event(step, watched), watched.rule.unless);
  if (watched.rule.has_while) return meets_states(later_event(step, watched), watched.rule.while_states);
  return true;
}

/// 6: "at E require S"
bool breaks_at_ending(const Step& step, const Watched& watched, const Moment& moment) {
  const bool is_reached = std::any_of(moment.begin(), moment.end(), [&](const Fact& fact) {
    return fact.what == Event::What::ending && (watched.rule.any_ending || watched.rule.ending == fact.ending);
  });
  if (is_reached) step.note("pattern 6: at an ending");
  return is_reached && !meets_states(later_event(step, watched), watched.rule.at_end);
}

bool is_broken(const Step& step, const Watched& watched, const Moment& moment) {
  switch (watched.rule.pattern) {
    case Pattern::before_each: return breaks_before_each(step, watched, moment);
    case Pattern::after_each: return breaks_after_each(step, watched, moment);
    case Pattern::right_after_each: return false;  // tested by `next_line`
    case Pattern::never: return breaks_never(step, watched, moment);
    case Pattern::at_ending: return breaks_at_ending(step, watched, moment);
    case Pattern::always:
    case Pattern::within:
    case Pattern::at_least: return false;  // `hold_always`, clocks
  }
  return false;
}

// ---------------------------------------------------------------- clear, then set

/// 1: "C forgets", then "remembers that B was met".
void update_before_each(const Step& step, const Watched& watched, const Moment& moment, Memory& memory) {
  if (watched.rule.has_since && meets_events(later_event(step, watched), watched.rule.since, moment))
    memory.met.clear();
  add_met(step, watched, watched.rule.require, moment, memory.met);
}

/// 3: "B (then D after B) settles it", then "C makes it owed … A second C starts anew."
void update_after_each(const Step& step, const Watched& watched, const Moment& moment, Memory& memory) {
  if (memory.stage != 0) {
    const bool waits_for_b = memory.stage == 1;
    const Events& wanted = waits_for_b ? watched.rule.require : watched.rule.then;
    add_met(step, watched, wanted, moment, memory.met);
    if (are_settled(wanted, memory.met)) {
      memory.met.clear();
      memory.stage = waits_for_b && watched.rule.has_then ? 2 : 0;
    }
  }
  if (!meets_events(first_event(step, watched), watched.rule.trigger, moment)) return;
  memory.stage = 1;
  memory.met.clear();
}

/// 4: whose next line is waited for: "the person that A names, or anybody where A names nobody".
void update_right_after(const Step& step, const Watched& watched, const Moment& moment, Memory& memory) {
  for (const Fact& fact : moment) {
    for (const Event& event : watched.rule.trigger.events) {
      const bool names_nobody = event.who.what == Person::What::role && !event.who.role;
      if (meets_event(first_event(step, watched), event, {fact})) {
        memory.next_line_of.insert(fact.doer && !names_nobody ? fact.doer.value : nobody);
      }
    }
  }
}

}  // namespace

void ask(Step& step, const Moment& moment) {
  for_each_rule(step, [&](const Watched& watched) {
    if (is_broken(step, watched, moment)) say_broken(step, watched.rule);
  });
  ask_clocks(step, moment);
}

void happen(Step& step, const Moment& moment) {
  for_each_rule(step, [&](const Watched& watched) {
    Memory memory = remembered(step, watched);
    switch (watched.rule.pattern) {
      case Pattern::before_each: update_before_each(step, watched, moment, memory); break;
      case Pattern::after_each: update_after_each(step, watched, moment, memory); break;
      case Pattern::right_after_each: update_right_after(step, watched, moment, memory); break;
      case Pattern::never:
      case Pattern::always:
      case Pattern::within:
      case Pattern::at_least:
      case Pattern::at_ending: return;
    }
    remember(step, watched, memory);
  });
  let_clocks_happen(step, moment);
}

void hold_always(Step& step) {
  for_each_rule(step, [&](const Watched& watched) {
    const Rule& rule = watched.rule;
    if (rule.pattern != Pattern::always) return;
    const RuleView view = later_event(step, watched);
    const bool is_meant = !rule.has_while || meets_states(view, rule.while_states);
    const bool is_broken = is_meant && !meets_states(view, rule.always);
    if (is_meant) step.note("pattern 8: always");
    Memory memory = remembered(step, watched);
    if (is_broken && memory.stage == 0) say_broken(step, rule);
    memory.stage = is_broken ? 1 : 0;
    remember(step, watched, memory);
  });
}

std::vector<RuleBinding> all_rule_bindings(const Step& step) {
  std::vector<RuleBinding> all;
  for_each_rule(step, [&](const Watched& watched) { all.push_back({watched.index, watched.binding}); });
  return all;
}

void at_once(Step& step, const Moment& moment) {
  ask(step, moment);
  happen(step, moment);
}

void next_line(Step& step, const Moment& moment) {
  for_each_rule(step, [&](const Watched& watched) {
    if (watched.rule.pattern != Pattern::right_after_each) return;
    Memory memory = remembered(step, watched);
    const bool was_waiting = memory.next_line_of.erase(step.doer.value) + memory.next_line_of.erase(nobody) > 0;
    if (was_waiting) step.note("pattern 4: right after each");
    if (was_waiting && !meets_events(later_event(step, watched), watched.rule.require, moment)) {
      say_broken(step, watched.rule);
    }
    remember(step, watched, memory);
  });
}

void nothing_follows(Step& step) {
  for_each_rule(step, [&](const Watched& watched) {
    if (watched.rule.pattern == Pattern::right_after_each && !remembered(step, watched).is_empty()) {
      say_broken(step, watched.rule);
    }
  });
}

void touches(Step& step, RoleId who, const Surface& surface) {
  Fact fact;
  fact.what = Event::What::touches;
  fact.doer = who;
  fact.has_object = true;
  fact.object = surface.of;
  fact.part = surface.part;
  fact.is_unclean = is_unclean(step.world.level(surface));
  const RoleId owner = surface.of.who ? surface.of.who : who;
  fact.object_is_hand = hand_of(step.c(), step.world, owner).layer == surface.of;
  at_once(step, {fact});
  hold_always(step);
}

}  // namespace stepward::oracle
