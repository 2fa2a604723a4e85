#include "emit/pdf/galley.hpp"

#include <algorithm>

namespace stepward::emit::pdf {

namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double roundness = 6;

/// A frame with round corners; the one at the top where lines begin may stay square, pointing back at the step it hangs on.
void trace_round(cairo_t* c, const Ink& ink, double x, double y, bool square_corner) {
  const double r = std::min(roundness, std::min(ink.height, ink.width) / 2);
  const double right = x + ink.width, below = y + ink.height;
  cairo_new_path(c);
  if (square_corner && !ink.mirrored)
    cairo_move_to(c, x, y);
  else
    cairo_arc(c, x + r, y + r, r, pi, 1.5 * pi);
  if (square_corner && ink.mirrored)
    cairo_line_to(c, right, y);
  else
    cairo_arc(c, right - r, y + r, r, -0.5 * pi, 0);
  cairo_arc(c, right - r, below - r, r, 0, 0.5 * pi);
  cairo_arc(c, x + r, below - r, r, 0.5 * pi, pi);
  cairo_close_path(c);
}

constexpr double diagonal = 1.41421356237309505;  // lines at 45 degrees are so much nearer than along the edge

void draw_hatch(cairo_t* c, const Ink& ink, double x, double y) {
  cairo_save(c);
  cairo_rectangle(c, x, y, ink.width, ink.height);
  cairo_clip(c);
  cairo_set_line_width(c, ink.thick / diagonal);
  for (double at = x - ink.height; at < x + ink.width + ink.height; at += ink.line) {
    cairo_move_to(c, at, y + ink.height);
    cairo_line_to(c, at + ink.height, y);
  }
  cairo_stroke(c);
  cairo_restore(c);
}

void draw_shape(cairo_t* c, const Ink& ink, double x, double y) {
  cairo_set_source_rgb(c, ink.shade, ink.shade, ink.shade);
  cairo_set_line_width(c, ink.line);
  switch (ink.what) {
    case Ink::What::text: break;
    case Ink::What::rule:
    case Ink::What::bar:
      cairo_rectangle(c, x, y, ink.width, ink.height);
      cairo_fill(c);
      break;
    case Ink::What::frame:
      cairo_rectangle(c, x, y, ink.width, ink.height);
      cairo_stroke(c);
      break;
    case Ink::What::round_frame:
      trace_round(c, ink, x, y, false);
      cairo_stroke(c);
      break;
    case Ink::What::corner_frame:
      trace_round(c, ink, x, y, true);
      cairo_stroke(c);
      break;
    case Ink::What::disc: {
      const double r = ink.height / 2;
      cairo_new_path(c);
      cairo_arc(c, x + r, y + r, r, 0.5 * pi, 1.5 * pi);
      cairo_arc(c, x + ink.width - r, y + r, r, -0.5 * pi, 0.5 * pi);
      cairo_fill(c);
      break;
    }
    case Ink::What::hatch: draw_hatch(c, ink, x, y); break;
    case Ink::What::picture:
      cairo_set_source_surface(c, ink.picture.get(), x, y);
      cairo_rectangle(c, x, y, ink.width, ink.height);
      cairo_fill(c);
      break;
  }
}

void draw_text(cairo_t* c, const Ink& ink, double x, double y) {
  const double shade = ink.white ? 1 : ink.shade;
  cairo_set_source_rgb(c, shade, shade, shade);
  cairo_tag_begin(c, ink.tag, nullptr);
  cairo_move_to(c, x, y);
  pango_cairo_show_layout(c, ink.layout.get());
  cairo_tag_end(c, ink.tag);
}

}  // namespace

double Galley::text(double x, double y, Layout layout, const char* tag, bool white) {
  Ink ink;
  ink.x = x;
  ink.y = y;
  const Extent extent = Typesetter::extent(layout);
  ink.layout = std::move(layout);
  ink.white = white;
  ink.tag = tag;
  inks.push_back(std::move(ink));
  return extent.height;
}

void Galley::rule(double x, double y, double wide, double line, double shade) {
  Ink ink;
  ink.what = Ink::What::rule;
  ink.x = x;
  ink.y = y;
  ink.width = wide;
  ink.height = line;
  ink.shade = shade;
  inks.push_back(std::move(ink));
}

void Galley::picture(double x, double y, double wide, double high, Picture picture) {
  Ink ink;
  ink.what = Ink::What::picture;
  ink.x = x;
  ink.y = y;
  ink.width = wide;
  ink.height = high;
  ink.picture = std::move(picture);
  inks.push_back(std::move(ink));
}

void Galley::shape(Ink::What what, double x, double y, double wide, double high, double line) {
  Ink ink;
  ink.what = what;
  ink.x = x;
  ink.y = y;
  ink.width = wide;
  ink.height = high;
  ink.line = line;
  inks.push_back(std::move(ink));
}

void Galley::hatch(double x, double y, double wide, double high, double apart, double thick) {
  shape(Ink::What::hatch, x, y, wide, high, apart);
  inks.back().thick = thick;
}

void mirror(Galley& galley, double width) {
  for (Ink& ink : galley.inks) {
    double wide = ink.width;
    if (ink.what == Ink::What::text) {
      const int set = pango_layout_get_width(ink.layout.get());
      wide = set < 0 ? Typesetter::extent(ink.layout).width : static_cast<double>(set) / PANGO_SCALE;
    }
    ink.x = width - ink.x - wide;
    ink.mirrored = true;
  }
}

void draw(cairo_t* c, const Galley& galley, double x, double y) {
  const char* outer = galley.list_item ? "L" : galley.table_row ? "Table" : nullptr;
  const char* inner = galley.list_item ? "LI" : "TR";
  if (outer) {
    cairo_tag_begin(c, outer, nullptr);
    cairo_tag_begin(c, inner, nullptr);
  }
  for (const Ink& ink : galley.inks) {
    if (ink.what == Ink::What::text)
      draw_text(c, ink, x + ink.x, y + ink.y);
    else
      draw_shape(c, ink, x + ink.x, y + ink.y);
  }
  if (outer) {
    cairo_tag_end(c, inner);
    cairo_tag_end(c, outer);
  }
}

}  // namespace stepward::emit::pdf
