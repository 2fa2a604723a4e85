#include "slips/failure_modes.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

namespace stepward::slips {
namespace {

bool shows_by_itself(const Catch& c) { return c.by == Catch::By::cannot_be_done || c.by == Catch::By::ending; }

reliability::HazardAnswers answers_of(const Row& row) {
  reliability::HazardAnswers out;
  // A slip that only a confirm holds back reaches harm by itself: the confirm is then the control.
  out.single_point_weakness = row.harm.has_value();
  if (row.outcome != Outcome::caught) return out;
  out.obvious = !row.harm && std::all_of(row.caught.begin(), row.caught.end(), shows_by_itself);
  out.effective_control = !out.obvious;
  return out;
}

// The questions under the least and the highest score.
FailureDecision decision_of(const Row& row, const reliability::HazardAnswers& answers) {
  using reliability::HazardDecision;
  if (row.outcome == Outcome::harmless) return FailureDecision::stop_no_harm;
  const HazardDecision low = reliability::decide(1, answers), high = reliability::decide(16, answers);
  if (low == HazardDecision::act) return FailureDecision::act;
  switch (high) {
    case HazardDecision::act: return FailureDecision::act_by_score;
    case HazardDecision::stop_controlled: return FailureDecision::stop_controlled;
    case HazardDecision::stop_obvious: return FailureDecision::stop_obvious;
    case HazardDecision::stop_too_small: break;
  }
  return FailureDecision::stop_no_harm;
}

}  // namespace

std::vector<FailureMode> failure_modes(const Table& table, const std::function<std::uint32_t(const Row&)>& line_of) {
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < table.rows.size(); ++i)
    if (table.rows[i].outcome != Outcome::not_modelled) order.push_back(i);
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return table.rows[a].key < table.rows[b].key; });
  std::map<std::string, unsigned> modes;  // other variants have other lines under the same number
  std::vector<FailureMode> out;
  for (std::size_t i : order) {
    const Row& row = table.rows[i];
    const std::string step = row.steps.empty() ? fmt::format("line {}", line_of(row)) : *row.steps.begin();
    const reliability::HazardAnswers answers = answers_of(row);
    out.push_back({i, fmt::format("{}({})", step, ++modes[step]), answers, decision_of(row, answers)});
  }
  return out;
}

}  // namespace stepward::slips
