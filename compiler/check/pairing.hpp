#pragma once
// Does somebody who came in by one protocol stand as the other one supposes? `pairs with` in an exit names the entry.
//
// Variants correspond by the choices that both files have, by the name of the choice and of its value; a choice that
// only one of them has is open. For each corresponding pair the acting person's standing at the entry's normal ending is
// held against the standing at the exit's start (standing.hpp):
//
//   entry, at its ending                          exit, at its start
//   scrubs, gloves, coverall, plastic apron       scrubs, gloves, coverall                 V202  the apron
//   hood above goggles                            goggles above hood                       V204
//   in the anteroom                               in the care room                         V205, unless `moved since`
//   the inside of the gloves may carry            a fresh pair, clean inside               V206
//
// What an exit takes as worse than the entry leaves it is no fault: care lies in between. Other people are not compared:
// who helps somebody in and who helps them out are dressed anew.

#include "check/standing.hpp"

namespace stepward::check {

/// What was said of the two, and where.
struct PairOfProtocols {
  const model::Protocol& exit;
  const model::Protocol& entry;
  std::string entry_named;      ///< the entry's file, as the exit names it
  source::Span at, name_at;     ///< the `pairs with` line and the name in it
  bool moved_since = false;
};

/// How many pairs of variants correspond and were compared; what differs goes to `sink`.
std::size_t check_pair(const PairOfProtocols& pair, const Options& options, diagnostics::Sink& sink);

}  // namespace stepward::check
