#pragma once
// Section 4: one function per kind of line. Each takes a step whose world stands before the line and leaves it after.

#include <vector>

#include "rule_memory.hpp"
#include "step.hpp"

namespace stepward::oracle {

/// Does one action line. Several steps come back where answers differ. For a disinfection that waits, the steps stand
/// at the wetting; `end_contact_time` does the rest.
std::vector<Step> do_line(Step step, const Line& line);
bool has_contact_time(const Line& line);
void end_contact_time(Step& step, const Line& line);

void put_on(Step& step, const Line& line);
void take_off(Step& step, const Line& line);
void wet(Step& step, const Line& line);
void wait(Step& step, const Line& line);
void clean_soil(Step& step, const Line& line);
void test(Step& step, const Line& line);
void act(Step& step, const Line& line);
void take(Step& step, const Line& line);
void pass(Step& step, const Line& line);
void move(Step& step, const Line& line);
void declare(Step& step, const Line& line);
void record(Step& step, const Line& line);
void report(Step& step, const Line& line);
void call(Step& step, const Line& line);
std::vector<Step> inspect(Step step, const Line& line);
std::vector<Step> decide(Step step, const Line& line);

/// The things of a line, as they stand now.
std::vector<NamedThing> things_of(const Step& step, const Line& line);
/// "An item that is neither worn nor in hand stands for nothing"; what is in hand is named as its fresh copy.
bool is_there(const World& world, const NamedThing& thing);
/// A fact about a named thing, done by the step's doer; about nothing if it is not there.
Fact fact_about(const Step& step, Event::What what, const NamedThing& thing);
Fact plain_fact(const Step& step, Event::What what);
/// The line's own moment is asked, and pattern 4 learns that this is the next line.
void ask_own(Step& step, const Line& line, Moment moment);
void happen_own(Step& step, const Line& line, Moment moment);

/// What a technique handles of the items of a set, and what it brushes.
struct Handling {
  RoleId owner;               ///< whose items they are
  std::vector<ItemId> items;  ///< those of the set that this technique is for
  TechniqueId technique;
};
Surfaces handled_surfaces(const Step& step, const Handling& handling, const TechniqueThing& thing, ItemId it);
bool names(const Case& c, const TechniqueThing& thing, ItemId it);
void brush(Step& step, const Handling& handling);
/// "`inside rests`: if one of X's insides is unclean and no handling of it is held away, what is beneath rises."
void rest_insides(Step& step, const Handling& handling, ItemId item);

/// Section 5, duties.
bool is_answered_by(const model::Finding& finding, AnswerKind kind);
void answer_duties(Step& step, AnswerKind kind, const std::string& mark);
void say_unanswered_before_removal(Step& step, RoleId owner, const std::set<ItemId>& removed);

}  // namespace stepward::oracle
