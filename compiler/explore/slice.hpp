#pragma once
// Why was it found? The run is replayed operation by operation and read backwards.
//
// A run to a finding has dozens of steps; most changed nothing that the finding depends on. Starting from the fields
// that the finding's guard asked, the replay is read from its end: an operation that wrote one of them belongs to the
// story, and what it read is asked for in turn: the dirt of a hand leads to the touch that gave it, and that touch to
// what was met. Three kinds of reading lead nowhere worth telling and are not followed: that something was clean, that
// something was worn all along, and what the walk remembers only to hold back later findings. Dirt that nobody brought
// during the run was there from the start; where the finding asked for it directly, the story says so instead of
// beginning in the middle. A disinfection that would have ended the matter, but for the soil that is on the thing, is told
// where it first comes to nothing: nobody who reads on would believe the rest. Steps with an answer from the bedside (something found, another answer than the first, an
// interruption) belong to the story anyway, since they say which run this is.

#include "explore/walk.hpp"

namespace stepward::explore {

struct Change {
  effects::FieldId field;
  std::uint32_t before = 0, after = 0;
  std::uint32_t cause = 0;  ///< index into the system's causes
};

struct StoryStep {
  graph::NodeId node;           ///< where the run stood
  std::uint32_t edge = 0;       ///< packed edge
  std::uint32_t number = 0;     ///< of the step within the run, from 1
  std::vector<Change> changes;  ///< those that matter, in order; empty for a mere answer
  bool told_by_answer = false;
  std::uint32_t seconds = 0;    ///< that pass here, where the story is about time: at least, or
  bool at_most = false;         ///< at most
  bool over_soil = false;       ///< disinfects in vain what the finding depends on: soil is on it
};

/// A field that the finding asked for, and the step that last changed it.
struct Root {
  effects::FieldId field;
  graph::NodeId node;
  std::uint32_t edge = 0;  ///< packed edge
};

struct Story {
  std::vector<StoryStep> steps;  ///< the last one is the step that finds it
  std::vector<graph::NodeId> passed;  ///< by step of the run: whose line it is; none where somebody only slips, or something happens
  std::vector<effects::FieldId> asked;  ///< by the finding, of the world as it then was
  std::vector<Root> roots;              ///< of the fields asked, those that the run changed
  std::vector<effects::ReportId> on_the_way;  ///< what else the run met before the finding
  std::vector<effects::FieldId>
      from_the_start;  ///< levels the finding asked for that were unclean before the first step
};

Story tell(const effects::System& system, const Packed& packed, const Result& result, const Found& found);
/// The same of a run given by its packed edges, and a report by its number in the packed system.
Story tell(const effects::System& system, const Packed& packed, const std::vector<std::uint32_t>& run, std::uint32_t report);

}  // namespace stepward::explore
