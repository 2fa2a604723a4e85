// Figures: drawn once as a picture of their own, smaller where the face is narrower. The third half of block_setter.hpp.

#include <algorithm>
#include <cmath>

#include "emit/pdf/block_setter.hpp"

namespace stepward::emit::pdf {

namespace {

constexpr double wanted_scale = 2.0 / 3.0;  // letters of 12 points become 8, as in the foot
constexpr double least_letters = 7;         // points; what every face must carry has 7 and more
constexpr double figure_letters = 12, arrow_long = 7, arrow_wide = 3;

void fill_and_stroke(cairo_t* c, const Figure::Stroke& stroke) {
  if (stroke.fill != Figure::Fill::none) {
    const double shade = stroke.fill == Figure::Fill::white ? 1 : 0;
    cairo_set_source_rgb(c, shade, shade, shade);
    cairo_fill_preserve(c);
  }
  cairo_set_source_rgb(c, 0, 0, 0);
  cairo_set_line_width(c, stroke.line);
  const double dashes[] = {5, 3};
  cairo_set_dash(c, dashes, stroke.dashed ? 2 : 0, 0);
  cairo_stroke(c);
}

/// The point of an arrow, along the last piece of its line.
void draw_arrow(cairo_t* c, const std::vector<Figure::Point>& points) {
  const Figure::Point tip = points.back();
  Figure::Point from = points[points.size() - 2];
  for (std::size_t i = points.size() - 1; i-- > 0 && from.x == tip.x && from.y == tip.y;) from = points[i];
  const double length = std::hypot(tip.x - from.x, tip.y - from.y);
  if (length == 0) return;
  const double x = (tip.x - from.x) / length, y = (tip.y - from.y) / length;
  cairo_new_path(c);
  cairo_move_to(c, tip.x, tip.y);
  cairo_line_to(c, tip.x - arrow_long * x - arrow_wide * y, tip.y - arrow_long * y + arrow_wide * x);
  cairo_line_to(c, tip.x - arrow_long * x + arrow_wide * y, tip.y - arrow_long * y - arrow_wide * x);
  cairo_close_path(c);
  cairo_set_source_rgb(c, 0, 0, 0);
  cairo_fill(c);
}

void draw_stroke(cairo_t* c, const Figure::Stroke& stroke) {
  const auto& points = stroke.points;
  cairo_new_path(c);
  cairo_move_to(c, points[0].x, points[0].y);
  if (stroke.curved) {
    for (std::size_t i = 1; i + 2 < points.size(); i += 3)
      cairo_curve_to(c, points[i].x, points[i].y, points[i + 1].x, points[i + 1].y, points[i + 2].x, points[i + 2].y);
  } else {
    for (std::size_t i = 1; i < points.size(); ++i) cairo_line_to(c, points[i].x, points[i].y);
  }
  if (stroke.closed) cairo_close_path(c);
  fill_and_stroke(c, stroke);
  if (stroke.arrow) draw_arrow(c, points);
}

void draw_words(cairo_t* c, Typesetter& type, const Figure::Words& words) {
  const Layout layout = type.set(words.text, {figure_letters, words.strong ? 700 : 400}, -1);
  const double shade = words.white ? 1 : 0;
  cairo_set_source_rgb(c, shade, shade, shade);
  cairo_move_to(c, words.middle - Typesetter::extent(layout).width / 2, words.foot - Typesetter::baseline(layout));
  pango_cairo_show_layout(c, layout.get());
}

}  // namespace

Galley BlockSetter::set(const Figure& block) {
  const double scale = std::max(least_letters / figure_letters, std::min(wanted_scale, look_.text_width() / block.width));
  const double wide = block.width * scale, high = block.height * scale;
  const cairo_rectangle_t extents{0, 0, wide, high};
  const Picture picture(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extents), cairo_surface_destroy);
  cairo_t* c = cairo_create(picture.get());
  cairo_rectangle(c, 0, 0, wide, high);
  cairo_clip(c);
  cairo_scale(c, scale, scale);
  for (const Figure::Stroke& stroke : block.strokes) draw_stroke(c, stroke);
  for (const Figure::Words& words : block.words) draw_words(c, type_, words);
  cairo_destroy(c);
  Galley galley;
  galley.above = 4;
  galley.height = high;
  galley.picture(0, 0, wide, high, picture);
  return galley;
}

}  // namespace stepward::emit::pdf
