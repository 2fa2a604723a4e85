// A picture as SVG, mark by mark.

#include <array>
#include <sstream>

#include <fmt/format.h>
#include <pugixml.hpp>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/sheets.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::flow_chart {
namespace {

using pugi::xml_node;

constexpr std::array<const char*, 13> looks = {"band", "strip", "any", "any-strip", "shape", "heavy", "ask", "end", "way", "main", "back", "mark", "rule"};
constexpr std::array<const char*, 7> types = {"", "b", "s", "t", "h", "w", "t w"};

std::string rounded(double number) {
  std::string text = fmt::format("{:.1f}", number);
  if (text.size() > 2 && text.compare(text.size() - 2, 2, ".0") == 0) text.resize(text.size() - 2);
  return text == "-0" ? "0" : text;
}

std::string grey(double part) {
  const auto level = static_cast<int>(part * 255 + 0.5);
  return fmt::format("#{0:02x}{0:02x}{0:02x}", level);
}

std::string style_of_ink(std::size_t look) {
  const Ink ink = ink_of(static_cast<Look>(look));
  std::string css = fmt::format(".{}{{fill:{};stroke:{}", looks[look], ink.fill < 0 ? "none" : grey(ink.fill), ink.line < 0 ? "none" : grey(ink.line));
  if (ink.width != 1) css += ";stroke-width:" + rounded(ink.width);
  if (ink.dash > 0) css += fmt::format(";stroke-dasharray:{} {}", rounded(ink.dash), rounded(ink.gap));
  return css + "}";
}

/// The greys and sizes that every other writer has, too.
std::string style_sheet() {
  std::string css = "text{font-family:'Noto Sans','DejaVu Sans',sans-serif;font-size:12px;fill:#000}.b{font-weight:bold}.w{fill:#fff}.paper{fill:#fff}";
  const auto sized = [&](const char* name, Type type) {
    const Lettering letters = type_of(type);
    css += fmt::format(".{}{{font-size:{}px{}}}", name, rounded(letters.size), letters.bold ? ";font-weight:bold" : "");
  };
  sized("s", Type::small);
  sized("t", Type::band_title);
  sized("h", Type::chart_title);
  for (std::size_t look = 0; look < looks.size(); ++look) css += style_of_ink(look);
  return css;
}

class SvgWriter {
 public:
  explicit SvgWriter(xml_node root) : root_(root), parent_(root) {}

  void put(const Mark& mark) {
    if (mark.id != id_) {
      id_ = mark.id;
      parent_ = id_.empty() ? root_ : root_.append_child("g");
      if (!id_.empty()) set(parent_, "id", id_);
    }
    switch (mark.what) {
      case Mark::What::rectangle: put_rectangle(mark); break;
      case Mark::What::disc: put_disc(mark); break;
      case Mark::What::polygon: put_polygon(mark); break;
      case Mark::What::curve:
      case Mark::What::line: put_path(mark); break;
      case Mark::What::words: put_words(mark); break;
    }
  }

  static void set(xml_node node, const char* name, double number) { node.append_attribute(name) = rounded(number).c_str(); }
  static void set(xml_node node, const char* name, const std::string& text) { node.append_attribute(name) = text.c_str(); }

 private:
  xml_node begin(const char* name, const Mark& mark) {
    xml_node node = parent_.append_child(name);
    set(node, "class", std::string(looks.at(static_cast<std::size_t>(mark.look))));
    return node;
  }

  void put_rectangle(const Mark& mark) {
    xml_node node = begin("rect", mark);
    set(node, "x", mark.points[0].x);
    set(node, "y", mark.points[0].y);
    set(node, "width", mark.points[1].x);
    set(node, "height", mark.points[1].y);
    if (mark.round > 0) set(node, "rx", mark.round);
  }

