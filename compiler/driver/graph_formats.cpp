#include "driver/graph_formats.hpp"

#include <algorithm>
#include <stdexcept>

#include "base/side_by_side.hpp"
#include "emit/bpmn/bpmn.hpp"
#include "emit/fhir/plan_definition.hpp"
#include "emit/flow_chart/drawn.hpp"
#include "emit/graph/step_graph.hpp"
#include "emit/graph/taken.hpp"
#include "graph/numbering.hpp"
#ifdef STEPWARD_WITH_LAYOUT
#include "emit/layout/layered.hpp"
#endif

namespace stepward::driver {
namespace {

using emit::flow_chart::Chart;
using emit::flow_chart::PlacedChart;
using Variants = std::vector<model::Variant>;
using Text = std::optional<std::string>;
using Sketches = std::vector<emit::layout::Sketch>;
using Drawings = std::vector<emit::layout::Drawing>;

using StepGraphs = std::vector<emit::step_graph::VariantGraph>;

bool mark(emit::step_graph::VariantGraph& graph, const Compilation& made, const model::Variant& variant, unsigned workers, std::string& why) {
  using Came = emit::step_graph::Walking::Came;
  check::Options options;
  options.workers = workers;
  const auto walking = emit::step_graph::mark_taken(graph, *made.protocol, variant, options);
  if (walking.came == Came::to_errors) why = "runs end at errors, which \"stepward check\" tells; until they are mended nobody knows which ways are taken";
  if (walking.came == Came::to_the_limit) why = "the walk came to its limit; without --walk the graph is written all the same";
  if (!walking.strangers.empty()) throw std::logic_error("a run takes a way that the step graph has not: " + walking.strangers.front());
  return walking.came == Came::to_its_end;
}

std::optional<StepGraphs> step_graphs(const Written& how, const Compilation& made, const Variants& variants, std::string& why) {
  StepGraphs graphs(variants.size());
  side_by_side(variants.size(), how.workers, [&](std::size_t v) { graphs[v] = emit::step_graph::make(*made.protocol, variants[v], made.files); });
  for (std::size_t v = 0; how.walk && v < variants.size(); ++v) {
    if (!mark(graphs[v], made, variants[v], how.workers, why)) return std::nullopt;
  }
  return graphs;
}

std::vector<Chart> charts(const Compilation& made, const Variants& variants) {
  const emit::WalkFacts nothing_walked;
  std::vector<Chart> all;
  for (const model::Variant& variant : variants) {
    const graph::Course course = graph::number_steps(*made.protocol, variant);
    all.push_back(emit::flow_chart::from_course({*made.protocol, *made.protocol, variant, course, nothing_walked}));
  }
  return all;
}

#ifdef STEPWARD_WITH_LAYOUT
/// Variants share most of their phases, and what is the same is placed once.
class Placer {
 public:
  std::optional<Drawings> place(const Sketches& sketches, std::string& why) {
    Drawings drawings;
    for (const emit::layout::Sketch& sketch : sketches) {
      const auto known = std::find_if(placed_.begin(), placed_.end(), [&](const auto& one) { return one.first == sketch; });
      if (known == placed_.end()) {
        auto drawing = library_.place(sketch, why);
        if (!drawing) return std::nullopt;
        placed_.emplace_back(sketch, std::move(*drawing));
        drawings.push_back(placed_.back().second);
      } else {
        drawings.push_back(known->second);
      }
    }
    return drawings;
  }

 private:
  emit::layout::Layered library_;
  std::vector<std::pair<emit::layout::Sketch, emit::layout::Drawing>> placed_;
};
#else
class Placer {
 public:
  std::optional<Drawings> place(const Sketches&, std::string& why) {
    why = "this stepward was built without the library that places boxes; --as dot needs none";
    return std::nullopt;
  }
};
#endif

Text json(const Written& how, const Compilation& made, const Variants& variants, std::string& why) {
  const auto graphs = step_graphs(how, made, variants, why);
  return graphs ? Text(emit::step_graph::as_json(*made.protocol, *graphs, made.files)) : std::nullopt;
}

Text graphml(const Written& how, const Compilation& made, const Variants& variants, std::string& why) {
  const auto graphs = step_graphs(how, made, variants, why);
  return graphs ? Text(emit::step_graph::as_graphml(*made.protocol, *graphs)) : std::nullopt;
}

Text dot(const Written&, const Compilation& made, const Variants& variants, std::string&) { return emit::flow_chart::as_dot(charts(made, variants)); }

std::optional<std::vector<PlacedChart>> placed_charts(const Compilation& made, const Variants& variants, Sketches (*sketches)(const Chart&), std::string& why) {
  Placer placer;
  std::vector<PlacedChart> placed;
  for (Chart& chart : charts(made, variants)) {
    auto drawings = placer.place(sketches(chart), why);
    if (!drawings) return std::nullopt;
    placed.push_back({std::move(chart), std::move(*drawings)});
  }
  return placed;
}

Text svg(const Written&, const Compilation& made, const Variants& variants, std::string& why) {
  const auto placed = placed_charts(made, variants, emit::flow_chart::sketches, why);
  return placed ? Text(emit::flow_chart::as_svg(*placed)) : std::nullopt;
}

Text bpmn(const Written&, const Compilation& made, const Variants& variants, std::string& why) {
  const auto placed = placed_charts(made, variants, emit::bpmn::sketches, why);
  return placed ? Text(emit::bpmn::as_bpmn(*placed)) : std::nullopt;
}

Text fhir(const Written&, const Compilation& made, const Variants& variants, std::string&) { return emit::fhir::as_plan_definition(*made.protocol, variants); }

struct Format {
  const char* name;
  Text (*write)(const Written& how, const Compilation& made, const Variants& variants, std::string& why);
};

constexpr Format formats[] = {{"json", json}, {"graphml", graphml}, {"dot", dot}, {"svg", svg}, {"bpmn", bpmn}, {"fhir", fhir}};

}  // namespace

std::vector<std::string> graph_format_names() {
  std::vector<std::string> names;
  for (const Format& format : formats) names.emplace_back(format.name);
  return names;
}

Text written_as(const Written& how, const Compilation& made, const Variants& variants, std::string& why) {
  for (const Format& each : formats) {
    if (each.name == how.format) return each.write(how, made, variants, why);
  }
  why = "\"" + how.format + "\" is no format of a graph";
  return std::nullopt;
}

}  // namespace stepward::driver
