#pragma once
// Which findings come of one mistake?
//
// A single slip in a protocol shows at many places. Let the line that cleans the hands be missing from a routine: every
// removal behind a call of it is then done with hands that may carry, every rule about clean hands breaks there, and the
// border behind them is crossed with the same dirt. Somebody who reads thirteen errors looks for thirteen mistakes. So
// the finding that is reached soonest is told as the error, with its story, and those that most likely go when it is
// mended stand under it by their headlines ("also line 255: …"). None is dropped.
//
// Two findings count as one mistake when they share what a mending hand would touch:
//
//   a place          the same line or question: what else breaks at it
//   a skipped arm    both come of one "otherwise if" that passed over what was found
//   an origin        what they ask of the world was last changed by the same line: one touch dirtied the hand that then
//                    reaches goggles in line 171 and the respirator in line 255; one look found the soil that no later
//                    line deals with
//   an interruption  both need the same interruption to strike: its own lines left something undone
//   a subject        both say what became of one thing that is worn, owed or asked for: an apron whose removal is
//                    missing holds the coverall, still owes its tear, and is carried over the border
//
// A finding joins an error only if it shares one of these with the error itself; chains are not followed, so that two
// slips with one symptom in common stay two errors. What the grouping does with two mistakes at once is measured by
// `tests/mutations`, which makes pairs of mistakes and demands that both show.

#include <set>
#include <utility>

#include "explore/slice.hpp"
#include "model/protocol.hpp"

namespace stepward::check {

/// Where something stands in the source: file and first byte.
using PlaceKey = std::pair<std::uint32_t, std::uint32_t>;
PlaceKey key_of(source::Span span);

/// What a finding shares with others of the same mistake.
struct Traces {
  std::set<PlaceKey> origins;             ///< the lines that last changed what it asks
  std::set<std::uint32_t> interruptions;  ///< that struck on its shortest run
  std::set<effects::Bearer> subjects;     ///< the things it is about; layers of a hand are one thing for a question
};

Traces traces_of(const model::Protocol& protocol, const graph::Graph& graph, const effects::System& system,
                 const explore::Packed& packed, const explore::Story& story, const effects::Report& report);

/// The arm that was skipped on the shortest run to a finding although it held; null: none that could be its reason.
const effects::Report* skipped_arm_of(const effects::System& system, const explore::Story& story,
                                      const effects::Report& report);

bool share_a_mistake(const Traces& a, const Traces& b);

}  // namespace stepward::check
