#include "reliability/lognormal.hpp"

#include <cmath>

namespace stepward::reliability {
namespace {

/// How many standard deviations the 95th percentile lies above the median, to the digits that THERP uses.
constexpr double to_95th = 1.645;

Lognormal by_sigma_squared(double median, double sigma_squared) {
  return {median, std::exp(to_95th * std::sqrt(sigma_squared))};
}

}  // namespace

Answer<Lognormal> lognormal_of(const Estimate& estimate) {
  if (estimate.value > 1) return Refusal{Why::outside_0_to_1, "median", estimate.value};
  if (!(estimate.value > 0)) return Refusal{Why::not_positive, "median", estimate.value};
  if (!estimate.error_factor) return Refusal{Why::no_error_factor, "error factor", estimate.value};
  if (!(*estimate.error_factor >= 1)) return Refusal{Why::error_factor_below_1, "error factor", *estimate.error_factor};
  return Lognormal{estimate.value, *estimate.error_factor};
}

double sigma_of(const Lognormal& value) { return std::log(value.error_factor) / to_95th; }

double mean_of(const Lognormal& value) { return value.median * std::exp(std::pow(sigma_of(value), 2) / 2); }

double variance_of(const Lognormal& value) {
  return std::pow(mean_of(value), 2) * std::expm1(std::pow(sigma_of(value), 2));
}

Lognormal product_of(const std::vector<Lognormal>& factors) {
  double median = 1, squares = 0;
  for (const Lognormal& each : factors) {
    median *= each.median;
    squares += std::pow(sigma_of(each), 2);
  }
  return by_sigma_squared(median, squares);
}

Lognormal sum_of(const std::vector<Lognormal>& terms) {
  double mean = 0, variance = 0;
  for (const Lognormal& each : terms) {
    mean += mean_of(each);
    variance += variance_of(each);
  }
  if (mean == 0) return certain_value(0);
  const double squared = std::log1p(variance / (mean * mean));
  return by_sigma_squared(mean * std::exp(-squared / 2), squared);
}

}  // namespace stepward::reliability
