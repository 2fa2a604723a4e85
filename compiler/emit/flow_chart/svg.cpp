// The chart as one SVG picture.

#include <algorithm>
#include <sstream>

#include <fmt/format.h>
#include <pugixml.hpp>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/lettering.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::flow_chart {
namespace {

using layout::Drawing;
using layout::Point;
using pugi::xml_node;
using What = Shape::What;

constexpr double margin = 24, padding = 14, strip = 26, between_bands = 22, between_columns = 40, between_variants = 80, head_height = 64;

constexpr const char* style =
    "text{font-family:'Noto Sans','DejaVu Sans',sans-serif;font-size:12px;fill:#000}"
    ".b{font-weight:bold}.h{font-size:20px;font-weight:bold}.s{font-size:12px}.t{font-size:14px;font-weight:bold}"
    ".band{fill:#f4f4f4;stroke:#999}.strip{fill:#dcdcdc;stroke:#999}.any .band{fill:#fff;stroke:#000;stroke-width:2;stroke-dasharray:8 4}"
    ".any .strip{fill:#000;stroke:#000}.any .t{fill:#fff}.any .hint{fill:#fff}"
    ".shape{fill:#fff;stroke:#000}.heavy{stroke-width:3}.ask{fill:#fff;stroke:#000;stroke-width:1.5}.end{fill:#000;stroke:#000}.on-black text{fill:#fff}"
    ".way{fill:none;stroke:#000}.main{stroke-width:2.2}.back{stroke-dasharray:5 3}.label{fill:#fff;stroke:none}";

std::string rounded(double number) {
  std::string text = fmt::format("{:.1f}", number);
  if (text.size() > 2 && text.compare(text.size() - 2, 2, ".0") == 0) text.resize(text.size() - 2);
  return text == "-0" ? "0" : text;
}

void set(xml_node node, const char* name, double number) { node.append_attribute(name) = rounded(number).c_str(); }
void set(xml_node node, const char* name, const std::string& text) { node.append_attribute(name) = text.c_str(); }

xml_node rectangle(xml_node parent, const char* look, double left, double top, double width, double height, double round = 0) {
  xml_node rect = parent.append_child("rect");
  set(rect, "class", look);
  set(rect, "x", left);
  set(rect, "y", top);
  set(rect, "width", width);
  set(rect, "height", height);
  if (round > 0) set(rect, "rx", round);
  return rect;
}

void letters(xml_node parent, const char* look, double x, double y, const std::string& said, const char* anchor = "start") {
  xml_node text = parent.append_child("text");
  if (*look != '\0') set(text, "class", look);
  set(text, "x", x);
  set(text, "y", y);
  if (std::string_view(anchor) != "start") set(text, "text-anchor", anchor);
  text.text() = said.c_str();
}

void path(xml_node parent, const std::string& look, const std::string& d, bool arrow) {
  xml_node line = parent.append_child("path");
  set(line, "class", look);
  set(line, "d", d);
  if (arrow) set(line, "marker-end", "url(#arrow)");
}

// ------------------------------------------------------------------ one band

/// Where a band lies in the picture: its frame, and where the places of its drawing begin.
struct Lies {
  double left = 0, top = 0, width = 0, height = 0;
  Point inner;
};

class BandDrawer {
 public:
  BandDrawer(xml_node parent, const Chart& chart, const Band& band, const Drawing& drawing, const Lies& lies)
      : chart_(chart), band_(band), drawing_(drawing), lies_(lies), group_(parent.append_child("g")) {
    if (band.what == Band::What::breach) set(group_, "class", "any");
  }

  void draw() {
    frame();
    for (std::size_t i = 0; i < band_.ways.size(); ++i) way(band_.ways[i], drawing_.routes[i]);
    for (std::size_t i = 0; i < band_.shapes.size(); ++i) shape(band_.shapes[i], at(drawing_.middles[i]));
    for (std::size_t i = 0; i < band_.ways.size(); ++i) way_label(band_.ways[i], drawing_.routes[i]);
  }

