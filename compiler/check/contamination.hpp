#pragma once
// How far dirt comes, line by line: what the hands are, what they meet, what may carry afterwards, what is clean again.
//
// Read off a quiet walk (quiet_walk.hpp): at every state in which a run stands before a line, the line is done anew, and what its
// touches meet and what its operations raise or lower is noted. Of several runs the worst is kept, as everywhere:
//
//     "take off apron", on one run with clean gloves, on another with gloves that may carry
//       hands      outer gloves: may carry
//       meetings   outer gloves (may carry) meet neck band of apron (clean)
//       rises      neck band of apron: may carry, by what it meets
//
// Why a surface rises is kept with it: a reader of "bare hands may carry" asks at once how that comes, and a tear that is seen
// during a look is another matter than a touch.
//
// What a line itself makes good again is no rise: a clean boot top that is met while the boot is wetted, and is clean when the
// contact time is over, never carries from here. So levels are compared before and after all that an edge does, and what rises at
// a line is taken back where the end of its contact time leaves it clean on every run.
//
// A meeting is told with the levels just before it. Whether it is a harm is not asked here; findings say that.

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <vector>

#include "check/quiet_walk.hpp"

namespace stepward::check {

/// A surface of a thing; `part` is a position in the item's surfaces, 0 for what has only one.
struct MapSurface {
  effects::Bearer bearer;
  std::uint8_t part = 0;
  friend bool operator==(const MapSurface&, const MapSurface&) = default;
  friend bool operator<(const MapSurface& a, const MapSurface& b) { return std::tie(a.bearer, a.part) < std::tie(b.bearer, b.part); }
};

/// A hand meets a surface. Levels: the worst that either has, just before.
struct Meeting {
  effects::Bearer hand;
  MapSurface met;
  friend bool operator<(const Meeting& a, const Meeting& b) { return std::tie(a.hand, a.met) < std::tie(b.hand, b.met); }
};
struct MeetingLevels { std::uint32_t hand = 0, met = 0; };

/// How a surface comes to be unclean: the worst level of all runs, and each way in which that happens, with what it comes from.
struct Rise {
  std::uint32_t level = 0;
  std::set<std::pair<effects::Cause::What, effects::Bearer>> why;
  bool is_only(effects::Cause::What way) const {
    return !why.empty() && std::all_of(why.begin(), why.end(), [&](const auto& each) { return each.first == way; });
  }
};

/// What happens on some run at one line.
struct LineContamination {
  std::map<effects::Bearer, std::uint32_t> hands;    ///< before the line, of its doer: each layer that is outermost on some run, worst level
  std::map<Meeting, MeetingLevels> meetings;
  std::map<MapSurface, Rise> rises;                  ///< from clean to the level given, or from suspect to soiled
  std::map<MapSurface, std::uint32_t> falls;         ///< from unclean to the level given, by an agent or a cleaning
};

struct ContaminationMap {
  bool complete = false;                             ///< false: the walk came to its limit, and nothing may be said of it
  std::uint32_t states = 0;
  std::map<MapSurface, std::uint32_t> at_start;      ///< what is unclean before the first line
  std::map<model::LineId, LineContamination> lines;  ///< those that some run comes to
};

ContaminationMap contamination_map(const QuietWalk& walk, const model::Protocol& protocol);

}  // namespace stepward::check
