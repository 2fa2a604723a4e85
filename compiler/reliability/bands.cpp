#include "reliability/bands.hpp"

#include <algorithm>
#include <charconv>

namespace stepward::reliability {
namespace {

double shown(double chance) { return one_figure(std::min(1.0, chance)); }

}  // namespace

double to_figures(double value, int figures) {
  // By way of decimal digits, so that 0.0003 is the nearest number to 0.0003 and prints as such.
  char digits[64];
  const auto end = std::to_chars(digits, digits + sizeof digits, value, std::chars_format::scientific, figures - 1).ptr;
  double rounded = 0;
  std::from_chars(digits, end, rounded, std::chars_format::scientific);
  return rounded;
}

Band band_of(const Lognormal& chance) {
  return {shown(chance.median / chance.error_factor), shown(chance.median), shown(chance.median * chance.error_factor)};
}

}  // namespace stepward::reliability