 private:
  Point at(Point inner) const { return {inner.x + lies_.inner.x, inner.y + lies_.inner.y}; }

  void frame() {
    rectangle(group_, "band", lies_.left, lies_.top, lies_.width, lies_.height);
    rectangle(group_, "strip", lies_.left, lies_.top, lies_.width, strip);
    const std::string title = (band_.label.empty() ? "" : band_.label + "  ") + xml_text(band_.title);
    letters(group_, "t", lies_.left + 10, lies_.top + 18, title);
    const double behind = lies_.left + 24 + width_in_ems(title) * 14 * 1.1;
    if (!band_.hint.empty()) letters(group_, "hint", behind, lies_.top + 18, xml_text(band_.hint));
  }

  void way(const Way& way, const layout::Route& route) {
    if (route.points.empty()) return;
    const Point begin = at(route.points.front());
    std::string d = fmt::format("M{} {}", rounded(begin.x), rounded(begin.y));
    for (std::size_t i = 1; i + 2 < route.points.size(); i += 3) {
      d += 'C';
      for (std::size_t k = i; k < i + 3; ++k) {
        const Point p = at(route.points[k]);
        d += fmt::format("{}{} {}", k == i ? "" : " ", rounded(p.x), rounded(p.y));
      }
    }
    path(group_, std::string("way") + (way.is_main ? " main" : "") + (way.goes_back ? " back" : ""), d, band_.shapes[way.to].what != What::onward);
  }

  void way_label(const Way& way, const layout::Route& route) {
    if (way.label.empty()) return;
    const auto lines = wrapped(way.label, 9);
    const Point middle = at(route.label);
    double y = middle.y - static_cast<double>(lines.size()) * line_height / 2 + 11.5;
    for (const std::string& line : lines) {
      letters(group_, "b", middle.x, y, line, "middle");
      y += line_height;
    }
  }

  void shape(const Shape& shape, Point middle) {
    if (shape.what == What::onward) return;
    const Lettered text = lettered(shape);
    xml_node group = group_.append_child("g");
    set(group, "id", prefix() + shape.id);
    outline(group, shape, middle, text);
    words(group, middle, text);
  }

  /// Several charts of one picture have shapes of the same name.
  std::string prefix() const { return chart_.variant.empty() ? "" : step_prefix(chart_.variant) + "/"; }
  static std::string step_prefix(std::string name) {
    std::replace(name.begin(), name.end(), ' ', '_');
    return xml_text(name);
  }

  static void outline(xml_node group, const Shape& shape, Point middle, const Lettered& size) {
    const double left = middle.x - size.width / 2, top = middle.y - size.height / 2;
    switch (shape.what) {
      case What::entry: {
        xml_node dot = group.append_child("circle");
        set(dot, "cx", middle.x);
        set(dot, "cy", middle.y);
        set(dot, "r", 3.0);
        return;
      }
      case What::step:
        rectangle(group, shape.critical_word.empty() ? "shape" : "shape heavy", left, top, size.width, size.height);
        return;
      case What::box:
        rectangle(group, "shape", left, top, size.width, size.height);
        path(group, "way", fmt::format("M{0} {1}v{2}M{3} {1}v{2}", rounded(left + 5), rounded(top), rounded(size.height), rounded(left + size.width - 5)), false);
        return;
      case What::question: question(group, left, top, size); return;
      case What::fork:
      case What::join: rectangle(group, "end", left, top, size.width, size.height); return;
      case What::ending:
        if (shape.emergency) set(group, "class", "on-black");
        rectangle(group, shape.emergency ? "end" : "shape heavy", left, top, size.width, size.height, size.height / 2);
        return;
      case What::resume:
      case What::back:
      case What::loose_end: rectangle(group, "shape", left, top, size.width, size.height, size.height / 2); return;
      case What::onward: return;
    }
  }

