// What stands in the shapes of a chart, and the sketches that are placed.

#include <algorithm>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/lettering.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::flow_chart {
namespace {

using What = Shape::What;

constexpr double widest_line = 14.5, widest_question = 12;  // in ems
constexpr double room_beside = 10, room_above = 6, point_of_question = 16;

bool is_mere_point(What what) { return what == What::entry || what == What::onward; }

void add_text(Lettered& made, const Shape& shape) {
  if (!shape.number.empty()) made.head = shape.number;
  if (shape.is_others && !shape.who.empty()) made.head += (made.head.empty() ? "" : " ") + wording::capitalised(xml_text(shape.who));
  made.lines = wrapped(xml_text(shape.text), shape.what == What::question ? widest_question : widest_line);
  if (!shape.critical_word.empty()) made.marks.push_back(shape.critical_word);
  if (!shape.clock.empty()) made.marks.push_back(shape.clock);
}

}  // namespace

Lettered lettered(const Shape& shape) {
  Lettered made;
  if (is_mere_point(shape.what)) return {{}, {}, {}, 2, 2};
  if (shape.what == What::fork || shape.what == What::join) return {{}, {}, {}, 140, 6};
  add_text(made, shape);
  double ems = width_in_ems(made.head) * 1.1;
  for (const std::string& line : made.lines) ems = std::max(ems, width_in_ems(line));
  for (const std::string& mark : made.marks) ems = std::max(ems, width_in_ems(mark) * 1.1);
  const std::size_t count = (made.head.empty() ? 0 : 1) + made.lines.size() + made.marks.size();
  made.width = std::max(90.0, ems * letter_size + 2 * (room_beside + (shape.what == What::question ? point_of_question : 0)));
  made.height = static_cast<double>(count) * line_height + 2 * room_above;
  return made;
}

std::vector<layout::Sketch> sketches(const Chart& chart) {
  std::vector<layout::Sketch> all;
  for (const Band& band : chart.bands) {
    layout::Sketch sketch;
    for (const Shape& shape : band.shapes) {
      const Lettered size = lettered(shape);
      layout::Box box;
      box.width = size.width;
      box.height = size.height;
      if (shape.what == What::entry) box.stands = layout::Stands::first;
      if (shape.what == What::onward) box.stands = layout::Stands::last;
      sketch.boxes.push_back(box);
    }
    for (const Way& way : band.ways) {
      layout::Line line{way.from, way.to, 0, 0, way.is_main};
      // Few lines of type; a condition stands in the question and not beside the way.
      const auto lines = wrapped(way.label, widest_label(way));
      for (const std::string& each : lines) line.label_width = std::max(line.label_width, width_in_ems(each) * letter_size + 6);
      line.label_height = static_cast<double>(lines.size()) * line_height;
      sketch.lines.push_back(line);
      if (way.is_main) sketch.boxes[way.from].on_main_way = sketch.boxes[way.to].on_main_way = true;
    }
    all.push_back(std::move(sketch));
  }
  return all;
}

}  // namespace stepward::emit::flow_chart
