#include "mixture/recipe.hpp"

namespace stepward::mixture {
namespace {

using How = Recipe::How;

Recipe as(const Recipe& recipe, How how) {
  Recipe other = recipe;
  other.how = how;
  return other;
}

Recipe with_spoons_of(const Recipe& recipe, std::int64_t millilitres) {
  Recipe other = recipe;
  other.stock.each = Rational(millilitres);
  return other;
}

/// The quotient of two figures of a label, which 64 bits hold.
Rational narrow(Exact value) { return {static_cast<std::int64_t>(value.num), static_cast<std::int64_t>(value.den)}; }

Exact whole_of(const Recipe& recipe, Exact stock) {
  const Exact other(recipe.other);
  return recipe.how == How::parts || recipe.how == How::added ? stock + other : other;
}

}  // namespace

std::optional<Exact> amount_of(const Measured& measured) {
  const Exact count(measured.count);
  switch (measured.unit) {
    case Unit::part:
    case Unit::millilitre:
    case Unit::gram: return count;
    case Unit::spoon:
    case Unit::tablet: return measured.each ? std::optional(count * Exact(*measured.each)) : std::nullopt;
  }
  return std::nullopt;
}

std::optional<Exact> strength_of(const Stock& stock, const Recipe& recipe) {
  if (stock.grams_each) {
    if (recipe.how != How::dissolved || recipe.stock.unit != Unit::tablet) return std::nullopt;
    return Exact(recipe.stock.count) * Exact(*stock.grams_each) * Exact(1'000'000) / Exact(recipe.other);
  }
  const auto amount = amount_of(recipe.stock);
  if (!amount || !stock.ppm) return std::nullopt;
  return Exact(*stock.ppm) * *amount / whole_of(recipe, *amount);
}

std::vector<Recipe> other_readings(const Recipe& recipe) {
  if (recipe.stock.unit == Unit::spoon && !recipe.stock.each && recipe.how != How::dissolved)
    return {with_spoons_of(recipe, 15), with_spoons_of(recipe, 10)};
  switch (recipe.how) {
    case How::filled_up: return {as(recipe, How::added)};
    case How::added: {
      const auto amount = amount_of(recipe.stock);
      if (!amount || Exact(recipe.other) < *amount || Exact(recipe.other) == *amount) return {};
      return {as(recipe, How::filled_up)};
    }
    case How::parts: {
      Recipe more = recipe, fewer = recipe;
      more.other = recipe.other + recipe.stock.count;
      fewer.other = recipe.other - recipe.stock.count;
      if (Rational(0) < fewer.other) return {more, fewer};
      return {more};
    }
    case How::dissolved: return {};
  }
  return {};
}

Exact parts_of_diluent(Exact stock_ppm, Exact wanted_ppm) { return stock_ppm / wanted_ppm - Exact(1); }

Exact grams_per_litre(Exact active_ppm, Exact wanted_ppm) { return wanted_ppm / active_ppm * Exact(1000); }

std::optional<Recipe> recipe_for(const Stock& stock, Exact wanted_ppm) {
  if (stock.grams_each) {
    const Exact millilitres = Exact(*stock.grams_each) * Exact(1'000'000) / wanted_ppm;
    return Recipe{How::dissolved, {Rational(1), Unit::tablet, {}}, narrow(millilitres)};
  }
  if (!stock.ppm || !(wanted_ppm < Exact(*stock.ppm))) return std::nullopt;
  const Exact strong(*stock.ppm);
  if (stock.powder) return Recipe{How::dissolved, {narrow(grams_per_litre(strong, wanted_ppm)), Unit::gram, {}}, Rational(1000)};
  return Recipe{How::parts, {Rational(1), Unit::part, {}}, narrow(parts_of_diluent(strong, wanted_ppm))};
}

Exact stock_for(const Stock& stock, Exact ppm, Exact volume_ml) {
  if (stock.grams_each) return volume_ml * ppm / Exact(1'000'000) / Exact(*stock.grams_each);
  return volume_ml * ppm / Exact(*stock.ppm);
}

Batch batch_for(const Stock& stock, const Recipe& recipe, Exact volume_ml) {
  const Exact amount = stock_for(stock, *strength_of(stock, recipe), volume_ml);
  if (recipe.how != Recipe::How::dissolved) return {amount, Unit::millilitre};
  if (recipe.stock.unit != Unit::tablet) return {amount, Unit::gram};
  return {recipe.stock.each && !stock.grams_each ? amount / Exact(*recipe.stock.each) : amount, Unit::tablet};
}

Exact relative_error(Exact gives_ppm, Exact wanted_ppm) { return gives_ppm / wanted_ppm - Exact(1); }

bool is_same_strength(Exact gives_ppm, Exact stated_ppm) {
  const Exact half(1, 2);
  return !(half < gives_ppm - stated_ppm) && !(half < stated_ppm - gives_ppm);
}

bool is_near(Exact gives_ppm, Exact wanted_ppm) {
  const Exact tenth(1, 10), error = relative_error(gives_ppm, wanted_ppm);
  return !(tenth < error) && !(error < Exact(0) - tenth);
}

}  // namespace stepward::mixture
