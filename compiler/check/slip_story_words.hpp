#pragma once
// What a story says besides, where somebody slips.
//
// Whoever reads of a slip follows the run on the card: so a deed is told in the card's words, what goes on a second time is new, and a time
// that was not kept is told with what it leaves behind. And whoever knows the card asks questions that the bare changes do not answer: why
// the wait does nothing, since when the eyes are bare, who knows of it at the end.

#include <optional>

#include "check/card_run.hpp"
#include "explore/slice.hpp"

namespace stepward::check {

class SlipStoryWords {
 public:
  SlipStoryWords(const model::Protocol& protocol, const graph::Graph& graph, const graph::Course& course, const effects::System& system, const CardRun& run, const effects::Report& report)
      : p_(protocol), graph_(graph), course_(course), system_(system), run_(run), report_(report) {}

  /// Whether a line is told by its own words, and not by what it is about.
  static bool is_in_own_words(const model::Line& line) { return line.verb == model::VerbKind::act || (line.verb == model::VerbKind::clean && !line.details.say.empty()); }
  /// A line at a step of the run: a deed by its own words, and "new" what was worn before.
  std::string words_of(const model::Line& line, std::uint32_t step) const;
  /// What a slip leaves behind at its own line, where its name does not say it; else empty.
  std::string outcome_of(graph::SlipKind slip, const model::Line& line) const;
  /// The same in clauses, and of a note or mark that is left out what hangs on it.
  std::vector<std::string> what_follows(graph::SlipKind slip, const model::Line& line) const;
  /// " of (24)": the step that wetted what a wait does not get clean; else empty.
  std::string waited_for(const explore::StoryStep& step) const;
  /// What is added to a line that changes nothing of the story; nothing: it is not told. `overlooked`: the slip is a look.
  std::optional<std::string> said_beside(model::LineId line, bool overlooked) const;
  /// Whether something comes off a part of the body that is reached, or meets dirt, later.
  bool bares_what_is_reached(const explore::Change& change) const;
  /// "the eyes are uncovered from here"
  std::string is_bare_now() const;
  /// Whether the finding is that what is dirty leaves, or stays so to the end.
  bool is_carried_on() const;
  /// Whether dirt came through something to a body, or to what is worn beneath, with nobody seeing it, and is carried on.
  bool is_carried_unseen(const explore::Story& story) const;
  /// "nobody knows of it, so no first aid is given"
  std::string what_nobody_does() const;

 private:
  std::vector<std::string> left_undone(const model::Line& line) const;
  bool was_taken_off(const model::Line& line, std::uint32_t before) const;
  bool is_of_hands(const model::Line& line) const;
  const effects::Bearer* bared() const;

  const model::Protocol& p_;
  const graph::Graph& graph_;
  const graph::Course& course_;
  const effects::System& system_;
  const CardRun& run_;
  const effects::Report& report_;
};

}  // namespace stepward::check
