#include "cover.hpp"

#include <algorithm>

namespace stepward::oracle {
namespace {

bool clothes_site(const Case& c, ItemId item, SiteId site) {
  const auto& sites = c.protocol[item].worn_on;
  return std::find(sites.begin(), sites.end(), site) != sites.end();
}

/// `upper` hides this surface of `lower` when it lies above it.
bool covers(const Case& c, ItemId upper, ItemId lower, int part) {
  for (const Cover& cover : c.protocol[upper].goes_over) {
    if (cover.item == lower && (!cover.part || static_cast<int>(*cover.part) == part)) return true;
  }
  return false;
}

bool lies_above(const World& w, RoleId who, ItemId upper, ItemId lower) {
  return w.above.count({who, upper, lower}) > 0;
}

/// Of those on the hands that nothing else there lies above, the one declared last.
ItemId outermost_on_hands(const Case& c, const World& w, RoleId who, const Leaving& leaving) {
  std::vector<ItemId> on_hands;
  for (const ItemId item : worn_by(w, who)) {
    if (is_hand_item(c, item) && leaving.count(item) == 0) on_hands.push_back(item);
  }
  ItemId outermost;
  for (const ItemId item : on_hands) {
    const bool is_under =
        std::any_of(on_hands.begin(), on_hands.end(), [&](ItemId other) { return lies_above(w, who, other, item); });
    if (!is_under) outermost = item;  // worn_by is in the order of declaration
  }
  return outermost;
}

}  // namespace

bool takes_part(const Case& c, RoleId who) {
  const auto& people = c.protocol.people;
  return std::any_of(people.begin(), people.end(), [&](const PersonStart& person) { return person.role == who; });
}

std::vector<RoleId> all_people(const Case& c) {
  std::set<RoleId> people;
  for (const PersonStart& person : c.protocol.people) people.insert(person.role);
  return {people.begin(), people.end()};
}

std::vector<ItemId> worn_by(const World& w, RoleId who) {
  std::vector<ItemId> items;
  for (const auto& [wearer, item] : w.worn) {
    if (wearer == who) items.push_back(item);
  }
  return items;
}

bool has_clause(const Case& c, ItemId upper, ItemId lower) {
  const auto& covers_list = c.protocol[upper].goes_over;
  return std::any_of(covers_list.begin(), covers_list.end(), [&](const Cover& cover) { return cover.item == lower; });
}

bool has_tight_clause(const Case& c, ItemId upper, ItemId lower) {
  const auto& covers_list = c.protocol[upper].goes_over;
  return std::any_of(covers_list.begin(), covers_list.end(),
                     [&](const Cover& cover) { return cover.item == lower && !cover.loosely; });
}

bool always_above(const Case& c, ItemId upper, ItemId lower) {
  return has_tight_clause(c, upper, lower) && !has_clause(c, lower, upper);
}

void stack_last(const Case& c, World& w, RoleId who, ItemId item) {
  for (const ItemId other : worn_by(w, who)) {
    if (other == item || (!has_clause(c, item, other) && !has_clause(c, other, item))) continue;
    w.above.erase({who, item, other});
    w.above.erase({who, other, item});
    if (always_above(c, other, item))
      w.above.insert({who, other, item});
    else
      w.above.insert({who, item, other});
  }
}

void stack_at_start(const Case& c, World& w, RoleId who, ItemId item) {
  for (const ItemId other : worn_by(w, who)) {
    if (other == item) continue;
    const bool over = has_clause(c, item, other), under = has_clause(c, other, item);
    if (over)
      w.above.insert({who, item, other});
    else if (under)
      w.above.insert({who, other, item});
  }
}

bool shows(const Case& c, const World& w, const Surface& surface, const Leaving& leaving) {
  const Object& of = surface.of;
  if (of.what == Object::What::spot) return true;
  if (of.what == Object::What::fresh) return !is_inside(c, surface);
  for (const ItemId other : worn_by(w, of.who)) {
    if (leaving.count(other) > 0) continue;
    if (of.what == Object::What::site && clothes_site(c, other, of.site())) return false;
    if (of.what == Object::What::item && lies_above(w, of.who, other, of.item()) &&
        covers(c, other, of.item(), surface.part)) {
      return false;
    }
  }
  if (of.what == Object::What::site) return true;
  return w.wears(of.who, of.item()) && leaving.count(of.item()) == 0 && !is_inside(c, surface);
}

bool is_locked(const Case& c, const World& w, RoleId who, ItemId item, const Leaving& leaving) {
  for (const ItemId other : worn_by(w, who)) {
    if (leaving.count(other) == 0 && lies_above(w, who, other, item) && has_tight_clause(c, other, item)) return true;
  }
  return false;
}

SiteId hand_site(const Case& c) {
  for (std::uint32_t at = 0; at < c.protocol.sites.size(); ++at) {
    if (c.protocol.sites[at].is_hands) return SiteId{at};
  }
  return {};
}

bool is_hand_item(const Case& c, ItemId item) { return hand_site(c) && clothes_site(c, item, hand_site(c)); }

bool is_on_mucous_site(const Case& c, ItemId item) {
  const auto& sites = c.protocol[item].worn_on;
  return std::any_of(sites.begin(), sites.end(),
                     [&](SiteId site) { return c.protocol[site].nature == SiteNature::mucous; });
}

Hand hand_of(const Case& c, const World& w, RoleId who, const Leaving& leaving) {
  Hand hand;
  hand.who = who;
  if (const ItemId item = outermost_on_hands(c, w, who, leaving)) {
    hand.layer = worn_copy(who, item);
    hand.surfaces = showing_surfaces(c, w, hand.layer, leaving);
    return hand;
  }
  if (!hand_site(c)) return hand;
  hand.bare = true;
  hand.layer = body_site(who, hand_site(c));
  hand.surfaces = {Surface{hand.layer, 0}};
  return hand;
}

Level level_of(const World& w, const Surfaces& surfaces) {
  Level highest = Level::sterile;
  for (const Surface& surface : surfaces) highest = std::max(highest, w.level(surface));
  return highest;
}

Level new_level(const Case& c, ItemId item, int part) {
  const bool is_inside_part = c.protocol[item].surfaces[static_cast<std::size_t>(part)].reach == Reach::inside;
  return c.protocol[item].begins_sterile && !is_inside_part ? Level::sterile : Level::clean;
}

bool is_part_of_hand(const Hand& hand, const Surface& surface) {
  return std::find(hand.surfaces.begin(), hand.surfaces.end(), surface) != hand.surfaces.end();
}

NamedThing named_by(const Case& c, const World& w, const Thing& thing, RoleId doer) {
  NamedThing named;
  const RoleId owner = thing.of ? thing.of : thing.what == Thing::What::hands ? doer : c.protocol.acts;
  switch (thing.what) {
    case Thing::What::item:
    case Thing::What::choice: {
      const ItemId item = model::item_of(c.protocol, thing, c.variant);
      if (!item) return named;
      named.of = worn_copy(owner, item);
      // "its fresh copy, if the item is not worn but in hand"
      if (!w.wears(owner, item) && w.in_hand.count(item) > 0) named.of = fresh_copy(item);
      break;
    }
    case Thing::What::site: named.of = body_site(owner, thing.site); break;
    case Thing::What::spot: named.of = spot_object(thing.spot); break;
    case Thing::What::hands: named.of = hand_of(c, w, owner).layer; break;
    case Thing::What::kind:
    case Thing::What::supply:
    case Thing::What::role: return named;
  }
  named.exists = true;
  named.known_as = named.of.what == Object::What::fresh ? worn_copy(owner, named.of.item()) : named.of;
  if (!thing.part.empty() && named.of.is_item()) {
    named.part = part_index(c, named.of.item(), thing.part);
    named.part_is_missing = named.part < 0;
  }
  return named;
}

namespace {

/// The surfaces of an object, without regard to what shows; none for an item that is not there.
Surfaces every_surface(const Case& c, const World& w, const Object& of) {
  if (!of.is_item()) return {Surface{of, 0}};
  if (of.what == Object::What::item && !w.wears(of.who, of.item())) return {};
  Surfaces surfaces;
  for (std::size_t at = 0; at < c.protocol[of.item()].surfaces.size(); ++at) {
    surfaces.push_back({of, static_cast<int>(at)});
  }
  return surfaces;
}

Surfaces only(Surfaces surfaces, int part) {
  if (part == whole) return surfaces;
  surfaces.erase(std::remove_if(surfaces.begin(), surfaces.end(), [&](const Surface& s) { return s.part != part; }),
                 surfaces.end());
  return surfaces;
}

}  // namespace

Surfaces surfaces_of(const Case& c, const World& w, const NamedThing& named) {
  if (!named.exists) return {};
  if (named.part != whole) return only(every_surface(c, w, named.of), named.part);
  return named.of.is_item() ? showing_surfaces(c, w, named.of) : every_surface(c, w, named.of);
}

Surfaces all_but_insides(const Case& c, const World& w, const NamedThing& named) {
  if (!named.exists) return {};
  Surfaces surfaces = only(every_surface(c, w, named.of), named.part);
  if (named.part != whole) return surfaces;
  surfaces.erase(std::remove_if(surfaces.begin(), surfaces.end(), [&](const Surface& s) { return is_inside(c, s); }),
                 surfaces.end());
  return surfaces;
}

Surfaces seen_surfaces(const Case& c, const World& w, const NamedThing& named) {
  Surfaces surfaces = surfaces_of(c, w, named);
  surfaces.erase(std::remove_if(surfaces.begin(), surfaces.end(), [&](const Surface& s) { return !shows(c, w, s); }),
                 surfaces.end());
  return surfaces;
}

Surfaces showing_surfaces(const Case& c, const World& w, const Object& of, const Leaving& leaving) {
  Surfaces surfaces;
  for (const Surface& surface : every_surface(c, w, of)) {
    if (shows(c, w, surface, leaving)) surfaces.push_back(surface);
  }
  return surfaces;
}

Surfaces insides_of(const Case& c, RoleId who, ItemId item) {
  Surfaces surfaces;
  for (std::size_t at = 0; at < c.protocol[item].surfaces.size(); ++at) {
    const Surface surface{worn_copy(who, item), static_cast<int>(at)};
    if (is_inside(c, surface)) surfaces.push_back(surface);
  }
  return surfaces;
}

Surfaces beneath(const Case& c, const World& w, RoleId who, ItemId item) {
  std::set<Surface> under;
  // "each worn thing it goes over tightly (the named surface, or all but insides), when that thing is below it"
  for (const Cover& cover : c.protocol[item].goes_over) {
    if (!cover.item || cover.loosely || !w.wears(who, cover.item) || !lies_above(w, who, item, cover.item)) continue;
    const NamedThing named = thing_part(worn_copy(who, cover.item), cover.part ? static_cast<int>(*cover.part) : whole);
    for (const Surface& surface : all_but_insides(c, w, named)) under.insert(surface);
  }
  // "and each site it is worn on that nothing else worn is worn on"
  for (const SiteId site : c.protocol[item].worn_on) {
    if (shows(c, w, Surface{body_site(who, site), 0}, {item})) under.insert({body_site(who, site), 0});
  }
  return {under.begin(), under.end()};
}

int part_index(const Case& c, ItemId item, const std::string& name) {
  const auto& surfaces = c.protocol[item].surfaces;
  for (std::size_t at = 0; at < surfaces.size(); ++at) {
    if (surfaces[at].name == name) return static_cast<int>(at);
  }
  return -2;
}

bool is_inside(const Case& c, const Surface& surface) {
  if (!surface.of.is_item()) return false;
  return c.protocol[surface.of.item()].surfaces[static_cast<std::size_t>(surface.part)].reach == Reach::inside;
}

std::string name_of(const Case& c, const Object& object) {
  switch (object.what) {
    case Object::What::item:
    case Object::What::fresh: return c.protocol[object.item()].name;
    case Object::What::site: return c.protocol[object.site()].name;
    case Object::What::spot: return c.protocol[object.spot()].name;
  }
  return {};
}

std::string name_with_owner(const Case& c, const Object& object) {
  const std::string name = name_of(c, object);
  if (object.what == Object::What::fresh) return "fresh " + name;
  return object.who && object.who != c.protocol.acts ? c.protocol[object.who].name + "'s " + name : name;
}

bool is_of_kind(const Case& c, ItemId item, KindId kind) {
  const auto& kinds = c.protocol[item].kinds;
  return std::find(kinds.begin(), kinds.end(), kind) != kinds.end();
}

bool is_target(const Case& c, const std::vector<Target>& targets, const Object& object) {
  for (const Target& target : targets) {
    if (target.anything && (!target.items_only || object.is_item())) return true;
    if (object.is_item() && target.item && target.item == object.item()) return true;
    if (object.is_item() && target.kind && is_of_kind(c, object.item(), target.kind)) return true;
    if (object.what == Object::What::site && target.site && target.site == object.site()) return true;
    if (object.what == Object::What::spot && target.spot && target.spot == object.spot()) return true;
    if (object.what == Object::What::spot && target.kind && c.protocol[object.spot()].made_of == target.kind) {
      return true;
    }
  }
  return false;
}

bool meets_need(const Case& c, const ItemOrKind& need, ItemId item) {
  return need.item ? need.item == item : is_of_kind(c, item, need.kind);
}

}  // namespace stepward::oracle
