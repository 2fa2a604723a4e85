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
#include "wording/phrases.hpp"
#include "wording/step_text.hpp"

namespace stepward::emit {

/// `protocol` has the texts that are printed, in whatever language; `written` is the same protocol as its author wrote
/// it: what a text means for the paper (whom it addresses, whom it speaks of) is read from there.
struct PaperSource {
  const model::Protocol& protocol;
  const model::Protocol& written;
  const model::Variant& variant;
  const graph::Course& course;  ///< made from `written`, so that numbers are the same in every language
  const WalkFacts& facts;
  bool by_name = false;  ///< who reads it is not who acts: "the wearer’s hands" where a card says "your hands"

  std::string said(wording::Phrase which, std::initializer_list<wording::Gap> gaps = {}) const {
    return wording::phrase(protocol.tongue, which, gaps);
  }
};

/// A phrase whose gaps are filled with runs, so that some of it can be strong or lead to a block.
struct GapText { std::string_view name; Text text; };
Text phrase_text(const PaperSource& source, wording::Phrase which, std::initializer_list<GapText> gaps, bool strong = false);
/// The routine's name that stands on a box.
std::string box_title(const PaperSource& source, const graph::Box& box);
/// Every name of a thing, with its article.
std::string called(const PaperSource& source, const model::Named& named);

/// "1 430" could be two figures: on paper one of four digits has no gap, and a longer one narrow gaps at which no line ends (SI Brochure, 9th
/// edition, 5.4.4, from memory: of four digits no gap is customary).
std::string with_whole_figures(const std::string& text);
/// "2906", "12 345" with narrow gaps.
std::string whole_figure(std::uint64_t number);

/// A paper called `name` with title, number, dates, owner, caution and the captions of its language. What it says is still to be
/// filled in, and then its check words, by `stamp`.
Sheet begun_sheet(const PaperSource& source, SheetKind kind, const std::string& name);
/// The captions that stand on every face, in the paper's language.
Captions captions_of(const PaperSource& source);

/// What is known of the doer's hands at this line and at every other line that is printed under the same number.
wording::Setting setting_of(const PaperSource& source, const graph::Entry& entry);
/// Whether the person who acts is handed something: papers tell it from the side of whoever takes it.
bool is_received(const model::Protocol& protocol, const model::Line& line);
/// "TAKE 1 new pair of inner gloves from the helper". `anew`: as in the setting of the line.
wording::Act act_received(const PaperSource& source, const model::Line& line, const wording::StepText& words, bool anew);

/// The contact time of a step. In a box that serves several things: the longest, and which things need less.
struct Clock {
  model::Duration time;
  std::string shorter;
};
Clock clock_of(const PaperSource& source, const graph::Entry& entry);
/// The layer that all of them leave behind; "hands: inner gloves", empty if it is not one.
std::string hands_afterwards(const PaperSource& source, model::LineId line);

/// The bin that a line drops what it takes off into, with its article; empty: none that is named.
std::string bin_of(const PaperSource& source, const model::Line& line);

/// Who holds the script: the reader of the rhythm, else the first person who keeps hands off, else anybody who watches.
model::RoleId reader_of(const model::Protocol& protocol);

/// "go on at 4", "END: clear exit", "go on where you left for box C", "go back to the step where you stopped"; empty for nowhere.
Text go_on_text(const PaperSource& source, const graph::Target& target);
/// "END: exposure exit. Continue with VIR-P08."
Text ending_text(const PaperSource& source, model::EndingId ending);
/// "Go back to the step where you stopped.": the end of what happens at any time.
EndMark resume_mark(const PaperSource& source, Level level);

/// True when everything a fork asks for fits into its row of the frame: nothing, an ending, or a box.
bool fits_in_row(const PaperSource& source, const graph::Fork& fork);

/// In which order the answers stand: as in the source, but of YES and NO always YES first. Branches keep to it.
std::vector<std::size_t> answer_order(const PaperSource& source, const graph::Entry& entry);

/// The frame of a question or of a loop's test.
Frame question_frame(const PaperSource& source, const graph::Entry& entry, Level level);
Frame loop_frame(const PaperSource& source, const graph::Entry& entry, Level level);

/// What a loop's test asks, the answer that leaves the loop, and the one that stays in it.
struct LoopKeys {
  Text ask;
  std::string leave, again;
  bool turned = false;  ///< it is asked the other way round, so that the answer that stays comes first
};
/// "still YES after 2 times": what is answered when a loop has come to its end.
std::string still_words(const PaperSource& source, const graph::Entry& entry);
LoopKeys loop_keys(const PaperSource& source, const graph::Entry& entry);

/// "Q5: YES. Go on here.": what stands behind branches that end the run, for who gave one of the other answers. The forks of a question by
/// position; of a loop's test it is the answer that leaves the loop.
Text goes_on_text(const PaperSource& source, const graph::Entry& entry, const std::vector<std::size_t>& forks);

/// "Q3: YES"; the number of the question that this fork answers, and the key that the frame gave to it.
std::string branch_name(const PaperSource& source, const graph::Entry& entry, std::size_t fork);

Text repeat_notice(const PaperSource& source, const graph::Entry& entry);
Text together_notice(const PaperSource& source, const graph::Entry& entry);
/// "do box C (exposure first aid)"; `how`: which phrase.
Text box_text(const PaperSource& source, const graph::Entry& entry, wording::Phrase how = wording::Phrase::do_box);
ZoneBand zone_band(const PaperSource& source, model::ZoneId zone);
/// Where the person who acts begins; none if the protocol does not say.
model::ZoneId first_zone(const model::Protocol& protocol);

/// "what", then go on as `go_on` says.
Text then(const PaperSource& source, Text what, Text go_on);

/// Appends `more` to `text`.
void add(Text& text, const Text& more);

}  // namespace stepward::emit
