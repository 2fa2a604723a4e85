#pragma once
// A system of effects as Promela, the language of the model checker SPIN.
//
// Every step of a run is one `d_step`: the edge's guard, its operations in order, then the crossings up to the next
// standing place. So the states that SPIN stores are those that the walk stores, and two more: the one before the first
// step, and the one where runs end, in which every variable is 0.
//
//     active proctype walk() {
//       d_step { node = 12; … }                                     up to the first standing place
//     end: do
//       :: d_step { (node == 12 && f3 == 1) -> …; node = 13 }        an edge
//       :: d_step { (node == 12 && started && !f7) -> … }            an interruption that strikes
//       od
//     }
//
// A report is a piece of C that prints the report's number when it is first met, which SPIN does while it verifies.
// Scratch fields are `hidden`: SPIN keeps them out of its states.

#include <string>
#include <vector>

#include "effects/system.hpp"

namespace stepward::spin {

/// `system` as `effects::finish` made it. A run ends at its first report of severity error.
std::string as_promela(const effects::System& system);

/// What runs with slips may do. A run is over at its first report that ends it, or behind an edge on which a slip is seen; a report behind that is none.
struct Slips {
  unsigned budget = 1;                            ///< ways that one run may take
  std::vector<bool> is_way;                       ///< by edge of the system: open to whoever has some of the budget left
  std::vector<bool> is_shut;                      ///< by edge: a way that nobody takes
  std::vector<std::vector<effects::FieldId>> seen_by;  ///< by edge: where one of these is 1 before it, the slip is seen on it
  std::vector<bool> ends;                         ///< by report
  std::vector<bool> is_told;                      ///< by report: printed when it is first met
};

/// `system` with its ways (slips/slipped_system.hpp).
std::string as_promela(const effects::System& system, const Slips& slips);

}  // namespace stepward::spin
