#include "reliability/dependence.hpp"

#include <algorithm>

namespace stepward::reliability {
namespace {

double conditional(Dependence level, double alone) {
  switch (level) {
    case Dependence::zero: return alone;
    case Dependence::low: return (1 + 19 * alone) / 20;
    case Dependence::moderate: return (1 + 6 * alone) / 7;
    case Dependence::high: return (1 + alone) / 2;
    case Dependence::complete: return 1;
  }
  return 1;
}

}  // namespace

Answer<double> given_failure(Dependence level, double alone) {
  if (const auto no = unless_probability(alone, "chance to fail")) return *no;
  return conditional(level, alone);
}

Answer<double> given_success(Dependence level, double alone) {
  if (const auto no = unless_probability(alone, "chance to succeed")) return *no;
  return conditional(level, alone);
}

Answer<double> both_fail(Dependence level, double first, double second) {
  if (const auto no = unless_probability(first, "chance that the first fails")) return *no;
  if (const auto no = unless_probability(second, "chance that the second fails")) return *no;
  return std::min({first * conditional(level, second), first, second});
}

Dependence dependence_of(const Circumstances& now) {
  if (!now.same_people) return now.close_in_time ? Dependence::moderate : Dependence::low;
  if (now.close_in_time) return now.same_place ? Dependence::complete : Dependence::high;
  if (now.same_place) return now.new_cues ? Dependence::moderate : Dependence::high;
  return now.new_cues ? Dependence::low : Dependence::moderate;
}

}  // namespace stepward::reliability
