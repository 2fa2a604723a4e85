#include "wording/amounts.hpp"

#include <fmt/format.h>

namespace stepward::wording {
namespace {

using mixture::Exact;
using mixture::Measured;
using mixture::Recipe;
using mixture::Unit;

std::string digits_of(Wide value) {
  std::string digits;
  do {
    digits.insert(digits.begin(), static_cast<char>('0' + static_cast<int>(value % 10)));
    value /= 10;
  } while (value > 0);
  return digits;
}

Wide rounded(Exact value) { return (value.num * 2 + value.den) / (value.den * 2); }

Wide power_of_ten(int exponent) {
  Wide power = 1;
  for (int at = 0; at < exponent; ++at) power *= 10;
  return power;
}

/// How many digits stand behind the point so that `digits` in all count.
int decimals_for(Exact value, int digits) {
  int decimals = digits - 1;
  for (Exact rest = value; !(rest < Exact(10)); rest = rest / Exact(10)) --decimals;
  for (Exact rest = value; rest < Exact(1) && rest.num > 0; rest = rest * Exact(10)) ++decimals;
  return decimals < 0 ? 0 : decimals;
}

/// The figure in front of the point and behind it.
struct Rounded { std::string before, behind; };

Rounded rounded_to(Exact value, int digits) {
  const int decimals = decimals_for(value, digits);
  const Wide scaled = rounded(value * Exact(power_of_ten(decimals)));
  std::string behind = decimals == 0 ? std::string() : digits_of(scaled % power_of_ten(decimals));
  behind.insert(0, static_cast<std::size_t>(decimals) - behind.size(), '0');
  while (!behind.empty() && behind.back() == '0') behind.pop_back();
  return {digits_of(scaled / power_of_ten(decimals)), behind.empty() ? behind : '.' + behind};
}

/// As a line of the language reads it: without spaces inside.
std::string written(Exact value) {
  const Rounded figure = rounded_to(value, 6);
  return figure.before + figure.behind;
}

std::string counted(Exact count, std::string_view one, std::string_view more) {
  return fmt::format("{} {}", written(count), count == Exact(1) ? one : more);
}

std::string measured_phrase(const Measured& measured, std::string_view each_unit) {
  const Exact count(measured.count);
  std::string text;
  switch (measured.unit) {
    case Unit::part: return counted(count, "part", "parts");
    case Unit::millilitre: return volume_phrase(count);
    case Unit::gram: return written(count) + " g";
    case Unit::spoon: text = counted(count, "spoon", "spoons"); break;
    case Unit::tablet: text = counted(count, "tablet", "tablets"); break;
  }
  if (measured.each) text += fmt::format(" of {} {}", written(Exact(*measured.each)), each_unit);
  return text;
}

std::string quoted(std::string_view before, std::string_view text) {
  return text.empty() ? std::string() : fmt::format("{} \"{}\"", before, text);
}

}  // namespace

std::string grouped(std::string digits) {
  for (std::size_t at = digits.size(); at > 3; at -= 3) digits.insert(at - 3, 1, ' ');
  return digits;
}

std::string figure_phrase(Exact value, int digits) {
  const Rounded figure = rounded_to(value, digits);
  return grouped(figure.before) + figure.behind;
}

std::string ppm_phrase(Exact ppm) { return grouped(digits_of(rounded(ppm))) + " ppm"; }

std::string percent_phrase(Exact ppm) { return figure_phrase(ppm / Exact(10'000)) + " percent"; }

std::string volume_phrase(Exact millilitres) {
  if (millilitres < Exact(1000)) return written(millilitres) + " ml";
  return counted(millilitres / Exact(1000), "litre", "litres");
}

std::string recipe_line(const Recipe& recipe, std::string_view diluent) {
  const Exact other(recipe.other);
  switch (recipe.how) {
    case Recipe::How::parts:
      return fmt::format("mix {} with {}{}", measured_phrase(recipe.stock, ""), counted(other, "part", "parts"), quoted("", diluent));
    case Recipe::How::filled_up:
      return fmt::format("fill {} to {}{}", measured_phrase(recipe.stock, "ml"), volume_phrase(other), quoted(" with", diluent));
    case Recipe::How::added:
      return fmt::format("add {} to {}{}", measured_phrase(recipe.stock, "ml"), volume_phrase(other), quoted(" of", diluent));
    case Recipe::How::dissolved:
      return fmt::format("dissolve {} in {}{}", measured_phrase(recipe.stock, "g"), volume_phrase(other), quoted(" of", diluent));
  }
  return {};
}

}  // namespace stepward::wording
