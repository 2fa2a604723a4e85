#pragma once
// What shows, what lies above what, which surfaces a name stands for: meaning.md, section 2.
//
// Every function looks at one world and answers by searching through it. `leaving` names items that are treated as
// gone already, for "once the set is gone".

#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "model/variants.hpp"
#include "world.hpp"

namespace stepward::oracle {

/// Something that a run passes on its way from one line to the next, and the way by which it leaves it.
struct Passed {
  enum class What : std::uint8_t { start, strike, line, question, loop, ending, resume, off_the_end } what = What::start;
  std::uint32_t id = 0;                       ///< of the interruption, the line, the ending
  const model::Condition* asked = nullptr;    ///< a question by its first condition, a loop by its `until`
  /// question: the arm that is followed, from 1, and 0 where none is; loop: 1 its answer, 2 its last pass, 0 once more
  std::size_t way = 0;
  friend bool operator<(const Passed& a, const Passed& b) {
    return std::tie(a.what, a.id, a.asked, a.way) < std::tie(b.what, b.id, b.asked, b.way);
  }
};
using Path = std::vector<Passed>;

/// One protocol in one variant: everything that does not change during a run.
struct Case {
  const Protocol& protocol;
  const Variant& variant;
  std::set<std::string>* occurred = nullptr;  ///< what happened at least once, in words; none: nobody counts
  std::set<Path>* paths = nullptr;            ///< from line to line, each once; none: nobody asks
};

using Leaving = std::set<ItemId>;

bool takes_part(const Case& c, RoleId who);
std::vector<RoleId> all_people(const Case& c);  ///< in the order of roles
std::vector<ItemId> worn_by(const World& w, RoleId who);

/// `upper` has a clause over `lower`; `tight`: at least one entry of it is not `loosely`.
bool has_clause(const Case& c, ItemId upper, ItemId lower);
bool has_tight_clause(const Case& c, ItemId upper, ItemId lower);
/// A pair with a clause in one direction only and not loosely.
bool always_above(const Case& c, ItemId upper, ItemId lower);

/// Puts `item` above all that it may be above, as whoever is put on last.
void stack_last(const Case& c, World& w, RoleId who, ItemId item);
/// Puts `item` on top at the start: a clause in one direction decides, with clauses in both the list does.
void stack_at_start(const Case& c, World& w, RoleId who, ItemId item);

bool shows(const Case& c, const World& w, const Surface& surface, const Leaving& leaving = {});
bool is_locked(const Case& c, const World& w, RoleId who, ItemId item, const Leaving& leaving);

bool is_hand_item(const Case& c, ItemId item);
bool is_on_mucous_site(const Case& c, ItemId item);
SiteId hand_site(const Case& c);

/// The outermost layer on somebody's hands.
struct Hand {
  RoleId who;
  Object layer;  ///< the item, or the bare site
  bool bare = false;
  Surfaces surfaces;  ///< what shows of it
};
Hand hand_of(const Case& c, const World& w, RoleId who, const Leaving& leaving = {});
/// The highest level; of nothing: sterile.
Level level_of(const World& w, const Surfaces& surfaces);
/// "New stock begins clean, or sterile where so declared", insides apart.
Level new_level(const Case& c, ItemId item, int part);
bool is_part_of_hand(const Hand& hand, const Surface& surface);

/// What a noun phrase of a line names: a thing and perhaps a part. `exists` is false for a closed choice or a supply.
struct NamedThing {
  bool exists = false;
  Object of;
  int part = whole;
  Object known_as;               ///< whose findings and duties: a fresh copy's are those of the person it is for
  bool part_is_missing = false;  ///< a part was named that this item does not have
};
/// A thing that no line names, or a part of it.
inline NamedThing thing_part(const Object& of, int part = whole) { return {true, of, part, of, false}; }
NamedThing named_by(const Case& c, const World& w, const Thing& thing, RoleId doer);
/// Section 2, "a thing stands for surfaces".
Surfaces surfaces_of(const Case& c, const World& w, const NamedThing& named);
/// "In states and endings: all surfaces but insides, whether they show or not."
Surfaces all_but_insides(const Case& c, const World& w, const NamedThing& named);
/// Those of `surfaces_of` that can be seen.
Surfaces seen_surfaces(const Case& c, const World& w, const NamedThing& named);

Surfaces showing_surfaces(const Case& c, const World& w, const Object& of, const Leaving& leaving = {});
Surfaces insides_of(const Case& c, RoleId who, ItemId item);
/// Section 2, "Beneath an item, on that person".
Surfaces beneath(const Case& c, const World& w, RoleId who, ItemId item);

int part_index(const Case& c, ItemId item, const std::string& name);  ///< -2 when there is no such surface
bool is_inside(const Case& c, const Surface& surface);
std::string name_of(const Case& c, const Object& object);
/// "gown", "helper's gown" (of somebody who does not act by default), "fresh gown".
std::string name_with_owner(const Case& c, const Object& object);
bool is_of_kind(const Case& c, ItemId item, KindId kind);
/// An item, its kinds, a site, a spot or what it is made of, or anything.
bool is_target(const Case& c, const std::vector<Target>& targets, const Object& object);
bool meets_need(const Case& c, const ItemOrKind& need, ItemId item);

}  // namespace stepward::oracle