  static void question(xml_node group, double left, double top, const Lettered& size) {
    const double right = left + size.width, bottom = top + size.height, half = size.height / 2;
    const double corner = std::min(16.0, half);
    xml_node hexagon = group.append_child("polygon");
    set(hexagon, "class", "ask");
    set(hexagon, "points", fmt::format("{0},{1} {2},{3} {4},{3} {5},{1} {4},{6} {2},{6}", rounded(left), rounded(top + half), rounded(left + corner),
                                       rounded(top), rounded(right - corner), rounded(right), rounded(bottom)));
  }

  static void words(xml_node group, Point middle, const Lettered& text) {
    double y = middle.y - text.height / 2 + 6 + 11.5;
    const auto put = [&](const char* look, const std::string& line) {
      letters(group, look, middle.x, y, line, "middle");
      y += line_height;
    };
    if (!text.head.empty()) put("b", text.head);
    for (const std::string& line : text.lines) put("", line);
    for (const std::string& mark : text.marks) put("b", mark);
  }

  const Chart& chart_;
  const Band& band_;
  const Drawing& drawing_;
  const Lies& lies_;
  xml_node group_;
};

// ------------------------------------------------------------------ one chart

/// Phases, boxes and breaches stand in columns of their own.
class ChartDrawer {
 public:
  ChartDrawer(xml_node picture, const PlacedChart& placed, double left) : picture_(picture), placed_(placed), left_(left) {}

  /// Draws the chart and tells how wide and high it is.
  Point draw() {
    const double heading = heads();
    double x = left_, bottom = margin;
    for (const auto what : {Band::What::phase, Band::What::box, Band::What::breach}) {
      const Point size = column(what, x);
      if (size.x > 0) x += size.x + between_columns;
      bottom = std::max(bottom, size.y);
    }
    return {std::max(heading, x - between_columns - left_), bottom};
  }

 private:
  double heads() {
    const Chart& chart = placed_.chart;
    const std::string title = chart.heading + ": " + xml_text(chart.title);
    letters(picture_, "h", left_, margin + 18, title);
    std::string line = xml_text(chart.number) + (chart.version.empty() ? "" : " · " + xml_text(chart.version)) +
                       (chart.status.empty() ? "" : " · " + xml_text(chart.status));
    if (!chart.variant.empty()) line += " · " + xml_text(chart.variant);
    letters(picture_, "b", left_, margin + 38, line);
    letters(picture_, "s", left_, margin + 54, chart.caution);
    return std::max({width_in_ems(title) * 22, width_in_ems(line) * 13, width_in_ems(chart.caution) * 12});
  }

  /// Left: as far as the main way stands in from the left edge, the same for all bands of a column.
  Point column(Band::What what, double x) {
    const Chart& chart = placed_.chart;
    double way_in = 0, right = 0;
    for_each(what, [&](std::size_t i) { way_in = std::max(way_in, main_way(i)); });
    for_each(what, [&](std::size_t i) {
      right = std::max(right, way_in - main_way(i) + placed_.bands[i].width);
      right = std::max(right, title_width(chart.bands[i]));
    });
    double y = margin + head_height;
    const Lies* before = nullptr;
    std::vector<Lies> all(chart.bands.size());
    std::size_t last = 0;
    for_each(what, [&](std::size_t i) {
      const Drawing& drawing = placed_.bands[i];
      all[i] = {x, y, right + 2 * padding, drawing.height + strip + 2 * padding, {x + padding + way_in - main_way(i), y + strip + padding}};
      if (before && what == Band::What::phase) join(last, *before, i, all[i]);
      BandDrawer(picture_, chart, chart.bands[i], drawing, all[i]).draw();
      y += all[i].height + between_bands;
      before = &all[i];
      last = i;
    });
    return {before ? right + 2 * padding : 0, y};
  }

  template <class Do>
  void for_each(Band::What what, Do&& act) {
    for (std::size_t i = 0; i < placed_.chart.bands.size(); ++i) {
      if (placed_.chart.bands[i].what == what) act(i);
    }
  }

