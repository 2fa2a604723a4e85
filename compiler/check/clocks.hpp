#pragma once
// Bounds on time, held against a finished walk: rules of patterns 7 and 9, and timers that say how long they run.
//
// What is known of time is what the author declared: waits, contact times, and lines that end in `at least` or `at most`.
// A bound that is broken on some run even by these is an error. One that they prove on every run is kept in silence. One
// that they leave open is a duty: somebody has to look at the clock, and a note says so.

#include <vector>

#include "check/variant_check.hpp"
#include "explore/clock.hpp"

namespace stepward::check {

/// What the lines of a graph take, by node.
std::vector<explore::LineTime> line_times(const model::Protocol& protocol, const graph::Graph& graph);

/// What a walk says of one bound on time.
struct TimeFinding {
  effects::Report report;          ///< severity error or warning: broken; note: not proved
  source::Span at;
  std::uint32_t steps = 0;
  std::vector<std::string> args;
  std::optional<explore::Overrun> run;  ///< of what is broken
};

/// One finding for each bound that is broken or not proved.
std::vector<TimeFinding> time_findings(const model::Protocol& protocol, const Prepared& prepared, const explore::Result& result);

/// The run of a broken bound as a story: where the clock begins, what is known to take time, where it ends.
explore::Story clock_story(const effects::System& system, const explore::Packed& packed, const std::vector<explore::LineTime>& times,
                           const explore::Overrun& run);

}  // namespace stepward::check
