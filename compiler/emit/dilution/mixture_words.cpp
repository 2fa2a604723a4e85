#include "emit/dilution/mixture_words.hpp"

#include "wording/amounts.hpp"

namespace stepward::emit {

using mixture::Exact;
using mixture::Unit;
using wording::Phrase;

namespace {

constexpr int jug_digits = 3;

/// Without a gap that could part it into two.
std::string figure_words(Exact value, int digits = 4) { return with_whole_figures(wording::figure_phrase(value, digits)); }

/// Whole tens from a thousand on: what is left of three digits before the point.
Exact for_a_jug(Exact amount) {
  if (amount < Exact(1000)) return amount;
  const Wide tens = (amount.num + 5 * amount.den) / (10 * amount.den);
  return Exact(tens * 10, Wide(1));
}

std::string one_or_several(const PaperSource& source, Exact count, Phrase one, Phrase several, int digits) {
  return count == Exact(1) ? source.said(one) : source.said(several, {{"count", figure_words(count, digits)}});
}

std::string in_millilitres(const PaperSource& source, Exact millilitres, int digits) {
  return source.said(Phrase::millilitres, {{"count", figure_words(millilitres, digits)}});
}

std::string of_unit(const PaperSource& source, Exact count, Unit unit, int digits) {
  switch (unit) {
    case Unit::part: return one_or_several(source, count, Phrase::one_part, Phrase::parts, digits);
    case Unit::millilitre: return in_millilitres(source, count, digits);
    case Unit::gram: return source.said(Phrase::grams, {{"count", figure_words(count, digits)}});
    case Unit::spoon: return one_or_several(source, count, Phrase::one_spoon, Phrase::spoons, digits);
    case Unit::tablet: return one_or_several(source, count, Phrase::one_tablet, Phrase::tablets, digits);
  }
  return {};
}

}  // namespace

std::string percent_words(const PaperSource& source, Exact ppm) {
  return source.said(Phrase::as_percent, {{"figure", figure_words(ppm / Exact(10'000))}});
}

std::string ppm_words(const PaperSource& source, Exact ppm) {
  std::string figure = wording::ppm_phrase(ppm);
  figure.erase(figure.rfind(" ppm"));
  return source.said(Phrase::as_ppm, {{"figure", with_whole_figures(figure)}});
}

std::string volume_words(const PaperSource& source, Exact millilitres) {
  if (millilitres < Exact(1000)) return in_millilitres(source, millilitres, 4);
  return one_or_several(source, millilitres / Exact(1000), Phrase::one_litre, Phrase::litres, 4);
}

std::string parts_words(const PaperSource& source, Exact count) { return of_unit(source, count, Unit::part, 4); }

std::string measured_words(const PaperSource& source, const mixture::Recipe& recipe) {
  const mixture::Measured& stock = recipe.stock;
  const std::string counted = of_unit(source, Exact(stock.count), stock.unit, 4);
  if (!stock.each) return counted;
  const Unit unit = recipe.how == mixture::Recipe::How::dissolved ? Unit::gram : Unit::millilitre;
  return source.said(Phrase::of_each, {{"counted", counted}, {"amount", of_unit(source, Exact(*stock.each), unit, 4)}});
}

std::string stock_words(const PaperSource& source, const mixture::Stock& stock) {
  if (stock.grams_each) return source.said(Phrase::tablets_with_grams, {{"name", stock.name}, {"figure", figure_words(Exact(*stock.grams_each))}});
  if (!stock.ppm) return stock.name;
  return source.said(Phrase::stock_of_strength, {{"name", stock.name}, {"strength", percent_words(source, Exact(*stock.ppm))}});
}

std::string batch_words(const PaperSource& source, const mixture::Batch& batch) { return of_unit(source, for_a_jug(batch.amount), batch.unit, jug_digits); }

}  // namespace stepward::emit
