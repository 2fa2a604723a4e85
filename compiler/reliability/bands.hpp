#pragma once
// How a chance is shown: a band, one figure each.
//
// A page that says 0.000686 claims to know what nobody does. What is shown is the median and the 5th and 95th percentile, each to
// one significant figure, never above 1: 0.0007, from 0.0002 to 0.002. The percentiles lie one error factor below and above the
// median. With every band goes `bands_compare_drafts`; it is the meaning, and the words folder says it in the paper's language.

#include <string_view>

#include "reliability/lognormal.hpp"

namespace stepward::reliability {

/// What must stand wherever such a number is printed.
constexpr std::string_view bands_compare_drafts =
    "These figures come from industry, not from hospitals. They serve to compare drafts, not to predict infections.";

struct Band {
  double low = 0;     ///< 5th percentile
  double middle = 0;  ///< median
  double high = 0;    ///< 95th percentile
};

/// The number to so many significant figures, to the nearest; nought and the infinite stay as they are.
double to_figures(double value, int figures);
inline double one_figure(double value) { return to_figures(value, 1); }

/// A band to one significant figure each, none above 1.
Band band_of(const Lognormal& chance);

}  // namespace stepward::reliability
