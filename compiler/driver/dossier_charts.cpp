#include "driver/dossier_charts.hpp"

#include "graph/numbering.hpp"
#include "graph/quiet_path.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

using emit::flow_chart::Chart;
using emit::flow_chart::PlacedChart;

Chart chart_of(const model::Protocol& spoken, const model::Protocol& written, const model::Variant& variant, const emit::WalkFacts& known) {
  const graph::Course course = graph::number_steps(written, variant);
  return emit::flow_chart::from_course({spoken, written, variant, course, known});
}

/// A run ends at an error, so that where there is one nobody knows what no run comes to.
emit::WalkFacts known_of(const Compilation& made, const model::Variant& variant) {
  emit::WalkFacts known;
  if (diagnostics::count(made.findings).errors > 0) return known;
  for (const check::VariantWalk& walk : made.verdict.walks) {
    if (!(walk.variant == variant) || !walk.complete) continue;
    known.arms_never = walk.arms_never;
    for (const model::LineId line : graph::lines_of(*made.protocol, variant))
      if (!walk.hands_before.count(line)) known.lines_never.insert(line);
  }
  return known;
}

}  // namespace

std::optional<std::vector<PlacedChart>> dossier_charts(const model::Protocol& spoken, const Compilation& made, NeverTaken never, BandPlacer& placer,
                                                       std::string& why) {
  std::vector<Chart> charts;
  for (const model::Variant& variant : model::all_variants(*made.protocol))
    charts.push_back(chart_of(spoken, *made.protocol, variant, never == NeverTaken::is_told ? known_of(made, variant) : emit::WalkFacts{}));
  return placer.place_charts(charts, emit::flow_chart::sketches, why);
}

}  // namespace stepward::driver
