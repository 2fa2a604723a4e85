// Sections 1 and 4: the start, the endings, the interruptions.
#include "events.hpp"

#include <algorithm>

#include "clocks.hpp"
#include "lines.hpp"
#include "rule_memory.hpp"

namespace stepward::oracle {

// ---------------------------------------------------------------- start

namespace {

void dress(Step& step, const PersonStart& person) {
  if (person.zone) step.world.place[person.role] = person.zone;
  for (const Wearing& wearing : person.wearing) {
    if (!model::holds(wearing.only_for, step.c().variant)) continue;
    const ItemId item = model::item_of(step.protocol(), wearing.thing, step.c().variant);
    if (!item) continue;
    step.world.worn.insert({person.role, item});
    for (std::size_t at = 0; at < step.protocol()[item].surfaces.size(); ++at) {
      const int part = static_cast<int>(at);
      step.world.set_level({worn_copy(person.role, item), part}, new_level(step.c(), item, part));
    }
    stack_at_start(step.c(), step.world, person.role, item);
  }
}

}  // namespace

void begin(Step& step) {
  step.where = "start";
  for (std::uint32_t at = 0; at < step.protocol().spots.size(); ++at) {
    step.world.set_level({spot_object(SpotId{at}), 0}, step.protocol().spots[at].begins);
  }
  for (const PersonStart& person : step.protocol().people) dress(step, person);
  for (const auto& [who, zone] : step.world.place) expose(step, who, zone);
  at_once(step, {plain_fact(step, Event::What::start)});
}

// ---------------------------------------------------------------- finish

namespace {

void say_unanswered_at_ending(Step& step, bool is_normal) {
  for (const auto& [thing, finding] : step.world.duties) {
    const Deadline before = step.protocol()[finding].before;
    if (before == Deadline::any_ending || is_normal) step.say(Code::P601, thing);
  }
}

/// "a site reached and unclean while nothing was declared: P602"
void say_reached(Step& step) {
  if (!step.world.declared.empty()) return;
  for (const auto& [who, site] : step.world.reached) {
    if (is_unclean(step.world.level({body_site(who, site), 0}))) step.say(Code::P602, body_site(who, site));
  }
}

std::set<ItemId> listed(const Step& step, const Ending& ending, RoleId who) {
  std::set<ItemId> items;
  for (const Ending::Wears& wears : ending.wears) {
    if (wears.who != who) continue;
    for (const Wearing& wearing : wears.wearing) {
      const ItemId item = model::item_of(step.protocol(), wearing.thing, step.c().variant);
      if (item && model::holds(wearing.only_for, step.c().variant)) items.insert(item);
    }
  }
  return items;
}

/// "worn beyond the list of E (and what stays on): P701; not worn though listed: P702"
void say_worn(Step& step, const Ending& ending, RoleId who) {
  const std::set<ItemId> wanted = listed(step, ending, who);
  for (const ItemId item : worn_by(step.world, who)) {
    if (wanted.count(item) == 0 && !step.protocol()[item].stays_on) step.say(Code::P701, worn_copy(who, item));
  }
  for (const ItemId item : wanted) {
    if (!step.world.wears(who, item)) step.say(Code::P702, worn_copy(who, item));
  }
}

/// "for the person who acts and everybody who does not end dressed"
bool is_asked(const Step& step, RoleId who) {
  const auto& people = step.protocol().people;
  return who == step.protocol().acts || std::none_of(people.begin(), people.end(), [&](const PersonStart& person) {
           return person.role == who && person.ends_dressed;
         });
}

void say_ending_not_as_declared(Step& step, const Ending& ending) {
  for (const RoleId who : all_people(step.c())) {
    if (is_asked(step, who)) say_worn(step, ending, who);
  }
  for (const Ending::Where& where : ending.where) {
    if (is_asked(step, where.who) && step.world.place[where.who] != where.zone) {
      step.say(Code::P702, step.protocol()[where.zone].name, where.who);
    }
  }
  for (const Thing& thing : ending.clean) {
    const NamedThing named = named_by(step.c(), step.world, thing, step.protocol().acts);
    if (named.exists && is_unclean(level_of(step.world, all_but_insides(step.c(), step.world, named)))) {
      step.say(Code::P703, named.of);
    }
  }
}

}  // namespace

void finish(Step& step, EndingId id) {
  const Ending& ending = step.protocol()[id];
  step.where = ending.name;
  step.line = nullptr;
  step.doer = RoleId{};
  Fact fact = plain_fact(step, Event::What::ending);
  fact.ending = id;
  ask(step, {fact});
  if (ending.normal) nothing_follows(step);
  say_unanswered_at_ending(step, ending.normal);
  if (!ending.normal) return;
  say_reached(step);
  say_ending_not_as_declared(step, ending);
  say_running_timers(step);
}

// ---------------------------------------------------------------- interruptions

namespace {

/// Every exposed surface that shows, of one item worn.
Surfaces exposed_of(const Step& step, RoleId who, ItemId item) {
  Surfaces exposed;
  for (const Surface& surface : showing_surfaces(step.c(), step.world, worn_copy(who, item))) {
    const Reach reach = step.protocol()[item].surfaces[static_cast<std::size_t>(surface.part)].reach;
    if (reach == Reach::exposed) exposed.push_back(surface);
  }
  return exposed;
}

Surfaces exposed_on(const Step& step, RoleId who) {
  Surfaces exposed;
  for (const ItemId item : worn_by(step.world, who)) {
    const Surfaces more = exposed_of(step, who, item);
    exposed.insert(exposed.end(), more.begin(), more.end());
  }
  return exposed;
}

bool clothes(const Step& step, ItemId item, SiteId site) {
  const auto& sites = step.protocol()[item].worn_on;
  return std::find(sites.begin(), sites.end(), site) != sites.end();
}

/// "a site that shows becomes soiled and is reached; a covered one: every exposed surface that shows, of items worn on
/// it, becomes at least suspect"
void soil_site(Step& step, const Object& site) {
  if (shows(step.c(), step.world, {site, 0})) {
    raise(step, {site, 0}, Level::soiled);
    step.world.reached.insert({site.who, site.site()});
    return;
  }
  for (const ItemId item : worn_by(step.world, site.who)) {
    if (!clothes(step, item, site.site())) continue;
    for (const Surface& surface : exposed_of(step, site.who, item)) raise(step, surface, Level::suspect);
  }
}

void soil(Step& step, const NamedThing& thing) {
  if (!thing.exists) return;
  switch (thing.of.what) {
    case Object::What::site: soil_site(step, thing.of); return;
    case Object::What::spot: raise(step, {thing.of, 0}, Level::soiled); return;
    case Object::What::fresh: return;  // only what is worn
    case Object::What::item:
      for (const Surface& surface : seen_surfaces(step.c(), step.world, thing)) raise(step, surface, Level::suspect);
  }
}

/// "what is beneath rises to suspect"
void tear(Step& step, const NamedThing& thing) {
  if (!thing.exists || thing.of.what != Object::What::item || !step.world.wears(thing.of.who, thing.of.item())) return;
  for (const Surface& surface : beneath(step.c(), step.world, thing.of.who, thing.of.item())) {
    raise(step, surface, Level::suspect);
  }
}

/// "P touches Q: P's hand meets every exposed surface that shows on Q; P touches S: the hand meets S"
void touch(Step& step, const Happening& happening) {
  const Hand hand = hand_of(step.c(), step.world, happening.who);
  if (happening.thing.what == Thing::What::role) {
    hand_meets_each(step, hand, exposed_on(step, happening.thing.role));
    return;
  }
  const NamedThing thing = named_by(step.c(), step.world, happening.thing, happening.who);
  hand_meets_each(step, hand, surfaces_of(step.c(), step.world, thing));
}

/// "in a zone of middle or high risk every exposed surface that shows on P, and every site that shows and is not
/// mucous, becomes at least suspect"
void fall(Step& step, RoleId who) {
  const ZoneId place = step.world.place[who];
  if (!place || step.protocol()[place].risk == Risk::low) return;
  for (const Surface& surface : exposed_on(step, who)) raise(step, surface, Level::suspect);
  for (std::uint32_t at = 0; at < step.protocol().sites.size(); ++at) {
    const Surface site{body_site(who, SiteId{at}), 0};
    const bool is_mucous = step.protocol().sites[at].nature == SiteNature::mucous;
    if (!is_mucous && shows(step.c(), step.world, site)) raise(step, site, Level::suspect);
  }
}

void note_happening(const Step& step, const Happening& happening) {
  switch (happening.what) {
    case Happening::What::soiled: step.note("happens: something is soiled"); break;
    case Happening::What::torn: step.note("happens: an item is torn"); break;
    case Happening::What::touches: step.note("happens: somebody touches"); break;
    case Happening::What::falls: step.note("happens: somebody falls"); break;
    case Happening::What::nothing: step.note("happens: nothing of its own"); break;
  }
}

void happens(Step& step, const Happening& happening) {
  note_happening(step, happening);
  switch (happening.what) {
    case Happening::What::soiled:
      return soil(step, named_by(step.c(), step.world, happening.thing, step.protocol().acts));
    case Happening::What::torn:
      return tear(step, named_by(step.c(), step.world, happening.thing, step.protocol().acts));
    case Happening::What::touches: return touch(step, happening);
    case Happening::What::falls: return fall(step, happening.who);
    case Happening::What::nothing: return;
  }
}

}  // namespace

void strike(Step& step, InterruptionId id) {
  const Interruption& interruption = step.protocol()[id];
  step.where = interruption.name;
  step.line = nullptr;
  step.doer = RoleId{};
  step.world.struck.insert(id);
  Fact fact = plain_fact(step, Event::What::strikes);
  fact.interruption = id;
  ask(step, {fact});
  step.harms_count = false;  // "Nothing in `happens`, and no found tear, is a harm by itself."
  step.is_suffered = true;
  for (const Happening& happening : interruption.happens) happens(step, happening);
  step.is_suffered = false;
  step.harms_count = true;
  happen(step, {fact});
}

}  // namespace stepward::oracle
