#include "driver/graph_formats.hpp"

#include <algorithm>
#include <functional>
#include <iterator>
#include <stdexcept>

#include "base/side_by_side.hpp"
#include "driver/band_placer.hpp"
#include "driver/variant_choice.hpp"
#include "emit/bpmn/bpmn.hpp"
#include "emit/document/document.hpp"
#include "emit/fhir/plan_definition.hpp"
#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/sheets.hpp"
#include "emit/graph/step_graph.hpp"
#include "emit/graph/taken.hpp"
#include "graph/numbering.hpp"

namespace stepward::driver {
namespace {

using emit::flow_chart::Chart;
using emit::flow_chart::PlacedChart;
using Variants = std::vector<model::Variant>;
using Texts = std::optional<std::vector<GraphText>>;
using Sketches = std::vector<emit::layout::Sketch>;

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

// ------------------------------------------------------------------ pages

struct Sheet { const char* name; double width, height; };  ///< in millimetres

/// ISO 216, and ANSI/ASME Y14.1 for letter. Where several columns stand side by side the sheet lies on its side.
constexpr Sheet sheets[] = {{"A4", 210, 297}, {"A3", 420, 297}, {"A2", 594, 420}, {"A1", 841, 594}, {"A0", 1189, 841}, {"letter", 215.9, 279.4}};
constexpr double edge = 10, points_per_mm = 72 / 25.4;  ///< millimetres that a printer or a laminate takes at each side

const Sheet& sheet_called(const std::string& name) {
  return *std::find_if(std::begin(sheets), std::end(sheets), [&](const Sheet& each) { return each.name == name; });
}

/// The line at the foot that says which page it is has its room below the chart.
constexpr double foot = 16;

emit::flow_chart::Page page_of(const std::string& name) {
  const Sheet& sheet = sheet_called(name);
  return {(sheet.width - 2 * edge) * points_per_mm, (sheet.height - 2 * edge) * points_per_mm - foot, true};
}

std::string page_as_svg(const Chart& chart, emit::flow_chart::Picture page, std::size_t number, std::size_t count) {
  const double side = edge * points_per_mm / page.scale;
  for (emit::flow_chart::Mark& mark : page.marks) emit::flow_chart::move_by(mark, side, side);
  const std::string where = emit::filled(chart.page, std::to_string(number) + " / " + std::to_string(count));
  page.marks.push_back(emit::flow_chart::words(emit::flow_chart::Type::small, {side, side + page.height + foot / page.scale}, chart.number + " · " + where));
  page.width += 2 * side;
  page.height += 2 * side + foot / page.scale;
  return emit::flow_chart::svg_of(page, chart.language, emit::flow_chart::name_of(chart) + ", " + where, emit::flow_chart::told_of(chart));
}

/// Writes one protocol in any of the formats; what several of them are made from is made when the first one wants it, and kept.
class GraphWriter {
 public:
  GraphWriter(const Written& how, const Compilation& made, const Variants& variants, std::string& why) : how_(how), made_(made), variants_(variants), why_(why) {}

  Texts json() { return step_graphs() ? whole(emit::step_graph::as_json(*made_.protocol, *graphs_, made_.files)) : std::nullopt; }
  Texts graphml() { return step_graphs() ? whole(emit::step_graph::as_graphml(*made_.protocol, *graphs_)) : std::nullopt; }
  Texts dot() { return whole(emit::flow_chart::as_dot(charts())); }
  Texts fhir() { return whole(emit::fhir::as_plan_definition(*made_.protocol, variants_, courses())); }

  Texts svg() {
    const auto placed = placed_charts(emit::flow_chart::sketches);
    if (!placed) return std::nullopt;
    return how_.sheet.empty() ? whole(emit::flow_chart::as_svg(*placed)) : pages(*placed);
  }

  Texts bpmn() {
    const auto placed = placed_charts(emit::bpmn::sketches);
    return placed ? whole(emit::bpmn::as_bpmn(*placed)) : std::nullopt;
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

  std::optional<std::vector<PlacedChart>> placed_charts(Sketches (*sketches)(const Chart&)) { return placer_.place_charts(charts(), sketches, why_); }

  static Texts whole(std::string text) { return std::vector<GraphText>{{"", "", std::move(text)}}; }

  Texts pages(const std::vector<PlacedChart>& placed) {
    std::vector<GraphText> texts;
    for (const PlacedChart& chart : placed) {
      const auto pages = emit::flow_chart::cut_to(chart, page_of(how_.sheet));
      if (pages.empty()) {
        why_ = "the flow chart" + (chart.chart.variant.empty() ? "" : " of " + chart.chart.variant) + " is too wide to be read on " + how_.sheet + "; a larger sheet takes it";
        return std::nullopt;
      }
      const std::string variant = variants_.size() < 2 ? "" : "-" + slug(chart.chart.variant);
      for (std::size_t i = 0; i < pages.size(); ++i) texts.push_back({"", variant + "-page-" + std::to_string(i + 1), page_as_svg(chart.chart, pages[i], i + 1, pages.size())});
    }
    return texts;
  }

  void for_each_variant(const std::function<void(std::size_t)>& act) { side_by_side(variants_.size(), how_.workers, act); }

  const Written& how_;
  const Compilation& made_;
  const Variants& variants_;
  std::string& why_;
  std::vector<graph::Course> courses_;  ///< one for each variant, as the two below
  std::vector<Chart> charts_;
  std::optional<StepGraphs> graphs_;
  BandPlacer placer_;
};

struct Format {
  const char* name;
  const char* ending;
  bool tells_of_walk;
  Texts (GraphWriter::*write)();
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

std::vector<std::string> chart_sheet_names() {
  std::vector<std::string> names;
  for (const Sheet& sheet : sheets) names.emplace_back(sheet.name);
  return names;
}

Texts written_as(const Written& how, const Compilation& made, const Variants& variants, std::string& why) {
  GraphWriter writer(how, made, variants, why);
  std::vector<GraphText> all;
  for (const std::string& name : how.formats) {
    const Format* format = format_of(name);
    if (!format) {
      why = "\"" + name + "\" is no format of a graph";
      return std::nullopt;
    }
    Texts texts = (writer.*format->write)();
    if (!texts) return std::nullopt;
    for (GraphText& text : *texts) all.push_back({name, std::move(text.part), std::move(text.text)});
  }
  return all;
}

}  // namespace stepward::driver
