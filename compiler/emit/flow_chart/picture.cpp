#include "emit/flow_chart/picture.hpp"

namespace stepward::emit::flow_chart {

Ink ink_of(Look look) {
  switch (look) {
    case Look::band: return {1, 0.35, 1.2, 0, 0};
    case Look::strip: return {0.86, 0.35, 1.2, 0, 0};
    case Look::breach_band: return {1, 0, 2, 8, 4};
    case Look::breach_strip: return {0, 0, 1, 0, 0};
    case Look::shape: return {1, 0, 1, 0, 0};
    case Look::heavy: return {1, 0, 3, 0, 0};
    case Look::question: return {1, 0, 1.5, 0, 0};
    case Look::black: return {0, 0, 1, 0, 0};
    case Look::way: return {-1, 0, 1, 0, 0};
    case Look::main_way: return {-1, 0, 2.2, 0, 0};
    case Look::back_way: return {-1, 0, 1, 5, 3};
    case Look::mark: return {1, 0, 1.5, 0, 0};
    case Look::rule: return {-1, 0.35, 1.2, 0, 0};
  }
  return {};
}

Lettering type_of(Type type) {
  switch (type) {
    case Type::plain: return {12, false, false};
    case Type::strong: return {12, true, false};
    case Type::small: return {10, false, false};
    case Type::band_title: return {15, true, false};
    case Type::chart_title: return {20, true, false};
    case Type::plain_on_black: return {12, false, true};
    case Type::title_on_black: return {15, true, true};
  }
  return {};
}

Mark rectangle(Look look, double left, double top, double width, double height, double round) {
  Mark mark;
  mark.what = Mark::What::rectangle;
  mark.look = look;
  mark.points = {{left, top}, {width, height}};
  mark.round = round;
  return mark;
}

Mark disc(Look look, Point middle, double radius) {
  Mark mark;
  mark.what = Mark::What::disc;
  mark.look = look;
  mark.points = {middle, {radius, radius}};
  return mark;
}

Mark words(Type type, Point at, std::string text, bool in_the_middle) {
  Mark mark;
  mark.type = type;
  mark.points = {at};
  mark.text = std::move(text);
  mark.in_the_middle = in_the_middle;
  return mark;
}

Mark line(Look look, std::vector<Point> points, bool arrow) {
  Mark mark;
  mark.what = Mark::What::line;
  mark.look = look;
  mark.points = std::move(points);
  mark.arrow = arrow;
  return mark;
}

void move_by(Mark& mark, double x, double y) {
  const bool has_extent = mark.what == Mark::What::rectangle || mark.what == Mark::What::disc;
  const std::size_t count = has_extent ? 1 : mark.points.size();
  for (std::size_t i = 0; i < count; ++i) mark.points[i] = {mark.points[i].x + x, mark.points[i].y + y};
}

}  // namespace stepward::emit::flow_chart
