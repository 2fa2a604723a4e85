#pragma once
// One step of a run while it is being done: a world in the making, and what is found on the way.
//
// Whoever does a line gets a step by value, changes its world and hands it back; a look hands back several. Findings
// are a set, so "once a line and thing" needs no bookkeeping. Which harms were said of which thing *is* remembered
// where the page makes one depend on another.

#include <set>
#include <string>
#include <utility>
#include <vector>

#include "cover.hpp"
#include "diagnostics/diagnostic.hpp"
#include "world.hpp"

namespace stepward::oracle {

using diagnostics::Code;

/// What went wrong, where, with which thing, of whom. `where` is a line's id, an ending's or interruption's name, or
/// "question at <byte>"; `thing` is a name or a rule's number; `who` is the thing's owner, else the person who acts.
struct Finding {
  Code code{};
  std::string where;
  std::string thing;
  std::string who;
  friend bool operator<(const Finding& a, const Finding& b) {
    return std::tie(a.code, a.where, a.thing, a.who) < std::tie(b.code, b.where, b.thing, b.who);
  }
  friend bool operator==(const Finding& a, const Finding& b) { return !(a < b) && !(b < a); }
};
std::string to_string(const Finding& finding);

struct Step {
  const Case* of = nullptr;
  World world;
  std::set<Finding> findings;

  std::string where;           ///< the line, ending or interruption
  const Line* line = nullptr;  ///< none outside lines
  RoleId doer;
  bool harms_count = true;                  ///< false in `happens`: "nothing in `happens` is a harm by itself"
  bool is_suffered = false;                 ///< what rises to unclean now sets *reached*
  std::set<std::pair<Object, Object>> met;  ///< which hand met which thing in this line
  bool other_is_busy = false;               ///< inside `together`: the other person has lines left
  bool time_has_passed = false;             ///< that of the line
  std::set<ClockKey> fresh_clocks;          ///< begun in this line
  Path path;                                ///< what the run has passed since it was at the line, the line first

  const Case& c() const { return *of; }
  const Protocol& protocol() const { return of->protocol; }
  void say(Code code, const std::string& thing, RoleId who);
  void say(Code code, const Object& thing);  ///< of its owner, or of the doer where nobody owns it
  bool has_error() const;  ///< one that cuts the run; bounds on time are judged when all is walked
  /// Remembers that such a thing happened in the walk; the generator's table counts these.
  void note(const std::string& what) const {
    if (of->occurred != nullptr) of->occurred->insert(what);
  }
};

/// Raises a surface to at least `level`, with all that a rise of a showing surface brings with it.
void raise(Step& step, const Surface& surface, Level level);
/// Section 3: P's hand meets a surface; harms first, then both rise.
void hand_meets(Step& step, const Hand& hand, const Surface& surface);
void hand_meets_each(Step& step, const Hand& hand, const Surfaces& surfaces);
/// Section 3: two surfaces meet, as at a brush.
void surfaces_meet(Step& step, const Surface& one, const Surface& other);
/// Something rests on it or is passed on, of this level: a clean site or clothing that rises is P103, a sterile thing
/// that what is not sterile reaches P107.
void dirt_reaches(Step& step, const Surface& surface, Level level);
/// Section 3: exposure of one person to a zone.
void expose(Step& step, RoleId who, ZoneId zone);

/// "worst": lifts it to the highest level that a showing surface of the item has now.
void note_worst(Step& step, RoleId who, ItemId item);
/// What is known of the thing, or of its named parts too, and holds for such findings, ends.
void end_not_found_for_soil(Step& step, const Surface& surface);
void end_known(Step& step, const Object& of, int part, FindingMeans means);
void end_all_known(Step& step, const Object& of);

bool may_reach(const Step& step, RoleId who, RoleId other);  ///< both in one zone
bool is_same_or_in_sight(const Step& step, RoleId who, RoleId other);

}  // namespace stepward::oracle
