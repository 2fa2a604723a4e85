// Section 4: putting on and taking off.
#include <algorithm>

#include "lines.hpp"

namespace stepward::oracle {

// ---------------------------------------------------------------- techniques

bool names(const Case& c, const TechniqueThing& thing, ItemId it) {
  switch (thing.what) {
    case TechniqueThing::What::it:
    case TechniqueThing::What::site:
    case TechniqueThing::What::what_it_covers: return true;
    case TechniqueThing::What::item: return thing.item == it;
    case TechniqueThing::What::kind: return is_of_kind(c, it, thing.kind);
  }
  return false;
}

namespace {

/// A worn item as a technique names it: the part, or all that shows.
Surfaces surfaces_of_worn(const Step& step, RoleId owner, ItemId item, const std::string& part) {
  if (!step.world.wears(owner, item)) return {};  // "a thing that is not worn meets nothing"
  if (part.empty()) return showing_surfaces(step.c(), step.world, worn_copy(owner, item));
  const int index = part_index(step.c(), item, part);
  if (index < 0) return {};
  return {Surface{worn_copy(owner, item), index}};
}

/// Whether that person wears something on the site besides what is handled.
bool is_covered_by_another(const Step& step, const Handling& handling, SiteId site) {
  const std::vector<ItemId> worn = worn_by(step.world, handling.owner);
  return std::any_of(worn.begin(), worn.end(), [&](ItemId item) {
    const auto& on = step.protocol()[item].worn_on;
    return std::find(handling.items.begin(), handling.items.end(), item) == handling.items.end() && std::find(on.begin(), on.end(), site) != on.end();
  });
}

/// What one side of a brush is. Unlike what is handled it may be any worn item of that person.
Surfaces brushed_surfaces(const Step& step, const Handling& handling, const TechniqueThing& thing, ItemId it) {
  if (thing.what == TechniqueThing::What::item) {
    return surfaces_of_worn(step, handling.owner, thing.item, thing.part);
  }
  // "a site only where nothing else is worn on it"
  if (thing.what == TechniqueThing::What::site && is_covered_by_another(step, handling, thing.site)) return {};
  if (thing.what != TechniqueThing::What::kind) return handled_surfaces(step, handling, thing, it);
  Surfaces surfaces;
  for (const ItemId item : worn_by(step.world, handling.owner)) {
    if (!is_of_kind(step.c(), item, thing.kind)) continue;
    const Surfaces more = surfaces_of_worn(step, handling.owner, item, thing.part);
    surfaces.insert(surfaces.end(), more.begin(), more.end());
  }
  return surfaces;
}

}  // namespace

Surfaces handled_surfaces(const Step& step, const Handling& handling, const TechniqueThing& thing, ItemId it) {
  switch (thing.what) {
    case TechniqueThing::What::it:
    case TechniqueThing::What::item:
    case TechniqueThing::What::kind: return surfaces_of_worn(step, handling.owner, it, thing.part);
    case TechniqueThing::What::site: return {Surface{body_site(handling.owner, thing.site), 0}};
    case TechniqueThing::What::what_it_covers: return beneath(step.c(), step.world, handling.owner, it);
  }
  return {};
}

/// "`brushes … against …`: each surface of the first meets each of the second"
void brush(Step& step, const Handling& handling) {
  if (!handling.technique) return;
  for (const Brush& brush : step.protocol()[handling.technique].brushes) {
    if (!brush.always) continue;  // only when done clumsily
    for (const ItemId it : handling.items) {
      for (const Surface& one : brushed_surfaces(step, handling, brush.what, it)) {
        for (const Surface& other : brushed_surfaces(step, handling, brush.against, it))
          surfaces_meet(step, one, other);
      }
    }
  }
}

namespace {

bool is_held_away(const Step& step, const Handling& handling, ItemId item) {
  if (!handling.technique) return false;
  const auto& handles = step.protocol()[handling.technique].handles;
  return std::any_of(handles.begin(), handles.end(),
                     [&](const Handled& handled) { return handled.held_away && names(step.c(), handled.thing, item); });
}

}  // namespace

void rest_insides(Step& step, const Handling& handling, ItemId item) {
  if (!step.protocol()[item].inside_rests || is_held_away(step, handling, item)) return;
  const Level level = level_of(step.world, insides_of(step.c(), handling.owner, item));
  if (is_unclean(level)) step.note("effect: an inside rests");
  for (const Surface& surface : beneath(step.c(), step.world, handling.owner, item)) dirt_reaches(step, surface, level);
}

namespace {

/// One technique for the whole set where the line names one, else each item's own.
std::vector<Handling> handlings_of(const Step& step, const Line& line, const std::vector<ItemId>& items) {
  if (line.technique) return {Handling{line.of, items, line.technique}};
  std::vector<Handling> handlings;
  for (const ItemId item : items) {
    handlings.push_back({line.of, {item}, model::technique_of(step.protocol(), line, item)});
  }
  return handlings;
}

std::vector<ItemId> items_of(const Step& step, const Line& line) {
  std::vector<ItemId> items;
  for (const Thing& thing : line.things) {
    if (const ItemId item = model::item_of(step.protocol(), thing, step.c().variant)) items.push_back(item);
  }
  return items;
}

// ---------------------------------------------------------------- take off

/// Moment 1 for one X that is worn: locked P401, protection missing P202, nobody looked P801, wet P503.
void say_before_removal(Step& step, RoleId owner, ItemId item, const Leaving& set) {
  const Object thing = worn_copy(owner, item);
  if (is_locked(step.c(), step.world, owner, item, set)) step.say(Code::P401, thing);
  const ZoneId place = step.world.place[owner];
  for (const ItemOrKind& need : place ? step.protocol()[place].needs : std::vector<ItemOrKind>{}) {
    if (!meets_need(step.c(), need, item)) continue;
    const std::vector<ItemId> worn = worn_by(step.world, owner);
    const bool is_met = std::any_of(worn.begin(), worn.end(), [&](ItemId other) {
      return set.count(other) == 0 && meets_need(step.c(), need, other);
    });
    if (!is_met) step.say(Code::P202, thing);
  }
  if (step.world.not_looked_at.count({owner, item}) > 0) step.say(Code::P801, thing);
  for (const auto& [surface, wetting] : step.world.wet) {
    if (surface.of == thing) step.say(Code::P503, thing);
  }
}

/// Moment 2: "the hand that meets it is P's. Where P = Q and the hand itself is among the set, insides (of every item
/// of the set) are met instead by what shows beneath: the outermost hand layer that is not in the set."
void handle_in_removal(Step& step, const Handling& handling, const Leaving& set) {
  if (!handling.technique) return;
  const Hand hand = hand_of(step.c(), step.world, step.doer);
  const bool hand_leaves = step.doer == handling.owner && !hand.bare && set.count(hand.layer.item()) > 0;
  const Hand next = hand_leaves ? hand_of(step.c(), step.world, step.doer, set) : hand;
  for (const Handled& handled : step.protocol()[handling.technique].handles) {
    for (const ItemId it : handling.items) {
      if (!names(step.c(), handled.thing, it)) continue;
      for (const Surface& surface : handled_surfaces(step, handling, handled.thing, it)) {
        const bool is_inside_of_set = is_inside(step.c(), surface) && set.count(surface.of.item()) > 0;
        if (is_inside_of_set && hand_leaves) step.note("effect: an inside is met by the layer beneath");
        hand_meets(step, is_inside_of_set ? next : hand, surface);
      }
    }
  }
}

/// Moment 4, *ordinary hands*.
void pull_over_hands(Step& step, RoleId owner, const std::vector<ItemId>& items, const Leaving& set) {
  if (step.protocol().reading != HandReading::ordinary) return;
  for (const ItemId item : items) {
    if (!is_hand_item(step.c(), item)) continue;
    const Surfaces outside = all_but_insides(step.c(), step.world, thing_part(worn_copy(owner, item)));
    const Level level = level_of(step.world, outside);
    if (is_unclean(level)) step.note("effect: ordinary hands");
    for (const Surface& surface : hand_of(step.c(), step.world, owner, set).surfaces) {
      raise(step, surface, std::min(level, Level::suspect));
    }
  }
}

/// "its levels, wetness and those duties that removal answers are gone; what was known of it ends"
void forget_item(const Protocol& protocol, World& world, RoleId owner, ItemId item) {
  const Object thing = worn_copy(owner, item);
  const auto drop = [&](auto& entries, auto object_of) {
    for (auto at = entries.begin(); at != entries.end();)
      at = object_of(*at) == thing ? entries.erase(at) : std::next(at);
  };
  drop(world.levels, [](const auto& entry) { return entry.first.of; });
  drop(world.wet, [](const auto& entry) { return entry.first.of; });
  for (auto at = world.duties.begin(); at != world.duties.end();) {
    const bool is_answered = at->first == thing && is_answered_by(protocol[at->second], AnswerKind::removal);
    at = is_answered ? world.duties.erase(at) : std::next(at);
  }
  world.not_looked_at.erase({owner, item});
  world.worst.erase({owner, item});
  for (auto at = world.above.begin(); at != world.above.end();) {
    const auto& [who, upper, lower] = *at;
    at = who == owner && (upper == item || lower == item) ? world.above.erase(at) : std::next(at);
  }
  world.worn.erase({owner, item});
}

/// Every surface on one person that shows.
std::set<Surface> all_showing(const Step& step, RoleId owner) {
  std::set<Surface> showing;
  for (std::uint32_t at = 0; at < step.protocol().sites.size(); ++at) {
    const Surface site{body_site(owner, SiteId{at}), 0};
    if (shows(step.c(), step.world, site)) showing.insert(site);
  }
  for (const ItemId item : worn_by(step.world, owner)) {
    for (const Surface& surface : showing_surfaces(step.c(), step.world, worn_copy(owner, item)))
      showing.insert(surface);
  }
  return showing;
}

/// Moment 6: "X leaves … Surfaces that now show end *not found* for soil on their thing."
void leave(Step& step, RoleId owner, const Leaving& set) {
  step.note(set.size() > 1 ? "effect: a set leaves" : "effect: an item leaves");
  const std::set<Surface> before = all_showing(step, owner);
  for (const ItemId item : set) {
    forget_item(step.protocol(), step.world, owner, item);
    end_all_known(step, worn_copy(owner, item));
  }
  for (const Surface& surface : all_showing(step, owner)) {
    if (before.count(surface) > 0) continue;
    end_not_found_for_soil(step, surface);
    if (surface.of.what == Object::What::item) note_worst(step, owner, surface.of.item());
  }
}

/// Moments 1 to 6 for one set.
void take_off_set(Step& step, const Line& line, const std::vector<ItemId>& items) {
  std::vector<ItemId> worn;
  for (const ItemId item : items) {
    if (step.world.wears(line.of, item))
      worn.push_back(item);
    else
      step.say(Code::P402, worn_copy(line.of, item));  // "and it is passed over"
  }
  const Leaving set(worn.begin(), worn.end());
  for (const ItemId item : worn) say_before_removal(step, line.of, item, set);
  const std::vector<Handling> handlings = handlings_of(step, line, worn);
  for (const Handling& handling : handlings) handle_in_removal(step, handling, set);
  for (const Handling& handling : handlings) brush(step, handling);
  pull_over_hands(step, line.of, worn, set);
  for (const Handling& handling : handlings) {
    for (const ItemId item : handling.items) rest_insides(step, handling, item);
  }
  leave(step, line.of, set);
}

Moment removal_moment(const Step& step, const Line& line, const std::vector<ItemId>& items) {
  Moment moment;
  for (const Event::What what : {Event::What::takes_off, Event::What::comes_off}) {
    for (const ItemId item : items) {
      if (!step.world.wears(line.of, item)) continue;
      Fact fact = plain_fact(step, what);
      fact.has_object = true;
      fact.object = worn_copy(line.of, item);
      fact.technique = model::technique_of(step.protocol(), line, item);
      if (what == Event::What::comes_off) fact.doer = line.of;  // "X comes off P, whoever does it"
      moment.push_back(fact);
    }
  }
  return moment;
}

}  // namespace

void take_off(Step& step, const Line& line) {
  const std::vector<ItemId> items = items_of(step, line);
  if (!may_reach(step, step.doer, line.of)) step.say(Code::P205, step.protocol()[line.of].name, step.doer);
  say_unanswered_before_removal(step, line.of, {items.begin(), items.end()});
  if (items.empty() && !line.things.empty()) step.say(Code::P402, std::string("nothing"), line.of);
  const Moment own = removal_moment(step, line, items);
  ask_own(step, line, own);
  if (line.together) take_off_set(step, line, items);
  for (const ItemId item : line.together ? std::vector<ItemId>{} : items) take_off_set(step, line, {item});
  happen_own(step, line, own);
}

// ---------------------------------------------------------------- put on

namespace {

/// "X's fresh copy is in hand and a duty is owed on X (a tear was found in the hand): P601; the duty is then no more."
void say_torn_in_the_hand(Step& step, const Object& thing) {
  for (auto duty = step.world.duties.begin(); duty != step.world.duties.end();) {
    const bool is_owed = duty->first == thing;
    if (is_owed) step.say(Code::P601, thing);
    duty = is_owed ? step.world.duties.erase(duty) : std::next(duty);
  }
}

/// Moment 1.
void say_before_put_on(Step& step, const Line& line, ItemId item) {
  const RoleId owner = line.of;
  const Object thing = worn_copy(owner, item);
  const World& world = step.world;
  if (world.wears(owner, item)) step.say(Code::P403, thing);
  for (const ItemId other : worn_by(world, owner)) {
    if (has_tight_clause(step.c(), other, item) && !has_clause(step.c(), item, other)) step.say(Code::P404, thing);
  }
  const bool is_glove = is_hand_item(step.c(), item);
  const auto hand_is_unclean = [&](RoleId who) {
    return is_unclean(level_of(world, hand_of(step.c(), world, who).surfaces));
  };
  if (is_glove && hand_is_unclean(owner)) step.say(Code::P104, thing);
  if (is_glove && step.doer != owner && hand_is_unclean(step.doer)) step.say(Code::P105, thing);
  if (world.in_hand.count(item) > 0) say_torn_in_the_hand(step, thing);
  for (const SiteId site : step.protocol()[item].worn_on) {
    const Object body = body_site(owner, site);
    if (world.reached.count({owner, site}) > 0 && is_unclean(world.level({body, 0}))) step.say(Code::P602, body);
  }
}

/// Moment 2: "X is worn, above all it may be above; its levels are those of the fresh copy if that is in hand (which
/// is then in hand no more), else clean. What was known of it ends."
void wear(Step& step, RoleId owner, ItemId item) {
  World& world = step.world;
  const bool has_fresh = world.in_hand.erase(item) > 0;
  step.note(has_fresh ? "effect: the fresh copy goes on" : "effect: an item goes on");
  world.worn.insert({owner, item});
  stack_last(step.c(), world, owner, item);
  for (std::size_t at = 0; at < step.protocol()[item].surfaces.size(); ++at) {
    const Surface fresh{fresh_copy(item), static_cast<int>(at)}, worn{worn_copy(owner, item), static_cast<int>(at)};
    world.set_level(worn, has_fresh ? world.level(fresh) : new_level(step.c(), item, static_cast<int>(at)));
    world.set_level(fresh, Level::clean);
    world.wet.erase(fresh);
  }
  end_all_known(step, worn_copy(owner, item));
  note_worst(step, owner, item);
}

/// Moments 1 to 5 for one X.
void put_on_item(Step& step, const Line& line, ItemId item) {
  say_before_put_on(step, line, item);
  // "The hand that P had before … (for X on P's own hands: the layer beneath, also where X was worn already)"
  const Leaving goes_on = step.doer == line.of ? Leaving{item} : Leaving{};
  const Hand hand = hand_of(step.c(), step.world, step.doer, goes_on);
  wear(step, line.of, item);
  const Handling handling{line.of, {item}, model::technique_of(step.protocol(), line, item)};
  if (handling.technique) {
    for (const Handled& handled : step.protocol()[handling.technique].handles) {
      if (names(step.c(), handled.thing, item)) {
        hand_meets_each(step, hand, handled_surfaces(step, handling, handled.thing, item));
      }
    }
  }
  brush(step, handling);
  rest_insides(step, handling, item);
}

}  // namespace

void put_on(Step& step, const Line& line) {
  const std::vector<ItemId> items = items_of(step, line);
  if (!may_reach(step, step.doer, line.of)) step.say(Code::P205, step.protocol()[line.of].name, step.doer);
  Moment own;
  for (const ItemId item : items) {
    own.push_back(plain_fact(step, Event::What::puts_on));
    own.back().has_object = true;
    own.back().object = worn_copy(line.of, item);
    own.back().technique = model::technique_of(step.protocol(), line, item);
  }
  ask_own(step, line, own);
  for (const ItemId item : items) put_on_item(step, line, item);
  happen_own(step, line, own);
}

}  // namespace stepward::oracle