  static double title_width(const Band& band) {
    return 40 + width_in_ems(xml_text(band.title) + band.label) * 15.5 + width_in_ems(xml_text(band.hint)) * 12.5;
  }

  double main_way(std::size_t band) const { return placed_.bands[band].middles.empty() ? 0 : placed_.bands[band].middles.front().x; }

  /// From the foot of a phase to the head of the next.
  void join(std::size_t from, const Lies& above, std::size_t to, const Lies& below) {
    const auto& shapes = placed_.chart.bands[from].shapes;
    for (std::size_t s = 0; s < shapes.size(); ++s) {
      if (shapes[s].what != What::onward) continue;
      const Point end = placed_.bands[from].middles[s], begin = placed_.bands[to].middles.front();
      const double x1 = end.x + above.inner.x, y1 = end.y + above.inner.y, x2 = begin.x + below.inner.x, y2 = begin.y + below.inner.y;
      const double half = (above.top + above.height + below.top) / 2;
      late_.push_back(fmt::format("M{} {}V{}H{}V{}", rounded(x1), rounded(y1), rounded(half), rounded(x2), rounded(y2 - strip - padding - 3)));
    }
  }

 public:
  /// Ways from phase to phase run over the bands' frames, so they are drawn last.
  void draw_joins() {
    for (const std::string& d : late_) path(picture_, "way main", d, true);
  }

 private:
  xml_node picture_;
  const PlacedChart& placed_;
  double left_;
  std::vector<std::string> late_;
};

void describe(xml_node picture, const std::vector<PlacedChart>& charts) {
  const Chart& chart = charts.front().chart;
  xml_node title = picture.append_child("title");
  set(title, "id", "chart-title");
  title.text() = (chart.heading + ": " + xml_text(chart.title)).c_str();
  std::string bands;
  for (const Band& band : chart.bands) {
    bands += (bands.empty() ? "" : "; ") + (band.label.empty() ? "" : band.label + " ") + xml_text(band.title);
  }
  xml_node description = picture.append_child("desc");
  set(description, "id", "chart-description");
  description.text() = (bands + ". " + chart.caution).c_str();
}

void define_arrow(xml_node picture) {
  xml_node marker = picture.append_child("defs").append_child("marker");
  set(marker, "id", "arrow");
  set(marker, "viewBox", "0 0 10 10");
  set(marker, "refX", "9");
  set(marker, "refY", "5");
  set(marker, "markerWidth", "9");
  set(marker, "markerHeight", "9");
  set(marker, "markerUnits", "userSpaceOnUse");
  set(marker, "orient", "auto");
  set(marker.append_child("path"), "d", "M0 0L10 5L0 10z");
}

}  // namespace

std::string as_svg(const std::vector<PlacedChart>& charts) {
  pugi::xml_document document;
  xml_node picture = document.append_child("svg");
  set(picture, "xmlns", "http://www.w3.org/2000/svg");
  set(picture, "lang", charts.front().chart.language);
  set(picture, "role", "img");
  set(picture, "aria-labelledby", "chart-title chart-description");
  describe(picture, charts);
  picture.append_child("style").text() = style;
  define_arrow(picture);
  rectangle(picture, "label", 0, 0, 0, 0);
  xml_node paper = picture.last_child();
  double x = margin, bottom = 0;
  for (const PlacedChart& placed : charts) {
    ChartDrawer drawer(picture, placed, x);
    const Point size = drawer.draw();
    drawer.draw_joins();
    x += size.x + between_variants;
    bottom = std::max(bottom, size.y);
  }
  const double width = x - between_variants + margin, height = bottom + margin - between_bands;
  set(picture, "width", width);
  set(picture, "height", height);
  set(picture, "viewBox", fmt::format("0 0 {} {}", rounded(width), rounded(height)));
  paper.attribute("width") = rounded(width).c_str();
  paper.attribute("height") = rounded(height).c_str();
  std::ostringstream text;
  document.save(text, " ", pugi::format_default, pugi::encoding_utf8);
  return text.str();
}

}  // namespace stepward::emit::flow_chart
