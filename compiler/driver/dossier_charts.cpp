#include "driver/dossier_charts.hpp"

#include <algorithm>

#include "graph/numbering.hpp"
#include "model/variants.hpp"
#ifdef STEPWARD_WITH_LAYOUT
#include "emit/layout/layered.hpp"
#endif

namespace stepward::driver {
namespace {

using emit::flow_chart::Chart;
using emit::flow_chart::PlacedChart;

#ifdef STEPWARD_WITH_LAYOUT
using Known = std::vector<std::pair<emit::layout::Sketch, emit::layout::Drawing>>;

/// Variants share most of their bands, and what is the same is placed once.
const emit::layout::Drawing* placed_band(emit::layout::Layered& library, const emit::layout::Sketch& sketch, Known& known, std::string& why) {
  const auto same = std::find_if(known.begin(), known.end(), [&](const auto& each) { return each.first == sketch; });
  if (same != known.end()) return &same->second;
  auto drawing = library.place(sketch, why);
  if (!drawing) return nullptr;
  known.emplace_back(sketch, std::move(*drawing));
  return &known.back().second;
}
#endif

Chart chart_of(const model::Protocol& spoken, const model::Protocol& written, const model::Variant& variant) {
  const emit::WalkFacts nothing_walked;
  const graph::Course course = graph::number_steps(written, variant);
  return emit::flow_chart::from_course({spoken, written, variant, course, nothing_walked});
}

}  // namespace

#ifdef STEPWARD_WITH_LAYOUT

std::optional<std::vector<PlacedChart>> dossier_charts(const model::Protocol& spoken, const Compilation& made, std::string& why) {
  emit::layout::Layered library;
  Known known;
  std::vector<PlacedChart> all;
  for (const model::Variant& variant : model::all_variants(*made.protocol)) {
    PlacedChart placed{chart_of(spoken, *made.protocol, variant), {}};
    for (const emit::layout::Sketch& sketch : emit::flow_chart::sketches(placed.chart)) {
      const emit::layout::Drawing* drawing = placed_band(library, sketch, known, why);
      if (!drawing) return std::nullopt;
      placed.bands.push_back(*drawing);
    }
    all.push_back(std::move(placed));
  }
  return all;
}

#else

std::optional<std::vector<PlacedChart>> dossier_charts(const model::Protocol&, const Compilation&, std::string& why) {
  why = "this program was built without the library that places boxes";
  return std::nullopt;
}

#endif

}  // namespace stepward::driver
