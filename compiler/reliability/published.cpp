#include "reliability/published.hpp"

#include <algorithm>
#include <array>

#include "reliability/tables.hpp"

namespace stepward::reliability {
namespace {

const std::array<PublishedSet, 3>& every_set() {
  static const std::array<PublishedSet, 3> sets = {{
      {"THERP-1983", "A. D. Swain and H. E. Guttmann, NUREG/CR-1278, 1983", therp_figures()},
      {"HEART-1986", "J. C. Williams, 1986 and 1988", heart_figures()},
      {"SPAR-H-2005", "D. Gertman and others, NUREG/CR-6883, 2005", spar_h_figures()},
  }};
  return sets;
}

const Figure* find_figure(const PublishedSet& set, std::string_view name) {
  const auto it = std::find_if(set.figures.begin(), set.figures.end(), [&](const Figure& f) { return f.name == name; });
  return it == set.figures.end() ? nullptr : &*it;
}

std::optional<Refusal> unless_positive(double value, std::string_view about) {
  if (value > 0 && value < 1e300) return std::nullopt;
  return Refusal{Why::not_positive, std::string(about), value};
}

std::optional<Refusal> unless_usable(FigureKind kind, const Override& own) {
  const auto no = kind == FigureKind::multiplier ? unless_positive(own.estimate.value, own.name)
                                                 : unless_probability(own.estimate.value, own.name);
  if (no) return no;
  if (!own.estimate.error_factor || *own.estimate.error_factor >= 1) return std::nullopt;
  return Refusal{Why::error_factor_below_1, own.name, *own.estimate.error_factor};
}

}  // namespace

std::span<const PublishedSet> published_sets() { return every_set(); }

Answer<PublishedSet> published_set(std::string_view name) {
  for (const PublishedSet& set : every_set()) {
    if (set.name == name) return set;
  }
  return Refusal{Why::unknown_set, std::string(name)};
}

Answer<Choice> choose(std::string_view set, std::vector<Override> overrides) {
  const Answer<PublishedSet> found = published_set(set);
  if (const Refusal* no = refused(found)) return *no;
  for (const Override& own : overrides) {
    const Figure* figure = find_figure(*given(found), own.name);
    if (!figure) return Refusal{Why::unknown_figure, own.name, own.estimate.value};
    if (const auto no = unless_usable(figure->kind, own)) return *no;
  }
  return Choice{*given(found), std::move(overrides)};
}

Answer<UsedFigure> figure_of(const Choice& choice, std::string_view name) {
  const Figure* figure = find_figure(choice.set, name);
  if (!figure) return Refusal{Why::unknown_figure, std::string(name)};
  const auto own = std::find_if(choice.overrides.rbegin(), choice.overrides.rend(),
                                [&](const Override& o) { return o.name == name; });
  if (own == choice.overrides.rend())
    return UsedFigure{figure->kind, figure->estimate, figure->mark, std::string(figure->source)};
  return UsedFigure{figure->kind, own->estimate, Mark::author, own->source};
}

}  // namespace stepward::reliability
