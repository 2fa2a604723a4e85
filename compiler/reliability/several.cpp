#include "reliability/several.hpp"

#include <cmath>

namespace stepward::reliability {
namespace {

std::optional<Refusal> unless_all_probabilities(const std::vector<double>& chances) {
  for (const double each : chances) {
    if (auto no = unless_probability(each, "chance")) return no;
  }
  return std::nullopt;
}

}  // namespace

Answer<double> at_least_one(const std::vector<double>& chances) {
  if (const auto no = unless_all_probabilities(chances)) return *no;
  double none = 0;
  for (const double each : chances) none += std::log1p(-each);
  return -std::expm1(none);
}

Answer<double> more_than(std::size_t limit, const std::vector<double>& chances) {
  if (const auto no = unless_all_probabilities(chances)) return *no;
  // What has passed the limit is gathered apart, so that a small answer is a sum and not a difference.
  std::vector<double> exactly(limit + 1, 0.0);
  exactly[0] = 1;
  double beyond = 0;
  for (const double each : chances) {
    beyond += exactly[limit] * each;
    for (std::size_t n = limit; n > 0; --n) exactly[n] = exactly[n] * (1 - each) + exactly[n - 1] * each;
    exactly[0] *= 1 - each;
  }
  return beyond;
}

}  // namespace stepward::reliability
