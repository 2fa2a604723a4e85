// Section 4: disinfection, at the wetting and at the end of the contact time; waiting.
#include <algorithm>
#include <map>

#include "lines.hpp"

namespace stepward::oracle {

bool has_contact_time(const Line& line) { return line.verb == VerbKind::disinfect && !line.without_waiting; }

namespace {

/// "per S: A never on it: P501; else A does not work on it: P505; S wet already: P503; an item not looked at: P801"
void say_of_agent(Step& step, const Line& line, const NamedThing& thing, const Surfaces& surfaces) {
  if (!is_there(step.world, thing)) return;  // "what is neither worn nor in hand is not wetted"
  const Agent& agent = step.protocol()[line.agent];
  if (is_target(step.c(), agent.never_on, thing.of))
    step.say(Code::P501, thing.of);
  else if (!is_target(step.c(), agent.works_on, thing.of))
    step.say(Code::P505, thing.of);
  for (const Surface& surface : surfaces) {
    if (step.world.wet.count(surface) > 0) step.say(Code::P503, thing.of);
  }
  if (thing.of.what == Object::What::item && step.world.not_looked_at.count({thing.of.who, thing.of.item()}) > 0) {
    step.say(Code::P801, thing.of);
  }
}

/// "each surface of S that is soiled stays as it is (P502); others that are unclean become clean; a reached site that
/// is now clean is no longer reached." True if none stayed soiled.
bool make_clean(Step& step, const Surfaces& surfaces, const Agent& agent) {
  bool all_clean = true;
  for (const Surface& surface : surfaces) {
    if (step.world.level(surface) == Level::soiled) {
      step.say(Code::P502, surface.of);
      step.note("effect: soil withstands the agent");
      all_clean = false;
      continue;
    }
    if (is_unclean(step.world.level(surface))) {
      step.note("effect: a surface becomes clean");
      step.world.set_level(surface, Level::clean);
    }
    if (agent.leaves_sterile) {
      step.note("effect: an agent leaves a surface sterile");
      step.world.set_level(surface, Level::sterile);
    }
    if (surface.of.what == Object::What::site) step.world.reached.erase({surface.of.who, surface.of.site()});
  }
  return all_clean;
}

Fact fact_of_disinfecting(const Step& step, const NamedThing& thing, AgentId agent) {
  Fact fact = fact_about(step, Event::What::disinfects, thing);
  fact.agent = agent;
  return fact;
}

}  // namespace

/// At the wetting: "P's hand meets each surface of S, unless S is that hand". The line's moment is asked here.
void wet(Step& step, const Line& line) {
  const std::vector<NamedThing> things = things_of(step, line);
  Moment own;
  for (const NamedThing& thing : things) own.push_back(fact_of_disinfecting(step, thing, line.agent));
  ask_own(step, line, own);
  const Hand hand = hand_of(step.c(), step.world, step.doer);
  for (const NamedThing& thing : things) {
    if (!thing.exists) continue;
    const Surfaces surfaces = surfaces_of(step.c(), step.world, thing);
    say_of_agent(step, line, thing, surfaces);
    for (const Surface& surface : surfaces) {
      if (!is_part_of_hand(hand, surface)) hand_meets(step, hand, surface);
    }
    if (!line.without_waiting) continue;
    step.note("effect: left wet for later");
    for (const Surface& surface : surfaces) step.world.wet[surface] = {line.who, line.agent};
  }
  if (line.without_waiting) happen_own(step, line, {});
}

/// The second moment of a disinfection that waits: its event "happens at the end of the contact time, for what became
/// or is clean".
void end_contact_time(Step& step, const Line& line) {
  step.line = &line;
  step.where = line.id;
  step.doer = line.who;
  Moment own;
  for (const NamedThing& thing : things_of(step, line)) {
    if (!thing.exists) continue;
    if (make_clean(step, surfaces_of(step.c(), step.world, thing), step.protocol()[line.agent])) {
      own.push_back(fact_of_disinfecting(step, thing, line.agent));
    }
  }
  happen_own(step, line, own);
}

/// "`wait contact time` by the same person then ends every wet surface of that person's lines"
void wait(Step& step, const Line& line) {
  ask_own(step, line, {});
  Moment own;
  if (line.wait_contact_time) {
    std::map<std::pair<Object, AgentId>, Surfaces> wet_things;
    for (const auto& [surface, wetting] : step.world.wet) {
      if (wetting.doer == line.who) wet_things[{surface.of, wetting.agent}].push_back(surface);
    }
    for (const auto& [thing, surfaces] : wet_things) {
      step.note("effect: a contact time ends later");
      for (const Surface& surface : surfaces) step.world.wet.erase(surface);
      if (!make_clean(step, surfaces, step.protocol()[thing.second])) continue;
      // All that shows was wetted: the whole thing; else only the parts that were.
      const Surfaces shown = surfaces_of(step.c(), step.world, thing_part(thing.first));
      const bool is_whole = std::includes(surfaces.begin(), surfaces.end(), shown.begin(), shown.end());
      for (const Surface& surface : surfaces) {
        const NamedThing named = thing_part(thing.first, is_whole ? whole : surface.part);
        own.push_back(fact_of_disinfecting(step, named, thing.second));
      }
    }
  }
  happen_own(step, line, own);
}

}  // namespace stepward::oracle
