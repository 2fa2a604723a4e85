#pragma once
// What a label says of a mixture, and how strong that makes it.
//
// Recipes are written in four ways, and two pairs of these are taken for each other, in print too:
//
//   mix 1 part with 9 parts        1 part in 10 of the whole      "1:10" is read as one or the other
//   mix 1 part with 10 parts       1 part in 11 of the whole
//   fill 400 ml to 1 litre         400 ml in 1000 ml              "400 ml in 1 litre" is read as one or the other
//   add 400 ml to 1 litre          400 ml in 1400 ml
//   dissolve 7.5 g in 1 litre      7.5 g for 1000 ml; a powder is taken to need no room of its own
//
// With a stock of 5 percent the last but one gives 5 * 400 / 1400 = 1.43 percent, where the one before gives 2.
// The formulas are those of CDC, Best Practices for Environmental Cleaning in Resource-Limited Settings, appendix E:
// parts of water = stock / wanted - 1; grams per litre = wanted / active * 1000, both in percent. All of it is exact.
// 1 percent is 10 000 ppm; of a powder 1 ppm is one milligram in a litre.

#include <optional>
#include <string>
#include <vector>

#include "base/rational.hpp"

namespace stepward::mixture {

/// What intermediate results are reckoned in: a product of five figures of a label still fits.
using Exact = Fraction<Wide>;

/// What it is made from. A liquid by volume and a powder by weight have a share of active substance, tablets may be
/// known by the grams of it that each holds.
struct Stock {
  std::string name;
  bool powder = false;
  std::optional<Rational> ppm;
  std::optional<Rational> grams_each;
};

enum class Unit : std::uint8_t { part, millilitre, gram, spoon, tablet };

/// How much of the stock. `each` is what a spoon holds (millilitres poured, grams dissolved) or a tablet weighs, if it is said.
struct Measured {
  Rational count;
  Unit unit = Unit::part;
  std::optional<Rational> each;
};

struct Recipe {
  enum class How : std::uint8_t { parts, filled_up, added, dissolved } how = How::parts;
  Measured stock;
  Rational other;  ///< parts of the diluent, or the millilitres that it is filled up to, added to or dissolved in
};

/// The millilitres or grams that are measured out; nothing where nobody says how much a spoon or a tablet is.
std::optional<Exact> amount_of(const Measured& measured);

/// What the recipe gives in ppm; nothing where the size of a spoon, the content of a tablet or the stock is not known.
std::optional<Exact> strength_of(const Stock& stock, const Recipe& recipe);

/// What else people take the same words for: filled up for added, a part in the whole for a part with parts, and spoons of the
/// two sizes that guidance in print goes by where none is said (15 ml: a tablespoon in CDC's hand-washing recipe; 10 ml: the spoon
/// of the UNICEF cholera table). Empty where there is only one reading.
std::vector<Recipe> other_readings(const Recipe& recipe);

/// Parts of the diluent to one part of a liquid. `wanted` is above nought and at most `stock`.
Exact parts_of_diluent(Exact stock_ppm, Exact wanted_ppm);

/// Grams of a powder for a litre.
Exact grams_per_litre(Exact active_ppm, Exact wanted_ppm);

/// The recipe that gives a strength: 1 part with so many parts of a liquid, grams of a powder in a litre, one tablet in so many
/// millilitres. Nothing where the stock is no stronger than what is wanted.
std::optional<Recipe> recipe_for(const Stock& stock, Exact wanted_ppm);

/// How much of the stock makes a volume of that strength: millilitres of a liquid, grams of a powder, or how many tablets of
/// which the active grams are known. Of the stock, one of the two has to be known.
Exact stock_for(const Stock& stock, Exact ppm, Exact volume_ml);

/// What is measured out for a volume: millilitres of a liquid, grams of a powder, or so many tablets. The recipe says which,
/// and its strength must be known.
struct Batch { Exact amount; Unit unit = Unit::millilitre; };
Batch batch_for(const Stock& stock, const Recipe& recipe, Exact volume_ml);

/// By how much of `wanted` the recipe misses it: -0.29 is 29 percent weaker.
Exact relative_error(Exact gives_ppm, Exact wanted_ppm);
/// Whether two strengths are the same but for the rounding of a label to whole ppm.
bool is_same_strength(Exact gives_ppm, Exact stated_ppm);
/// Whether a recipe is off by no more than a tenth, as recipes in print are that round spoons and grams. Common practice, no source.
bool is_near(Exact gives_ppm, Exact wanted_ppm);

}  // namespace stepward::mixture
