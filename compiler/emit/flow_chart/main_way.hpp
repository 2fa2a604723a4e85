#pragma once
// Which answer leads on while all is well: the heavy line of a chart. Part of `from_course`.
//
// The trunk of a course takes the first answer of every decision, so that numbers stay where they are when an author adds a
// question. That is a rule for counting, and no promise that the first answer is the good one: "sharp in it as yes or no" is YES
// on the trunk, though whoever sees no sharp has nothing to do there. For a committee the heavy line has to be the run without
// exceptions. So a decision's answer is chosen by what its questions make of it, over the whole course and once for all of them:
//
//     if sharp in it is yes   lines of its own for YES, nothing for NO           → NO leads on
//     if all agree is no      lines that come to an emergency ending for NO      → YES leads on
//     until seal holds is yes NO goes round again                                → YES leads on
//
// Fewest emergencies count first, then the fewest lines that only one answer asks for; where that tells nothing, the first answer
// is right, as on the trunk. A question about a state is answered by who wears what, and what was recorded, along this very way;
// off the trunk, in boxes and breaches, nothing of that is known: there the arm leads on that is better than every other one by
// the same count, and where there is none no answer is chosen. A breach or box whose way comes to an emergency ending has none
// "while all is well", and so no heavy line.

#include <map>
#include <optional>
#include <vector>

#include "graph/numbering.hpp"
#include "graph/quiet_path.hpp"

namespace stepward::emit::flow_chart {

class MainWay {
 public:
  MainWay(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course);

  /// The arm of the question at this position of a run that leads on; none: nobody can tell.
  std::optional<std::size_t> arm(graph::RunId run, std::size_t at) const;
  /// Whether the way of a run comes to an ending that is not normal.
  bool comes_to_emergency(graph::RunId run) const;
  /// By position of the run: whether the way passes there, if it comes to the run's begin.
  std::vector<bool> passes(graph::RunId run) const;

 private:
  bool come_through(graph::RunId run, std::vector<bool>* passed) const;
  bool follow(graph::RunId run, graph::QuietState& state);
  std::optional<std::size_t> chosen(const graph::Entry& question, const graph::QuietState* state) const;

  const model::Protocol& protocol_;
  const graph::Course& course_;
  std::map<model::DecisionId, std::size_t> usual_;              ///< the answer that leads on
  std::vector<std::vector<std::optional<std::size_t>>> arms_;   ///< by run and position
};

}  // namespace stepward::emit::flow_chart
