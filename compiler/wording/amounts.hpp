#pragma once
// Strengths and amounts as a label says them: rounded for people, and never beyond what four digits can say.

#include <string>
#include <string_view>

#include "mixture/recipe.hpp"

namespace stepward::wording {

/// `value` to so many significant digits, halves upwards, without noughts behind the last one; thousands are set apart by
/// spaces from four digits on: "14.29", "0.02574", "4 545". `value` is not below nought.
std::string figure_phrase(mixture::Exact value, int digits = 4);

/// Digits with spaces between the thousands: "4 545".
std::string grouped(std::string digits);
/// "4 545 ppm", to whole ppm.
std::string ppm_phrase(mixture::Exact ppm);
/// "0.4545 percent".
std::string percent_phrase(mixture::Exact ppm);
/// "400 ml", "2.5 litres".
std::string volume_phrase(mixture::Exact millilitres);

/// The line of an agent that says so: mix 1 part with 9 parts "cold water". Without a diluent, only its beginning.
std::string recipe_line(const mixture::Recipe& recipe, std::string_view diluent);

}  // namespace stepward::wording
