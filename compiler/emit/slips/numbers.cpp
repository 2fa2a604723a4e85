#include "emit/slips/numbers.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "emit/slips/slip_words.hpp"

namespace stepward::emit {
namespace {

using namespace reliability;
using slips::Numbers;

/// How many lines of a ranking a reader is shown.
constexpr std::size_t shown_of_ranking = 10;

std::string mark_name(Mark mark) {
  switch (mark) {
    case Mark::read: return "read in a text that quotes it";
    case Mark::second_hand: return "second hand";
    case Mark::memory: return "from memory";
    case Mark::author: return "the author's";
  }
  return "";
}

std::string dependence_name(Dependence d) {
  switch (d) {
    case Dependence::zero: return "zero";
    case Dependence::low: return "low";
    case Dependence::moderate: return "moderate";
    case Dependence::high: return "high";
    case Dependence::complete: return "complete";
  }
  return "";
}

std::string figures(double value, int count) { return std::isinf(value) ? "without end" : fmt::format("{:g}", to_figures(value, count)); }

std::string event_in_words(const slips::Table& table, const slips::Event& event) {
  const slips::Row& row = table.rows[event.row];
  const std::string what = row.look.empty() ? row.line : row.line + " (" + row.look + ")";
  return fmt::format("{}{}{}", event.is_confirm ? "confirm not made: " : slip_name(row) + ": ", what, steps_in_words(row));
}

const Importance* importance_for(const slips::VariantNumbers& v, EventId event) {
  const auto at = std::find_if(v.importance.events.begin(), v.importance.events.end(), [&](const Importance& i) { return i.event == event; });
  return at == v.importance.events.end() ? nullptr : &*at;
}

const slips::VariantNumbers* worst_of(const Numbers& numbers) {
  const auto at = std::max_element(numbers.variants.begin(), numbers.variants.end(), [](const auto& a, const auto& b) { return a.chance < b.chance; });
  return at == numbers.variants.end() ? nullptr : &*at;
}

/// A bound to one figure, never to the side on which it would say too much.
double rounded(double value, bool up) {
  if (value <= 0) return 0;
  const double unit = std::pow(10, std::floor(std::log10(value)));
  const double nearest = to_figures(value, 1);
  if (up ? nearest >= value : nearest <= value) return nearest;
  return up ? std::min(1.0, nearest + unit) : std::max(0.0, nearest - unit);
}

std::string between(const slips::Bounds& bounds) {
  const double least = rounded(bounds.least, false), most = rounded(bounds.most, true);
  return least == most ? fmt::format("{:g}", to_figures(least, 1)) : fmt::format("{:g} to {:g}", to_figures(least, 1), to_figures(most, 1));
}

std::string on_graph_as_text(const slips::Table& table, const Numbers& numbers) {
  std::string out = "\nChance per doing of the procedure, on the graph of its runs: whoever comes to a line may slip there, each time. The first number if all that\n"
                    "is found, answered and decided falls the way that harms least, the second if it falls the way that harms most. Three slips or more of one\n"
                    "run are not followed: they count as no harm in the first, and as every harm in the second.\n";
  if (numbers.on_graph.empty()) return out + "  not reckoned: some variant has too many states, or more than --limit allows\n";
  for (std::size_t v = 0; v < numbers.on_graph.size(); ++v) {
    const slips::HarmBounds& here = numbers.on_graph[v];
    out += fmt::format("  {}\n    any harm {}", table.variants[v].empty() ? "the protocol" : table.variants[v], between(here.any));
    for (std::size_t kind = 0; kind < here.by_harm.size(); ++kind)
      if (here.by_harm[kind].least > 0 || here.by_harm[kind].most > here.beyond + 1e-12)
        out += fmt::format("; {} {}", slips::consequence_name(static_cast<slips::Consequence>(kind)), between(here.by_harm[kind]));
    out += fmt::format("\n    three slips or more before anything shows: at most {:g}\n", to_figures(rounded(here.beyond, true), 1));
  }
  return out;
}

nlohmann::ordered_json on_graph_as_json(const slips::Table& table, const Numbers& numbers) {
  using nlohmann::ordered_json;
  ordered_json out = ordered_json::array();
  for (std::size_t v = 0; v < numbers.on_graph.size(); ++v) {
    const slips::HarmBounds& here = numbers.on_graph[v];
    ordered_json harms = ordered_json::object();
    for (std::size_t kind = 0; kind < here.by_harm.size(); ++kind)
      harms[std::string(slips::consequence_name(static_cast<slips::Consequence>(kind)))] = {here.by_harm[kind].least, here.by_harm[kind].most};
    out.push_back({{"variant", table.variants[v]}, {"any", {here.any.least, here.any.most}}, {"by_harm", std::move(harms)}, {"three_or_more", here.beyond}, {"states", here.states}});
  }
  return out;
}

std::string ranking(const slips::Table& table, const Numbers& numbers, const slips::VariantNumbers& v) {
  std::string out = fmt::format("\nIn {}, by what always slipping there would multiply the chance with (RAW), then by the share of it that goes\n"
                                "through the slip (Fussell-Vesely by cut sets)\n", table.variants[v.variant]);
  for (std::size_t i = 0; i < std::min(v.ranked.size(), shown_of_ranking); ++i)
    if (const Importance* m = importance_for(v, v.ranked[i]))
      out += fmt::format("  {:2}. RAW {}, share {:.0f} %  {}\n", i + 1, figures(m->risk_achievement, 2), 100 * m->fussell_vesely_by_cut_sets, event_in_words(table, numbers.events[m->event.value]));
  if (v.ranked.size() > shown_of_ranking) out += fmt::format("      and {} more (--format json)\n", v.ranked.size() - shown_of_ranking);
  return out;
}

}  // namespace

std::string numbers_as_text(const slips::Table& table, const slips::NumbersRequest& request, const Numbers& numbers, const Numbers* before) {
  std::string out = fmt::format("\nChance of harm from {} slips, by {}, {} dependence of the confirm on who slipped\n", table.at_once > 2 ? "up to three" : "one or two", request.set, dependence_name(request.dependence));
  for (const slips::VariantNumbers& v : numbers.variants)
    out += fmt::format("  about {} (from {} to {})  {}{}\n", figures(v.band.middle, 1), figures(v.band.low, 1), figures(v.band.high, 1), table.variants[v.variant], v.exact ? "" : "; an upper bound");
  if (const slips::VariantNumbers* worst = worst_of(numbers); worst && !worst->ranked.empty()) out += ranking(table, numbers, *worst);
  out += on_graph_as_text(table, numbers);
  if (before) {
    const slips::VariantNumbers *now = worst_of(numbers), *then = worst_of(*before);
    if (now && then && then->chance > 0) out += fmt::format("\nAgainst the older draft: {} times its chance, in the worst variant of each.\n", figures(now->chance / then->chance, 2));
  }
  out += fmt::format("\n{}\n", bands_compare_drafts);
  out += numbers.order_hangs_on_dependence ? "At low or high dependence other lines come first: do not rest on the order.\n" : "At low and high dependence the first five stay the same.\n";
  if (numbers.not_reckoned > 0) out += fmt::format("{} weak points are not reckoned: no set has figures for being clumsy, too early, for time not kept or torn gloves{}.\n", numbers.not_reckoned,
                                                  request.something_to_see ? "" : ", nor for how often a look has something to miss (--something-to-see)");
  if (request.something_to_see) out += fmt::format("A look has something to miss with a chance of {:g}, as given.\n", *request.something_to_see);
  out += "By the sets of slips, every branch counts as needed, and each line as one chance to slip.\nFigures used:\n";
  for (const auto& [name, f] : numbers.figures)
    out += fmt::format("  {:g}{}  {} ({}; {})\n", f.estimate.value, f.estimate.error_factor ? fmt::format(", error factor {:g}", *f.estimate.error_factor) : "", name, f.source, mark_name(f.mark));
  return out;
}

std::string numbers_as_json(const slips::Table& table, const slips::NumbersRequest& request, const Numbers& numbers, const Numbers* before) {
  using nlohmann::ordered_json;
  ordered_json variants = ordered_json::array(), used = ordered_json::array();
  for (const slips::VariantNumbers& v : numbers.variants) {
    ordered_json events = ordered_json::array();
    for (EventId e : v.ranked) {
      const Importance* m = importance_for(v, e);
      if (!m) continue;
      const slips::Event& event = numbers.events[e.value];
      const auto finite = [](double value) { return std::isinf(value) ? ordered_json("infinite") : ordered_json(value); };
      events.push_back({{"slip", event.row}, {"confirm_not_made", event.is_confirm}, {"chance", m->chance}, {"birnbaum", m->birnbaum}, {"criticality", m->criticality},
                        {"fussell_vesely_by_cut_sets", m->fussell_vesely_by_cut_sets}, {"diagnostic", m->diagnostic}, {"raw", finite(m->risk_achievement)}, {"rrw", finite(m->risk_reduction)}});
    }
    variants.push_back({{"variant", table.variants[v.variant]}, {"chance", v.chance}, {"exact", v.exact}, {"band", {v.band.low, v.band.middle, v.band.high}}, {"events", std::move(events)}});
  }
  for (const auto& [name, f] : numbers.figures) {
    ordered_json one{{"name", name}, {"value", f.estimate.value}};
    if (f.estimate.error_factor) one["error_factor"] = *f.estimate.error_factor;
    one["source"] = f.source;
    one["mark"] = mark_name(f.mark);
    used.push_back(std::move(one));
  }
  ordered_json out{{"set", request.set}, {"dependence", dependence_name(request.dependence)}, {"caution", bands_compare_drafts}, {"order_hangs_on_dependence", numbers.order_hangs_on_dependence},
                   {"not_reckoned", numbers.not_reckoned}, {"something_to_see", request.something_to_see ? ordered_json(*request.something_to_see) : ordered_json(nullptr)}, {"variants", std::move(variants)}, {"on_graph", on_graph_as_json(table, numbers)}, {"figures", std::move(used)}};
  if (before)
    if (const slips::VariantNumbers *now = worst_of(numbers), *then = worst_of(*before); now && then && then->chance > 0) out["times_the_older_draft"] = now->chance / then->chance;
  return out.dump(2);
}

std::string refusal_in_words(const Refusal& no) {
  switch (no.why) {
    case Why::unknown_set: {
      std::string names;
      for (const PublishedSet& set : published_sets()) names += (names.empty() ? "" : ", ") + std::string(set.name);
      return fmt::format("no set of figures is called \"{}\"; there are {}", no.about, names);
    }
    case Why::unknown_figure: return fmt::format("this set has no figure called \"{}\", which lines and checks need", no.about);
    case Why::outside_0_to_1: return fmt::format("\"{}\": {:g} is no chance, which lies between 0 and 1", no.about, no.value);
    case Why::not_positive: return fmt::format("\"{}\": {:g} has to be above 0", no.about, no.value);
    case Why::no_error_factor: return fmt::format("\"{}\" has no error factor, and a band needs one", no.about);
    case Why::error_factor_below_1: return fmt::format("\"{}\": an error factor of {:g} would put the highest below the middle", no.about, no.value);
    case Why::not_a_multiplier: return fmt::format("\"{}\" is of another kind than this figure", no.about);
    case Why::rating_outside_1_to_10:
    case Why::unknown_event:
    case Why::too_large:
    case Why::unknown_node:
    case Why::never_ends: break;
    case Why::does_not_add_up: return fmt::format("the chances of slips at one line are {:g} together, more than 1", no.value);
  }
  return fmt::format("the figures could not be reckoned with ({})", no.about);
}

}  // namespace stepward::emit
