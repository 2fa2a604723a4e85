#pragma once
// Section 6, patterns 7 and 9, and timers: clocks that run along with the world.
//
// The fast walk keeps no time in its states and works bounds out afterwards. Here every clock simply stands in the world,
// with the least and the greatest time that may have passed on this very run, so that runs which took different times are
// different worlds. No time is known to be more than one second beyond a bound: that is all a bound can ask.

#include <functional>
#include <optional>
#include <string>

#include "rule_memory.hpp"

namespace stepward::oracle {

/// What passes while a line is done; the greatest may be unknown.
struct LineTime {
  std::uint64_t least = 0;
  std::optional<std::uint64_t> greatest;
};

/// Before the moment: a too early end of pattern 9, and runs that end while a clock of pattern 7 runs.
void ask_clocks(Step& step, const Moment& moment);
/// After the moment: clocks end, then clocks begin.
void let_clocks_happen(Step& step, const Moment& moment);
/// The time of a line passes on every clock that did not begin in it. Once a line.
void pass_time(Step& step, const Line& line);

void start_timer(Step& step, const Line& line);
void stop_timer(Step& step, const Line& line);
/// "T803: a timer still runs at a normal ending."
void say_running_timers(Step& step);

}  // namespace stepward::oracle