  void put_disc(const Mark& mark) {
    xml_node node = begin("circle", mark);
    set(node, "cx", mark.points[0].x);
    set(node, "cy", mark.points[0].y);
    set(node, "r", mark.points[1].x);
  }

  void put_polygon(const Mark& mark) {
    std::string corners;
    for (const Point& p : mark.points) corners += fmt::format("{}{},{}", corners.empty() ? "" : " ", rounded(p.x), rounded(p.y));
    set(begin("polygon", mark), "points", corners);
  }

  void put_path(const Mark& mark) {
    std::string d;
    for (std::size_t i = 0; i < mark.points.size(); ++i) {
      const char* join = i == 0 ? "M" : mark.what == Mark::What::line ? "L" : i % 3 == 1 ? "C" : " ";
      d += fmt::format("{}{} {}", join, rounded(mark.points[i].x), rounded(mark.points[i].y));
    }
    xml_node node = begin("path", mark);
    set(node, "d", d);
    if (mark.arrow) set(node, "marker-end", std::string("url(#arrow)"));
  }

  void put_words(const Mark& mark) {
    xml_node node = parent_.append_child("text");
    const std::string look = types.at(static_cast<std::size_t>(mark.type));
    if (!look.empty()) set(node, "class", look);
    set(node, "x", mark.points[0].x);
    set(node, "y", mark.points[0].y);
    if (mark.in_the_middle) set(node, "text-anchor", std::string("middle"));
    node.text() = mark.text.c_str();
  }

  xml_node root_, parent_;
  std::string id_;
};

void told(xml_node root, const char* name, const char* id, const std::string& text) {
  xml_node node = root.append_child(name);
  SvgWriter::set(node, "id", std::string(id));
  node.text() = xml_text(text).c_str();
}

void define_arrow(xml_node root) {
  xml_node marker = root.append_child("defs").append_child("marker");
  const std::pair<const char*, const char*> about[] = {{"id", "arrow"}, {"viewBox", "0 0 10 10"}, {"refX", "9"}, {"refY", "5"}, {"markerWidth", "9"},
                                                       {"markerHeight", "9"}, {"markerUnits", "userSpaceOnUse"}, {"orient", "auto"}};
  for (const auto& [name, value] : about) marker.append_attribute(name) = value;
  marker.append_child("path").append_attribute("d") = "M0 0L10 5L0 10z";
}

}  // namespace

std::string svg_of(const Picture& picture, const std::string& language, const std::string& name, const std::string& shows) {
  pugi::xml_document document;
  xml_node root = document.append_child("svg");
  SvgWriter::set(root, "xmlns", std::string("http://www.w3.org/2000/svg"));
  SvgWriter::set(root, "lang", language);
  SvgWriter::set(root, "role", std::string("img"));
  SvgWriter::set(root, "aria-labelledby", std::string("chart-title chart-description"));
  SvgWriter::set(root, "width", rounded(picture.width * picture.scale) + "pt");
  SvgWriter::set(root, "height", rounded(picture.height * picture.scale) + "pt");
  SvgWriter::set(root, "viewBox", fmt::format("0 0 {} {}", rounded(picture.width), rounded(picture.height)));
  told(root, "title", "chart-title", name);
  told(root, "desc", "chart-description", shows);
  root.append_child("style").text() = style_sheet().c_str();
  define_arrow(root);
  SvgWriter writer(root);
  Mark paper = rectangle(Look::rule, 0, 0, picture.width, picture.height);
  writer.put(paper);
  root.last_child().attribute("class") = "paper";
  for (const Mark& mark : picture.marks) writer.put(mark);
  std::ostringstream text;
  document.save(text, " ", pugi::format_default, pugi::encoding_utf8);
  return text.str();
}

std::string as_svg(const std::vector<PlacedChart>& charts) {
  const Chart& chart = charts.front().chart;
  return svg_of(one_sheet(charts), chart.language, name_of(chart), told_of(chart));
}

}  // namespace stepward::emit::flow_chart
