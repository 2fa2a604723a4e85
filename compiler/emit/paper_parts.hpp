#pragma once
// What the wearer's card and the observer's script have in common: control block, questions, where to go on.
//
// Both papers read the same course (graph/numbering.hpp); they differ in what they print of a step. `PaperSource` holds
// what they print from, for the time of one paper.

#include <string>
#include <vector>

#include "emit/document/document.hpp"
#include "emit/walk_facts.hpp"
#include "graph/numbering.hpp"
#include "model/protocol.hpp"
#include "wording/step_text.hpp"

namespace stepward::emit {

struct PaperSource {
  const model::Protocol& protocol;
  const model::Variant& variant;
  const graph::Course& course;
  const WalkFacts& facts;
};

/// Title, number, dates, owner, caution; without check words, which `stamp` adds.
Control control_block(const PaperSource& source, const std::string& kind);

/// What is known of the doer's hands at this line and at every other line that is printed under the same number.
wording::Setting setting_of(const PaperSource& source, const graph::Entry& entry);

/// The contact time of a step. In a box that serves several things: the longest, and which things need less.
struct Clock {
  model::Duration time;
  std::string shorter;
};
Clock clock_of(const PaperSource& source, const graph::Entry& entry);
/// The layer that all of them leave behind; "hands: inner gloves", empty if it is not one.
std::string hands_afterwards(const PaperSource& source, model::LineId line);

/// "go on at 4", "END: clear exit", "go back to the step where you stopped"; empty for nowhere.
Text go_on_text(const PaperSource& source, const graph::Target& target);
/// "END: exposure exit. Continue with VIR-P08."
Text ending_text(const PaperSource& source, model::EndingId ending);

/// True when everything a fork asks for fits into its row of the frame: nothing, an ending, or a box.
bool fits_in_row(const PaperSource& source, const graph::Fork& fork);

/// The frame of a question or of a loop's test.
Frame question_frame(const PaperSource& source, const graph::Entry& entry, Level level);
Frame loop_frame(const PaperSource& source, const graph::Entry& entry, Level level);

/// A question about a state whose only printed arm is the trunk: one quiet line says who skips it. Empty: print the
/// frame.
Text skip_notice(const PaperSource& source, const graph::Entry& entry);

/// "YES to Q3"; the key that the frame gave to this fork.
std::string branch_name(const PaperSource& source, const graph::Entry& entry, std::size_t fork);

Text repeat_notice(const graph::Entry& entry);
Text together_notice(const graph::Entry& entry);
Text box_text(const PaperSource& source, const graph::Entry& entry);
ZoneBand zone_band(const model::Zone& zone);
/// Where the person who acts begins; none if the protocol does not say.
model::ZoneId first_zone(const model::Protocol& protocol);

/// Appends `more` to `text`.
void add(Text& text, const Text& more);

}  // namespace stepward::emit
