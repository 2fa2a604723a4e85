#pragma once
// Two rules that no order of what is left of a phase keeps together, though each alone can be kept.
//
// Whoever is told that a rule is broken puts its lines into another order, and breaks another rule. If that goes round in a circle, the
// mistake is not in the lines: the two rules collide, and only those who own them can settle it. That is worth saying beside the error.
//
// It is asked of the phases in which `check` found a rule broken: from a situation in which the lines as they are written keep every rule
// there is an order that does, and nothing collides. So a protocol without such an error costs nothing here.
//
//     from every situation that runs come to at a line of the phase, nothing broken before (open_phase.hpp)
//       1  an order that keeps what needs no rule               breaks 3.2, 4      → a colliding pair holds 3.2 or 4
//       2  for each of these, one that keeps it                 keeps 3.2, breaks 5, 7   → its partner is 5 or 7
//       3  for each of these, one that keeps both               none               → 3.2 and 5 collide
//
// So a pair is only asked for where an order shows that it may collide, and every pair that does is found. Lines are the statements of the
// phase: a question with its branches is one, so is a routine, a repeat and what two do together; what only some variants have is open.
// What ends a run in the middle of the phase's own lines stays the last of them.
//
// Bounds on time are no part of a situation and are not asked. The search is bounded by numbers, not by time, so the same text gets the
// same answer on any machine; where it came to a bound, that is told.

#include <vector>

#include "check/verdict.hpp"

namespace stepward::order {

/// One pair in one phase, told by the earliest situation.
struct PhaseCollision {
  model::RuleId one, other;
  model::PhaseId phase;
  source::Span at;                              ///< the first line that is left
  std::size_t left = 0;                         ///< lines
  std::vector<source::Span> keeps_one, keeps_other;  ///< an order of them that keeps this rule, and breaks the other
  std::uint32_t steps = 0;                      ///< of the run to the situation
  std::vector<diagnostics::StoryLine> story;    ///< how it came about
  std::size_t variants = 1;                     ///< that hold it
};

/// A phase of which not every order was tried.
struct UntriedPhase {
  model::PhaseId phase;
  bool too_many_lines = false;                  ///< only the last of them were put into other orders; else it came to a bound
  std::uint64_t states = 0;
};

struct PhaseCollisions {
  std::vector<PhaseCollision> pairs;            ///< by phase, earliest first
  std::vector<UntriedPhase> untried;            ///< by phase, each once
};

struct PhaseOptions {
  bool interruptions = true;
  std::uint64_t limit = 400'000;                ///< situations of one phase in one variant
  std::size_t most_places = 200'000;            ///< sets of situations that orders leave behind
  unsigned workers = 2;
};

/// In the variants and phases in which the walks found a rule broken.
PhaseCollisions phase_collisions(const model::Protocol& protocol, const std::vector<check::VariantWalk>& walks, const PhaseOptions& options);

}  // namespace stepward::order
