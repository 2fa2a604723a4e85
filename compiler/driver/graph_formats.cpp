#include "driver/graph_formats.hpp"

#include <algorithm>
#include <functional>
#include <iterator>
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

/// Writes one protocol in any of the formats; what several of them are made from is made when the first one wants it, and kept.
class GraphWriter {
 public:
  GraphWriter(const Written& how, const Compilation& made, const Variants& variants, std::string& why) : how_(how), made_(made), variants_(variants), why_(why) {}

  Text json() { return step_graphs() ? Text(emit::step_graph::as_json(*made_.protocol, *graphs_, made_.files)) : std::nullopt; }
  Text graphml() { return step_graphs() ? Text(emit::step_graph::as_graphml(*made_.protocol, *graphs_)) : std::nullopt; }
  Text dot() { return emit::flow_chart::as_dot(charts()); }
  Text fhir() { return emit::fhir::as_plan_definition(*made_.protocol, variants_, courses()); }

  Text svg() {
    const auto placed = placed_charts(emit::flow_chart::sketches);
    return placed ? Text(emit::flow_chart::as_svg(*placed)) : std::nullopt;
  }

  Text bpmn() {
    const auto placed = placed_charts(emit::bpmn::sketches);
    return placed ? Text(emit::bpmn::as_bpmn(*placed)) : std::nullopt;
  }

 private:
  const std::vector<graph::Course>& courses() {
    if (courses_.empty()) {
      courses_.resize(variants_.size());
      for_each_variant([&](std::size_t v) { courses_[v] = graph::number_steps(*made_.protocol, variants_[v]); });
    }
    return courses_;
  }

  const std::vector<Chart>& charts() {
    if (charts_.empty()) {
      courses();
      charts_.resize(variants_.size());
      const emit::WalkFacts nothing_walked;
      for_each_variant([&](std::size_t v) {
        charts_[v] = emit::flow_chart::from_course({*made_.protocol, *made_.protocol, variants_[v], courses_[v], nothing_walked});
      });
    }
    return charts_;
  }

  bool step_graphs() {
    if (graphs_) return true;
    courses();
    StepGraphs graphs(variants_.size());
    for_each_variant([&](std::size_t v) { graphs[v] = emit::step_graph::make(*made_.protocol, variants_[v], courses_[v], made_.files); });
    for (std::size_t v = 0; how_.walk && v < variants_.size(); ++v) {
      if (!mark(graphs[v], made_, variants_[v], how_.workers, why_)) return false;
    }
    graphs_ = std::move(graphs);
    return true;
  }

  std::optional<std::vector<PlacedChart>> placed_charts(Sketches (*sketches)(const Chart&)) {
    Placer placer;
    std::vector<PlacedChart> placed;
    for (const Chart& chart : charts()) {
      auto drawings = placer.place(sketches(chart), why_);
      if (!drawings) return std::nullopt;
      placed.push_back({chart, std::move(*drawings)});
    }
    return placed;
  }

  void for_each_variant(const std::function<void(std::size_t)>& act) { side_by_side(variants_.size(), how_.workers, act); }

  const Written& how_;
  const Compilation& made_;
  const Variants& variants_;
  std::string& why_;
  std::vector<graph::Course> courses_;  ///< one for each variant, as the two below
  std::vector<Chart> charts_;
  std::optional<StepGraphs> graphs_;
};

struct Format {
  const char* name;
  const char* ending;
  bool tells_of_walk;
  Text (GraphWriter::*write)();
};

constexpr Format formats[] = {{"json", ".graph.json", true, &GraphWriter::json}, {"graphml", ".graphml", true, &GraphWriter::graphml},
                              {"dot", ".dot", false, &GraphWriter::dot},         {"svg", ".svg", false, &GraphWriter::svg},
                              {"bpmn", ".bpmn", false, &GraphWriter::bpmn},      {"fhir", ".fhir.json", false, &GraphWriter::fhir}};

const Format* format_of(const std::string& name) {
  const auto found = std::find_if(std::begin(formats), std::end(formats), [&](const Format& each) { return each.name == name; });
  return found == std::end(formats) ? nullptr : found;
}

}  // namespace

std::vector<std::string> graph_format_names() {
  std::vector<std::string> names;
  for (const Format& format : formats) names.emplace_back(format.name);
  return names;
}

std::string graph_file_ending(const std::string& format) {
  const Format* known = format_of(format);
  return known ? known->ending : "";
}

bool tells_of_walk(const std::string& format) {
  const Format* known = format_of(format);
  return known && known->tells_of_walk;
}

std::optional<std::vector<std::string>> written_as(const Written& how, const Compilation& made, const Variants& variants, std::string& why) {
  GraphWriter writer(how, made, variants, why);
  std::vector<std::string> texts;
  for (const std::string& name : how.formats) {
    const Format* format = format_of(name);
    if (!format) {
      why = "\"" + name + "\" is no format of a graph";
      return std::nullopt;
    }
    Text text = (writer.*format->write)();
    if (!text) return std::nullopt;
    texts.push_back(std::move(*text));
  }
  return texts;
}

}  // namespace stepward::driver
