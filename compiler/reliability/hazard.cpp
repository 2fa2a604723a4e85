#include "reliability/hazard.hpp"

#include <tuple>

namespace stepward::reliability {
namespace {

bool is_rating(unsigned value) { return value >= 1 && value <= 10; }

auto rank_of(const Ratings& r) {
  return std::tuple(r.severity * r.occurrence * r.detection, r.severity, r.occurrence, r.detection);
}

}  // namespace

HazardDecision decide(unsigned score, const HazardAnswers& answers) {
  if (score < counts_by_score && !answers.single_point_weakness) return HazardDecision::stop_too_small;
  if (answers.effective_control) return HazardDecision::stop_controlled;
  return answers.obvious ? HazardDecision::stop_obvious : HazardDecision::act;
}

Answer<unsigned> risk_priority(const Ratings& ratings) {
  for (const auto& [name, value] : {std::pair("severity", ratings.severity), std::pair("occurrence", ratings.occurrence),
                                    std::pair("detection", ratings.detection)}) {
    if (!is_rating(value)) return Refusal{Why::rating_outside_1_to_10, name, static_cast<double>(value)};
  }
  return ratings.severity * ratings.occurrence * ratings.detection;
}

bool ranks_above(const Ratings& one, const Ratings& other) { return rank_of(one) > rank_of(other); }

}  // namespace stepward::reliability
