#pragma once
// The slow, obvious walk: every run of one protocol in one variant, breadth first by lines done.
//
// A position is a stack of frames (block, index, loop pass), and under it the stacks of what was interrupted. One
// *step* is one action line, one strike of an interruption, or one of the two halves of a disinfection that waits
// (wetting, end of the contact time), together with the questions, loops, calls and the ending that follow it at once.
//
// The walk is *cut*: a run is not continued after a step that had a finding of severity error; all findings of that
// one step, its questions and its ending included, are still collected. Warnings do not cut. So the rule of section 7
// about what follows a finding has nothing to hold back here.

#include <cstddef>
#include <map>

#include "step.hpp"

namespace stepward::oracle {

struct Result {
  std::map<Finding, int> shortest;  ///< steps done up to and with the one that had it; 0: before the first line
  std::size_t states = 0;           ///< distinct (world, position) at which a line stands or a contact time runs
  int longest = 0;                  ///< steps of the deepest state, by its shortest run
  bool is_complete = false;         ///< false: `most_states` was reached
  std::set<Path> paths;             ///< every way that some run takes from a line, or a strike, to what comes next
  std::set<std::string> occurred;   ///< verbs, effects, patterns, loop exits and so on that the walk came across
};

/// Walks all runs. Never fails; `variant` must be one of `model::all_variants(protocol)`.
Result explore(const Protocol& protocol, const Variant& variant, std::size_t most_states = 1'000'000);

}  // namespace stepward::oracle
