#pragma once
// What does a kept rule do here? "No rule broken" is worth little of a rule that nothing could have broken.
//
// Three questions, each answered by a walk of its own, so none is asked unless somebody wants to know:
//
// *When does it matter?* Replace what the rule asks for by something that never happens, and walk again. A run on which
// the rule so emptied is broken is a run on which the real one was kept because its requirement was met: a witness.
//
//     before each wearer takes off any item          emptied: … require NOTHING
//     require that person disinfects hands           broken at the first removal, step 3: the witness is that run
//
// *Why does it never matter?* If the emptied rule is kept too, the rule holds whatever its requirement says. Beside it is
// walked "never A", A its moment: if that is kept, the moment never comes; else nothing ever falls due.
//
// *Does the physics say it already?* Leave out any one line of a run, whichever it is. If the rule is then broken on some
// such runs, and on each of them something that needs no rule (touch, cover, place, agent, a question that nobody can
// answer) is at fault no later, then the rule is a second guard: here it finds nothing alone. One line is left out and
// no interruption strikes; about two slips at once, and about lines done in another order, nothing is said.

#include <string>
#include <vector>

#include "check/verdict.hpp"

namespace stepward::check {

struct Bearing {
  enum class Why : std::uint8_t { matters, never_comes, never_due } why = Why::matters;
  std::string variant;                        ///< matters: in which it does so soonest
  source::Span at;                            ///< matters: where
  std::uint32_t steps = 0;                    ///< matters: length of that run
  std::vector<diagnostics::StoryLine> story;  ///< matters: that run
  bool broken_by_omission = false;            ///< some single line left out breaks it
  bool alone = false;                         ///< on some such run nothing else is at fault
};

/// By position in Protocol::rules, for those that `wanted` names; the others stay as they are made.
std::vector<Bearing> bearing_of_rules(const model::Protocol& protocol, const std::vector<bool>& wanted, const Options& options);

/// Rules that never matter here, and those that the physics says already, as notes.
void report_bearing(const model::Protocol& protocol, const std::vector<bool>& wanted, const std::vector<Bearing>& bearing,
                    const Verdict& verdict, diagnostics::Sink& sink);

}  // namespace stepward::check
