#pragma once
// How much likelier a check fails once the one who is checked has slipped.
//
// Two people in one room are not two dice. THERP (table 20-17) knows five levels between "the second knows nothing of the first"
// and "the second does what the first does"; each gives the chance that the second fails, given that the first has, from
// the chance N that the second fails by itself:
//
//   zero N · low (1 + 19 N) / 20 · moderate (1 + 6 N) / 7 · high (1 + N) / 2 · complete 1
//
// So low dependence can never earn a check more than a factor of 20, moderate 7, high 2, however good the check is. Worked
// example: a line is left out with 0.003, its check misses with 0.1. Zero: 0.0003. Moderate: 0.003 x (1 + 0.6) / 7 = 0.000686, more
// than twice that. Formulas second hand (a public re-encoding) and from memory, which agree.

#include "reliability/answer.hpp"

namespace stepward::reliability {

enum class Dependence : std::uint8_t { zero, low, moderate, high, complete };

/// The chance that the second fails, given that the first has. `alone` is its chance to fail by itself.
Answer<double> given_failure(Dependence level, double alone);

/// The chance that the second succeeds, given that the first has; `alone` is its chance to succeed by itself. From memory.
Answer<double> given_success(Dependence level, double alone);

/// The chance that both fail. Never above either chance alone, where the published formula would exceed it: at complete
/// dependence it does when the second failure is the rarer one (Herberger and Boring, PSAM 13, 2016).
Answer<double> both_fail(Dependence level, double first, double second);

/// What the level is chosen by in SPAR-H (NUREG/CR-6883); the table is from memory.
struct Circumstances {
  bool same_people = false;
  bool close_in_time = false;
  bool same_place = false;
  bool new_cues = false;  ///< something new to see, hear or read between the two
};
Dependence dependence_of(const Circumstances& circumstances);

}  // namespace stepward::reliability
