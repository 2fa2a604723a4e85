#include "driver/dossier_charts.hpp"

#include "driver/band_placer.hpp"
#include "graph/numbering.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

using emit::flow_chart::Chart;
using emit::flow_chart::PlacedChart;

Chart chart_of(const model::Protocol& spoken, const model::Protocol& written, const model::Variant& variant) {
  const emit::WalkFacts nothing_walked;
  const graph::Course course = graph::number_steps(written, variant);
  return emit::flow_chart::from_course({spoken, written, variant, course, nothing_walked});
}

}  // namespace

std::optional<std::vector<PlacedChart>> dossier_charts(const model::Protocol& spoken, const Compilation& made, std::string& why) {
  std::vector<Chart> charts;
  for (const model::Variant& variant : model::all_variants(*made.protocol)) charts.push_back(chart_of(spoken, *made.protocol, variant));
  return BandPlacer().place_charts(charts, emit::flow_chart::sketches, why);
}

}  // namespace stepward::driver
