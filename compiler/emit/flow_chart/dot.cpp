// The chart as DOT, the language of Graphviz.

#include <fmt/format.h>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/lettering.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::flow_chart {
namespace {

using What = Shape::What;

/// Between quotes DOT takes everything but a quote and a backslash as it is.
std::string quoted_in_dot(const std::string& text) {
  std::string all = "\"";
  for (const char c : xml_text(text)) {
    if (c == '"' || c == '\\') all += '\\';
    all += c;
  }
  return all + '"';
}

/// Lines are joined by the escape for a new line, which must not be escaped itself.
std::string label_in_dot(const Lettered& text) {
  std::string all;
  const auto put = [&](const std::string& line) {
    const std::string quoted = quoted_in_dot(line);
    all += (all.empty() ? "" : "\\n") + quoted.substr(1, quoted.size() - 2);
  };
  if (!text.head.empty()) put(text.head);
  for (const std::string& line : text.lines) put(line);
  for (const std::string& mark : text.marks) put(mark);
  return '"' + all + '"';
}

/// The document control and the caution stand below the name.
Lettered head_in_dot(const Chart& chart, const std::string& name) {
  Lettered head;
  head.head = name;
  std::string facts = chart.number;
  for (const std::string& fact : chart.control) facts += " · " + fact;
  head.lines = {facts, chart.caution};
  return head;
}

const char* look_in_dot(const Shape& shape) {
  switch (shape.what) {
    case What::entry:
    case What::onward: return "shape=point";
    case What::step: return shape.critical_word.empty() ? "shape=box" : "shape=box, penwidth=3";
    case What::box: return "shape=box, peripheries=2";
    case What::question: return "shape=hexagon";
    case What::fork:
    case What::join: return "shape=box, style=filled, fillcolor=black, height=0.08, width=2";
    case What::ending: return shape.emergency ? "shape=box, style=\"rounded,filled\", fillcolor=black, fontcolor=white" : "shape=box, style=rounded, penwidth=3";
    case What::resume:
    case What::back:
    case What::loose_end: return "shape=box, style=rounded";
  }
  return "";
}

void put_band(std::string& dot, const Band& band, std::size_t position) {
  const std::string title = (band.label.empty() ? "" : band.label + "  ") + band.title;
  dot += fmt::format("  subgraph cluster_{} {{\n    label={};\n", position, quoted_in_dot(title));
  if (band.what == Band::What::breach) dot += "    style=dashed;\n";
  for (const Shape& shape : band.shapes) {
    dot += fmt::format("    {} [{}, label={}];\n", quoted_in_dot(shape.id), look_in_dot(shape), label_in_dot(lettered(shape)));
  }
  for (const Way& way : band.ways) {
    dot += fmt::format("    {} -> {} [id={}", quoted_in_dot(band.shapes[way.from].id), quoted_in_dot(band.shapes[way.to].id), quoted_in_dot(way.id));
    if (!way.label.empty()) dot += ", label=" + quoted_in_dot(way.label);
    if (way.is_main) dot += ", weight=12, penwidth=2";
    if (way.goes_back) dot += ", style=dashed";
    dot += "];\n";
  }
  dot += "  }\n";
}

void put_joins(std::string& dot, const Chart& chart) {
  for (std::size_t i = 0; i + 1 < chart.bands.size(); ++i) {
    for (const Shape& shape : chart.bands[i].shapes) {
      if (shape.what != What::onward) continue;
      dot += fmt::format("  {} -> {} [weight=12, penwidth=2];\n", quoted_in_dot(shape.id), quoted_in_dot(chart.bands[i + 1].shapes.front().id));
    }
  }
}

}  // namespace

std::string as_dot(const std::vector<Chart>& charts) {
  std::string dot;
  for (const Chart& chart : charts) {
    const std::string name = chart.title + (chart.variant.empty() ? "" : ": " + chart.variant);
    dot += fmt::format("digraph {} {{\n  label={};\n  labelloc=t;\n", quoted_in_dot(name), label_in_dot(head_in_dot(chart, name)));
    dot += "  fontname=\"sans-serif\";\n  node [fontname=\"sans-serif\", fontsize=12];\n  edge [fontname=\"sans-serif\", fontsize=12];\n";
    for (std::size_t i = 0; i < chart.bands.size(); ++i) put_band(dot, chart.bands[i], i);
    put_joins(dot, chart);
    dot += "}\n";
  }
  return dot;
}

}  // namespace stepward::emit::flow_chart
