#pragma once
// How much time passes between two moments of a walk?
//
// Time guards nothing and is no part of a state: two runs that come to the same place by a quick way and a slow one go
// on alike. So bounds on time are held against the finished walk. Every standing place has a least and a greatest time
// that its line may take (greatest: none, where nobody declared one), and marks say where a clock begins and ends:
//
//     wearer disinfects the patch            begins      takes at least 2 minutes, nobody says at most how long
//     observer records the time                          nobody says how long
//     wearer wipes the patch                 ends
//
// A run carries the clock as a *label*: how long it runs at this state, summed over the least times ("it takes at least
// this long", which can break an at-most bound) or over the greatest ("at most this long", which can break an at-least
// bound, and whose absence leaves a bound unproved). Labels spread breadth first from where clocks begin. Of two labels at
// a state the one that is nearer to breaking the bound makes the other one needless, unless that came in fewer steps; so a
// state keeps labels that get worse and worse, mostly one. The first label to break the bound belongs to a shortest run
// that does.

#include <optional>

#include "explore/walk.hpp"

namespace stepward::explore {

/// "No time was declared": more than any bound.
inline constexpr std::uint32_t unbounded = UINT32_MAX;

/// Seconds that pass while a run stands at a node of the graph and does its line.
struct LineTime { std::uint32_t least = 0, greatest = unbounded; };

/// What one label is summed over.
enum class Measure : std::uint8_t { least, greatest };

/// A run on which a clock comes to a mark too late or too soon.
struct Overrun {
  std::uint32_t mark = 0;               ///< index into the system's marks: what ended the clock, or where the run was over
  std::uint32_t seconds = 0;            ///< what the clock shows there; `unbounded`: nobody declared it
  std::uint32_t begun = 0;              ///< index into `run` of the step whose line begins the clock
  std::vector<std::uint32_t> run;       ///< packed edges, first step first
  std::vector<std::uint32_t> stood;     ///< by step of `run`: the node where the run stood
};

/// A shortest run on which the clock of `timing` breaks its bound by this measure: shows more than an at-most bound, or
/// less than an at-least bound, when it ends; or, for an at-most bound, on which a run ends normally while it runs. None:
/// there is no such run. `times`: by node of the graph.
std::optional<Overrun> first_overrun(const effects::System& system, const Packed& packed, const Result& result,
                                     const std::vector<LineTime>& times, std::uint32_t timing, Measure measure);

}  // namespace stepward::explore
