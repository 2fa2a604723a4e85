#pragma once
// A run beside the card: which numbered lines it passes, and what lies between two of its steps.
//
// Steps of a run count from 1, as stories number them; 0 is where it starts. A disinfection is two of them, the wetting and the
// end of its time, and one line of the card.

#include <string>
#include <vector>

#include "effects/system.hpp"
#include "graph/numbering.hpp"
#include "model/protocol.hpp"

namespace stepward::check {

class CardRun {
 public:
  /// `passed`: where the run stands before each of its steps.
  CardRun(const model::Protocol& protocol, const graph::Graph& graph, const graph::Course& course, const std::vector<graph::NodeId>& passed)
      : p_(protocol), graph_(graph), course_(course), passed_(passed) {}

  std::uint32_t steps() const { return static_cast<std::uint32_t>(passed_.size()); }
  /// None: no line is done at that step, or the run is over.
  model::LineId line_at(std::uint32_t step) const;
  /// "(24)"; empty for a line without number.
  std::string card(model::LineId line) const;
  /// The numbered lines of the card between two steps of the run.
  std::vector<model::LineId> lines_between(std::uint32_t from, std::uint32_t to) const;
  /// The numbered lines of the main list that stand on the card between two steps of the run and that the run does not come to.
  std::vector<model::LineId> lines_gone_round(std::uint32_t from, std::uint32_t to) const;
  /// The first step of the run behind `from`, up to `to`, whose line stands on the card behind a line of the main list.
  std::uint32_t comes_behind(model::LineId line, std::uint32_t from, std::uint32_t to) const;
  /// " by Q9": the question of which an answer sends the reader straight to a line; " on this run" where none does.
  std::string by_question(model::LineId line) const;
  /// A slip is told at the step at which it begins; its line, done in that manner, may follow as a step of its own, and is passed over here.
  std::uint32_t behind_slip(std::uint32_t from, const std::string& card) const;
  /// What a line is about where it is one thing; else nothing, since "it" would not say which.
  std::vector<effects::Bearer> things_of(const model::Line& line) const;
  bool is_about(model::LineId line, const effects::Bearer& thing) const;

 private:
  /// Of a line of the main list, its number; 0: it stands in a box, has a letter behind its number, or none.
  std::uint32_t main_number(model::LineId line) const;

  const model::Protocol& p_;
  const graph::Graph& graph_;
  const graph::Course& course_;
  const std::vector<graph::NodeId>& passed_;
};

}  // namespace stepward::check
