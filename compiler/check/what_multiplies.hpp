#pragma once
// Why are there so many? What an author could shorten when a walk was given up.
//
// Situations multiply where things vary independently: an interruption that has struck or not, a decision with three
// answers, what a look at the gown found. How much one of them multiplies is counted on the last situations that were
// walked: with its fields left out, fewer of them differ.
//
//     phone rang   gown                        without the phone
//     no           nothing found               nothing found
//     yes          nothing found      4 → 2    soil found           the phone makes twice as many
//     no           soil found
//     yes          soil found

#include <string>
#include <vector>

#include "check/variant_check.hpp"

namespace stepward::check {

/// The three that multiply most, the greatest first; none that makes no difference worth naming.
std::vector<Multiplier> what_multiplies(const model::Protocol& protocol, const Prepared& prepared, const explore::Result& result);

}  // namespace stepward::check
