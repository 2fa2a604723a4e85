#pragma once
// How sure a published figure is, and what becomes of that when figures are multiplied and added.
//
// THERP gives a median and an *error factor*: the 95th percentile divided by the median. The chance is taken to be lognormal, so
//
//   sigma = ln(error factor) / 1.645        mean = median x exp(sigma^2 / 2)
//
// A product multiplies the medians and adds the ln of the error factors in quadrature. A sum is taken as the lognormal that has
// the sum's mean and variance. The median of a sum is not the sum of medians, and a program that forgets the spread gets
// the published chain below wrong in its third digit (0.0171).
//
// Worked example (a published calculation log, nusbaumer.tripod.com): the document lies unused (0.3, 5) and the item is left out
// (0.05, 5): 0.015, error factor 9.74. It is used (0.7, certain) and the item is left out all the same (0.003, 3): 0.0021, 3. Either: 0.0169, 9.12.
//
// A number without error factor has no spread to reckon with: `lognormal_of` refuses it, and `certain_value` says that it
// is meant to be exact.

#include <vector>

#include "reliability/published.hpp"

namespace stepward::reliability {

struct Lognormal {
  double median = 0;
  double error_factor = 1;  ///< 1: no spread
};

/// Of a chance. Why::outside_0_to_1, Why::not_positive, Why::no_error_factor, Why::error_factor_below_1.
Answer<Lognormal> lognormal_of(const Estimate& estimate);
inline Lognormal certain_value(double value) { return {value, 1}; }

double sigma_of(const Lognormal& value);
double mean_of(const Lognormal& value);
double variance_of(const Lognormal& value);

/// Of independent factors; 1 for none.
Lognormal product_of(const std::vector<Lognormal>& factors);
/// Of independent terms, by matching mean and variance; nought for none.
Lognormal sum_of(const std::vector<Lognormal>& terms);

}  // namespace stepward::reliability
