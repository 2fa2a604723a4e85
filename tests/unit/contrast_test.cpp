// The colours of web pages against the contrast that WCAG 2 asks for.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "emit/xhtml/style.hpp"

namespace {

/// WCAG 2.1, definition of "relative luminance"; six hexadecimal digits, or three.
double luminance(const std::string& colour) {
  const std::size_t digits = colour.size() == 3 ? 1 : 2;
  const double weights[] = {0.2126, 0.7152, 0.0722};
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    const double byte = std::stoi(colour.substr(i * digits, digits), nullptr, 16) * (digits == 1 ? 17 : 1);
    const double part = byte / 255;
    sum += weights[i] * (part <= 0.03928 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4));
  }
  return sum;
}

/// WCAG 2.1, definition of "contrast ratio".
double contrast(const std::string& one, const std::string& other) {
  const double a = luminance(one), b = luminance(other);
  return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

std::set<std::string> colours_in(const std::string& styles) {
  std::set<std::string> colours;
  for (std::size_t at = styles.find('#'); at != std::string::npos; at = styles.find('#', at + 1)) {
    const std::size_t end = styles.find_first_not_of("0123456789abcdefABCDEF", at + 1);
    colours.insert(styles.substr(at + 1, end - at - 1));
  }
  return colours;
}

}  // namespace

TEST_CASE("contrast: the formula gives what is published") {
  CHECK(contrast("000000", "ffffff") == doctest::Approx(21));        // WCAG 2.1, note to "contrast ratio": from 1 to 21
  CHECK(contrast("fff", "fff") == doctest::Approx(1));
  CHECK(contrast("0000ff", "ffffff") == doctest::Approx(8.59).epsilon(0.001));  // "Math for Web Design", 7.4.1
  CHECK(contrast("0000ff", "ff0000") == doctest::Approx(2.15).epsilon(0.002));  // the same
  CHECK(contrast("999999", "ffffff") == doctest::Approx(2.85).epsilon(0.001));  // "WCAG Color Contrast: The Math", a web article
  CHECK(contrast("767676", "ffffff") == doctest::Approx(4.54).epsilon(0.001));  // the grey that just passes; in many tables of contrast checkers
  // Screen colours of the RAL shades of ISO 3864 (hexadecimal values READ in a shade card; ratios worked out apart from this code).
  const std::map<std::string, std::pair<double, double>> on_white_and_black = {
      {"F9A900", {1.96, 10.70}}, {"9B2423", {7.86, 2.67}}, {"005387", {8.12, 2.59}}, {"237F52", {4.97, 4.23}}};
  for (const auto& [colour, ratios] : on_white_and_black) {
    CHECK(contrast(colour, "ffffff") == doctest::Approx(ratios.first).epsilon(0.003));
    CHECK(contrast(colour, "000000") == doctest::Approx(ratios.second).epsilon(0.003));
  }
}

TEST_CASE("contrast: every colour of a page passes WCAG AA on what it lies on") {
  struct Pair { std::string ink, ground; double least; };
  const std::vector<Pair> pairs = {
      {"000", "fff", 4.5},     // all words (1.4.3)
      {"fff", "000", 4.5},     // words on reversed bands and discs
      {"000", "e4e4e4", 4.5},  // words over the mark that lies across the page
      {"767676", "fff", 3},    // lines between rows (1.4.11)
      {"9b2423", "fff", 3},    // the edge of a breach card
  };
  std::set<std::string> known;
  for (const Pair& pair : pairs) {
    CHECK(contrast(pair.ink, pair.ground) >= pair.least);
    known.insert({pair.ink, pair.ground});
  }
  CHECK(colours_in(stepward::emit::xhtml::common_styles()) == known);
  CHECK(colours_in("a { color: #aBc; b: #123456; }") == std::set<std::string>{"aBc", "123456"});
}
