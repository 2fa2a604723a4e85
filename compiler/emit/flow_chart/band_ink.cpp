#include "emit/flow_chart/band_ink.hpp"

#include <algorithm>

#include "emit/flow_chart/lettering.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::flow_chart {
namespace {

using What = Shape::What;

/// Between the top of a line of type and where its letters stand.
constexpr double to_base_line = 11.5;

/// Draws the shapes of one band into wholes.
class ShapeInk {
 public:
  ShapeInk(const Shape& shape, Point middle) : shape_(shape), middle_(middle), text_(lettered(shape)) {}

  Whole whole(const std::string& prefix) {
    const double top = middle_.y - text_.height / 2;
    Whole whole{top, top + text_.height, {}, {}};
    outline(whole.marks, middle_.x - text_.width / 2, top);
    letters(whole.marks, top + 6 + to_base_line);
    for (Mark& mark : whole.marks) mark.id = prefix + shape_.id;
    return whole;
  }

 private:
  void outline(std::vector<Mark>& marks, double left, double top) const {
    const double width = text_.width, height = text_.height;
    switch (shape_.what) {
      case What::entry: marks.push_back(disc(Look::black, middle_, 3)); break;
      case What::step: marks.push_back(rectangle(shape_.critical_word.empty() ? Look::shape : Look::heavy, left, top, width, height)); break;
      case What::box:
        marks.push_back(rectangle(Look::shape, left, top, width, height));
        for (const double x : {left + 5, left + width - 5}) marks.push_back(line(Look::way, {{x, top}, {x, top + height}}, false));
        break;
      case What::question: marks.push_back(hexagon(left, top, width, height)); break;
      case What::fork:
      case What::join: marks.push_back(rectangle(Look::black, left, top, width, height)); break;
      case What::ending: marks.push_back(rectangle(shape_.emergency ? Look::black : Look::heavy, left, top, width, height, height / 2)); break;
      case What::resume:
      case What::back:
      case What::loose_end: marks.push_back(rectangle(Look::shape, left, top, width, height, height / 2)); break;
      case What::onward: break;
    }
  }

  static Mark hexagon(double left, double top, double width, double height) {
    const double right = left + width, bottom = top + height, half = top + height / 2, corner = std::min(16.0, height / 2);
    Mark mark;
    mark.what = Mark::What::polygon;
    mark.look = Look::question;
    mark.points = {{left, half}, {left + corner, top}, {right - corner, top}, {right, half}, {right - corner, bottom}, {left + corner, bottom}};
    return mark;
  }

  void letters(std::vector<Mark>& marks, double y) const {
    const bool on_black = shape_.what == What::ending && shape_.emergency;
    const auto put = [&](Type type, const std::string& said) {
      marks.push_back(words(type, {middle_.x, y}, said, true));
      y += line_height;
    };
    if (!text_.head.empty()) put(Type::strong, text_.head);
    for (const std::string& said : text_.lines) put(on_black ? Type::plain_on_black : Type::plain, said);
    for (const std::string& said : text_.marks) put(Type::strong, said);
  }

  const Shape& shape_;
  Point middle_;
  Lettered text_;
};

Mark way_ink(const Band& band, const Way& way, const layout::Route& route) {
  Mark curve;
  curve.what = Mark::What::curve;
  curve.look = way.goes_back ? Look::back_way : way.is_main ? Look::main_way : Look::way;
  curve.points = route.points;
  curve.arrow = band.shapes[way.to].what != What::onward;
  return curve;
}

Whole way_label(const Way& way, const layout::Route& route) {
  const auto lines = wrapped(way.label, widest_label(way));
  const double height = static_cast<double>(lines.size()) * line_height;
  Whole whole{route.label.y - height / 2, route.label.y + height / 2, {}, {}};
  double y = whole.top + to_base_line;
  for (const std::string& said : lines) {
    whole.marks.push_back(words(Type::strong, {route.label.x, y}, said, true));
    y += line_height;
  }
  return whole;
}

/// What a reader looks for at this shape. Bars and points are no such thing: then it is the next shape along the ways, or
/// against them; at the end of a phase, what follows it.
std::string looked_for(const Band& band, std::size_t shape, bool forward, const std::string& onward) {
  for (std::size_t hop = 0; hop <= band.ways.size(); ++hop) {
    const Shape& here = band.shapes[shape];
    if (here.what == What::onward) return onward;
    if (!here.number.empty()) return here.number;
    for (const std::string* words : {&here.called, &here.text})
      if (!words->empty()) return "“" + xml_text(*words) + "”";
    const auto next = std::find_if(band.ways.begin(), band.ways.end(), [&](const Way& way) { return (forward ? way.from : way.to) == shape; });
    if (next == band.ways.end()) break;
    shape = forward ? next->to : next->from;
  }
  return xml_text(band.title);
}

}  // namespace

std::string first_number_of(const Band& band) { return band.shapes.empty() ? "" : looked_for(band, 0, true, ""); }

BandInk ink_of_band(const Band& band, const layout::Drawing& drawing, const std::string& prefix, const std::string& onward) {
  BandInk ink;
  std::vector<std::optional<std::size_t>> drawn(band.ways.size());
  for (std::size_t i = 0; i < band.ways.size(); ++i) {
    if (drawing.routes[i].points.empty()) continue;
    drawn[i] = ink.ways.size();
    ink.ways.push_back(way_ink(band, band.ways[i], drawing.routes[i]));
    ink.from.push_back(looked_for(band, band.ways[i].from, false, onward));
    ink.to.push_back(looked_for(band, band.ways[i].to, true, onward));
    ink.answers.push_back(xml_text(band.ways[i].label));
  }
  for (std::size_t i = 0; i < band.shapes.size(); ++i) {
    if (band.shapes[i].what != What::onward) ink.wholes.push_back(ShapeInk(band.shapes[i], drawing.middles[i]).whole(prefix));
  }
  for (std::size_t i = 0; i < band.ways.size(); ++i) {
    if (band.ways[i].label.empty()) continue;
    ink.wholes.push_back(way_label(band.ways[i], drawing.routes[i]));
    ink.wholes.back().way = drawn[i];
  }
  return ink;
}

}  // namespace stepward::emit::flow_chart
