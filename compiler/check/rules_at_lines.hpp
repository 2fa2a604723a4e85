#pragma once
// At which lines is each rule asked? The other way round: which lines does no rule ask about?
//
// Read off the woven system (rules/weave.hpp), in which every rule stands at the moments that it speaks of: a line counts for a
// rule where the rule could be broken by it, or is kept there by what is declared alone, or where a clock of the rule begins or
// ends, whether or not a run breaks it there. A rule that nothing puts to the test has no line. Four kinds do not fit into
// "is asked at this line" and are kept apart:
//  - `always`: asked after every line, so it tells no line from another;
//  - `right after each A`: what comes next is asked, whatever it is, so only the lines of A count;
//  - a rule about endings is asked at those;
//  - an interruption itself may be what a rule speaks of.
// Lines that no run reaches are left out by whoever knows them.

#include <set>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::check {

struct RuleAtLines {
  std::set<model::LineId> lines;
  std::set<model::EndingId> endings;
  bool throughout = false;      ///< asked after every line
  bool at_interruptions = false;  ///< asked when one strikes
  bool is_asked() const { return !lines.empty() || !endings.empty() || throughout || at_interruptions; }
};

/// By position in Protocol::rules, for one variant.
std::vector<RuleAtLines> rules_at_lines(const model::Protocol& protocol, const model::Variant& variant);

}  // namespace stepward::check
