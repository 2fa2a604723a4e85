#pragma once
// How somebody stands at one moment: what they wear, what lies above what, what of it may carry, and where they are.
//
// Two protocols that pair have names in common and nothing else: each numbers its items as it reads them. A standing is
// therefore made of names. At the start it is read off the world before the first line, exposure included. At an ending
// it is what some run to it shows: the ending's own edge is given one question for each fact ("is the apron on? does
// the hood lie above the goggles?"), and the walk that answers them is the same that checks a protocol, without its
// rules. What an ending declares would not do: it says what is worn, and neither in what order it lies nor what of it
// a hand has dirtied on the way.

#include <set>
#include <string>
#include <utility>

#include "check/verdict.hpp"

namespace stepward::check {

struct Standing {
  std::set<std::string> worn;
  std::set<std::pair<std::string, std::string>> above;  ///< the upper and the lower, for pairs that may lie either way
  std::set<std::pair<std::string, std::string>> unclean;  ///< what may carry: the thing, and its surface (none: a body site)
  std::set<std::string> zones;                            ///< at an ending: several, if runs differ
};

/// The protocol without its steps: all that a start depends on, and nothing that takes time to lower.
model::Protocol before_the_first_line(const model::Protocol& protocol);
/// The acting person before the first line of a protocol that was stripped of its steps.
Standing standing_at_start(const model::Protocol& still, const model::Variant& variant);

/// The acting person at those normal endings that lead on to the document `next`, or name none.
struct Arrival {
  Standing standing;
  bool reached = false;
  bool has_error = false;  ///< of touch, cover, place or flow: then runs end before their ending
  bool complete = false;
};
Arrival standing_at_ending(const model::Protocol& protocol, const model::Variant& variant, const std::string& next,
                           const Options& options);

}  // namespace stepward::check
