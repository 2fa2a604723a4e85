#pragma once
// The table of slips as a failure-mode table: what a hazard study fills in by hand, as far as the model knows it.
//
// Two published forms ask for much the same. HFMEA (reliability/hazard.hpp) numbers the failure modes of each step, scores them and asks
// four questions; IEC 60812 asks for effects, existing controls and ratings. How bad and how often are judgements of the people who
// work there: the model leaves those cells empty, and with them the score. It does know
//
//   single point weakness   the slip alone comes to harm, before anything but a confirm of it shows it
//   effective control       no run comes to harm before a look, a confirm or a question shows it
//   obvious                 the next line that depends on it cannot be done, or the ending shows it
//
// and so often the end of the questions without the score:
//
//   obvious or controlled                 stop, whatever the score
//   single point, neither of the two      act, whatever the score
//   else                                  it hangs on the score
//
// Worked example: a look at the boots that misses soil reaches the clean lobby unseen: single point, no control, not obvious; act, even
// if it is thought remote. A removal that is left out shows at the next line, which cannot be done: obvious; stop.

#include <functional>

#include "reliability/hazard.hpp"
#include "slips/table.hpp"

namespace stepward::slips {

enum class FailureDecision : std::uint8_t { act, act_by_score, stop_controlled, stop_obvious, stop_no_harm };

struct FailureMode {
  std::size_t row = 0;        ///< of the table of slips
  std::string number;         ///< "12(2)": the card's number of the step, and which of its modes; without a number, the line's: "line 40(1)"
  reliability::HazardAnswers answers;
  FailureDecision decision = FailureDecision::stop_no_harm;
};

/// In the order of the source. Rows that are not in the model are left out.
/// `line_of`: the line number of a row, for steps that no card numbers.
std::vector<FailureMode> failure_modes(const Table& table, const std::function<std::uint32_t(const Row&)>& line_of);

}  // namespace stepward::slips
