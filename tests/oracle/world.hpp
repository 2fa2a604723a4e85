#pragma once
// The world of docs/language/meaning.md, section 1, in the plainest shape there is: maps and sets.
//
// This folder is the second, slow explorer. It is written from the page line by line, reads the model directly and
// shares no code with compiler/effects, compiler/explore or compiler/rules, so that a mistake in either shows as a
// disagreement. Nothing here is packed, shared or cached. Invariant: what is as at the start (clean, never looked at,
// nothing remembered) is not stored, so that two worlds are equal exactly when their maps are.

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <tuple>
#include <utility>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::oracle {

using namespace stepward::model;  // the oracle speaks of nothing but the model

inline bool is_unclean(Level level) { return level >= Level::suspect; }

/// A thing that somebody can point at: a person's own copy of an item, a body site, a fixture or free surface, or the
/// fresh copy of an item that was taken or passed. `who` is none for the last two.
struct Object {
  enum class What : std::uint8_t { item, site, spot, fresh } what = What::item;
  RoleId who;
  std::uint32_t id = 0;

  ItemId item() const { return ItemId{id}; }
  SiteId site() const { return SiteId{id}; }
  SpotId spot() const { return SpotId{id}; }
  bool is_item() const { return what == What::item || what == What::fresh; }
  auto tied() const { return std::make_tuple(what, who.value, id); }
  friend bool operator<(const Object& a, const Object& b) { return a.tied() < b.tied(); }
  friend bool operator==(const Object& a, const Object& b) { return a.tied() == b.tied(); }
};

inline Object worn_copy(RoleId who, ItemId item) { return {Object::What::item, who, item.value}; }
inline Object fresh_copy(ItemId item) { return {Object::What::fresh, RoleId{}, item.value}; }
inline Object body_site(RoleId who, SiteId site) { return {Object::What::site, who, site.value}; }
inline Object spot_object(SpotId spot) { return {Object::What::spot, RoleId{}, spot.value}; }

/// One surface of an object. Sites and spots have the single surface 0.
struct Surface {
  Object of;
  int part = 0;

  friend bool operator<(const Surface& a, const Surface& b) {
    return std::make_tuple(a.of.tied(), a.part) < std::make_tuple(b.of.tied(), b.part);
  }
  friend bool operator==(const Surface& a, const Surface& b) { return a.of == b.of && a.part == b.part; }
};
using Surfaces = std::vector<Surface>;

inline constexpr int whole = -1;  ///< a thing, not one named part of it

/// "person's item, body site, fixture or surface (or one named part of it) and finding"
struct Question {
  Object of;
  int part = whole;
  FindingId finding;
  friend bool operator<(const Question& a, const Question& b) {
    return std::make_tuple(a.of.tied(), a.part, a.finding.value) <
           std::make_tuple(b.of.tied(), b.part, b.finding.value);
  }
};
enum class Known : std::uint8_t { never, found, not_found, ended };

/// Person and item.
using Wearer = std::pair<RoleId, ItemId>;
/// On this person the first item lies above the second.
using Above = std::tuple<RoleId, ItemId, ItemId>;

/// Who wetted a surface, and with what.
struct Wetting {
  RoleId doer;
  AgentId agent;
  friend bool operator<(const Wetting& a, const Wetting& b) {
    return std::make_pair(a.doer.value, a.agent.value) < std::make_pair(b.doer.value, b.agent.value);
  }
};

/// What a rule's first event bound; either may be none.
struct Binding {
  RoleId person;
  ItemId item;
};

/// What one rule remembers for one binding.
struct Memory {
  int stage = 0;                         ///< pattern 3: 0 nothing owed, 1 waits for B, 2 waits for D; pattern 8: 1 broken
  std::set<int> met;                     ///< which of the required events were met
  std::set<std::uint32_t> next_line_of;  ///< pattern 4: whose next line must be B

  bool is_empty() const { return stage == 0 && met.empty() && next_line_of.empty(); }
  friend bool operator<(const Memory& a, const Memory& b) {
    return std::tie(a.stage, a.met, a.next_line_of) < std::tie(b.stage, b.met, b.next_line_of);
  }
};
/// A clock that runs: how long at least and at most, capped just beyond its bound.
struct Clock {
  std::uint64_t least = 0;
  std::optional<std::uint64_t> greatest;
  bool at_most = true;      ///< what kind of bound it is held against
  std::uint64_t bound = 0;  ///< in seconds
  friend bool operator<(const Clock& a, const Clock& b) {
    return std::tie(a.least, a.greatest) < std::tie(b.least, b.greatest);
  }
};
/// Which clock: 0 of a rule, 1 and 2 of a timer's two bounds; rule or line; person; item.
using ClockKey = std::tuple<int, std::uint32_t, std::uint32_t, std::uint32_t>;

using MemoryKey = std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>;  ///< rule, person, item

struct World {
  std::map<Surface, Level> levels;  ///< surfaces that are not clean: dirtier, or sterile
  std::set<Wearer> worn;
  std::set<Above> above;            ///< for worn pairs with a clause
  std::set<ItemId> in_hand;         ///< items whose fresh copy is in a hand
  std::map<Question, Known> known;  ///< what is not *never looked*
  std::set<std::pair<Object, FindingId>> duties;
  std::set<std::pair<RoleId, SiteId>> reached;
  std::set<Wearer> not_looked_at;
  std::map<Wearer, Level> worst;
  std::map<Surface, Wetting> wet;
  std::map<RoleId, ZoneId> place;
  std::set<MarkId> declared;
  std::set<RecordId> recorded;
  std::map<DecisionId, std::uint8_t> answers;
  std::set<InterruptionId> struck;
  std::map<MemoryKey, Memory> memories;  ///< those that remember something
  std::set<TimerId> running;
  std::map<ClockKey, Clock> clocks;

  auto tied() const {
    return std::tie(levels, worn, above, in_hand, known, duties, reached, not_looked_at, worst, wet, place, declared,
                    recorded, answers, struck, memories, running, clocks);
  }
  friend bool operator<(const World& a, const World& b) { return a.tied() < b.tied(); }

  Level level(const Surface& surface) const {
    const auto found = levels.find(surface);
    return found == levels.end() ? Level::clean : found->second;
  }
  void set_level(const Surface& surface, Level level) {
    if (level == Level::clean)
      levels.erase(surface);
    else
      levels[surface] = level;
  }
  bool wears(RoleId who, ItemId item) const { return worn.count({who, item}) > 0; }
};

}  // namespace stepward::oracle
