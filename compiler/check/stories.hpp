#pragma once
// Turns the slice of a run into the lines that a nurse reads.
//
// A line is one step that changed something the finding depends on, or an answer from the bedside that led there:
//
//     (4) wearer takes off the plastic apron: hands (outer gloves) meet the neck band, may carry dirt
//     … 6 steps change nothing of this
//     (9) wearer takes off goggles
//     here: hands (outer gloves) may bring dirt to the face: goggles
//
// Nobody reads a long story with a glove in the hand, so it is kept short: at most `most_events` lines of events, each
// of at most `most_words` words, at most two folds where steps were passed over, and the finding as the last line. A
// step and what it did share a line where both fit; articles go first, then the line is split in two.
// Numbers in brackets are those of the card.
//
// Of a run with a slip, what led to the dirt is told only from where six events are enough, and begins with "bare hands may carry dirt since (C3): tear".
// All its gaps are counted, and a single step in one is told as it is; a later look at what carries the dirt is told with why it does not help.
// Where a finding is about dirt, what went on before it was met and who walked where is no news.

#include "explore/slice.hpp"
#include "graph/numbering.hpp"
#include "model/protocol.hpp"

namespace stepward::check {

inline constexpr std::size_t most_events = 9, most_words = 14, most_folds = 2;

/// `headline` is the finding's, the last line, marked here.
std::vector<diagnostics::StoryLine> story_lines(const model::Protocol& protocol, const graph::Graph& graph,
                                                const graph::Course& course, const effects::System& system,
                                                const explore::Packed& packed, const explore::Story& story,
                                                const effects::Report& report, const std::string& headline);

/// "wearer takes off the plastic apron": the line in the words of the source, without its technique.
std::string line_in_words(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line);
/// The same of an act, or of a line with words of its own, by these and not by what it touches: "wearer does “Close the bag.”".
std::string deed_in_words(const model::Protocol& protocol, const model::Line& line);

}  // namespace stepward::check
