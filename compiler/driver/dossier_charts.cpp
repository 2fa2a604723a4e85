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
  BandPlacer placer;
  std::vector<PlacedChart> all;
  for (const model::Variant& variant : model::all_variants(*made.protocol)) {
    Chart chart = chart_of(spoken, *made.protocol, variant);
    auto bands = placer.place(emit::flow_chart::sketches(chart), why);
    if (!bands) return std::nullopt;
    all.push_back({std::move(chart), std::move(*bands)});
  }
  return all;
}

}  // namespace stepward::driver
