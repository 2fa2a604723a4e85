// Figures as SVG inside of the page.

#include <cmath>

#include <fmt/format.h>

#include "emit/xhtml/block_writer.hpp"

namespace stepward::emit::xhtml {

namespace {

std::string to_tenth(double number) {
  std::string text = fmt::format("{:.1f}", number);
  if (text.size() > 2 && text.compare(text.size() - 2, 2, ".0") == 0) text.resize(text.size() - 2);
  return text == "-0" ? "0" : text;
}

std::string point(const Figure::Point& p) { return to_tenth(p.x) + " " + to_tenth(p.y); }

std::string path_of(const Figure::Stroke& stroke) {
  std::string d = "M" + point(stroke.points[0]);
  for (std::size_t i = 1; i < stroke.points.size(); ++i)
    d += (stroke.curved ? (i % 3 == 1 ? "C" : " ") : "L") + point(stroke.points[i]);
  return stroke.closed ? d + "Z" : d;
}

/// Three corners: the point of an arrow, along the last piece of its line. Empty: that has no direction.
std::string arrow_of(const std::vector<Figure::Point>& points) {
  const Figure::Point tip = points.back();
  Figure::Point from = points[points.size() - 2];
  for (std::size_t i = points.size() - 1; i-- > 0 && from.x == tip.x && from.y == tip.y;) from = points[i];
  const double length = std::hypot(tip.x - from.x, tip.y - from.y);
  if (length == 0) return {};
  const double x = 7 * (tip.x - from.x) / length, y = 7 * (tip.y - from.y) / length, wide = 3.0 / 7;
  return "M" + point(tip) + "L" + point({tip.x - x - wide * y, tip.y - y + wide * x}) + "L" + point({tip.x - x + wide * y, tip.y - y - wide * x}) + "Z";
}

const char* colour_of(Figure::Fill fill) {
  switch (fill) {
    case Figure::Fill::none: return "none";
    case Figure::Fill::white: return "#fff";
    case Figure::Fill::black: return "#000";
  }
  return "none";
}

void add_stroke(pugi::xml_node svg, const Figure::Stroke& stroke) {
  pugi::xml_node path = add(svg, "path");
  set(path, "d", path_of(stroke));
  set(path, "fill", colour_of(stroke.fill));
  set(path, "stroke", "#000");
  set(path, "stroke-width", to_tenth(stroke.line));
  if (stroke.dashed) set(path, "stroke-dasharray", "5 3");
  const std::string tip = stroke.arrow ? arrow_of(stroke.points) : std::string();
  if (!tip.empty()) set(add(svg, "path"), "d", tip);
}

}  // namespace

void BlockWriter::put(const Figure& block) {
  pugi::xml_node svg = add(add(places_.outside_of_lists(), "p", "drawing"), "svg");
  set(svg, "xmlns", "http://www.w3.org/2000/svg");
  set(svg, "viewBox", "0 0 " + to_tenth(block.width) + " " + to_tenth(block.height));
  set(svg, "width", to_tenth(block.width));
  set(svg, "role", "img");
  add_words(svg, "title", "", block.told);
  for (const Figure::Stroke& stroke : block.strokes) add_stroke(svg, stroke);
  for (const Figure::Words& words : block.words) {
    pugi::xml_node text = add(svg, "text");
    set(text, "x", to_tenth(words.middle));
    set(text, "y", to_tenth(words.foot));
    set(text, "text-anchor", "middle");
    set(text, "font-size", "12");
    if (words.strong) set(text, "font-weight", "bold");
    if (words.white) set(text, "fill", "#fff");
    text.append_child(pugi::node_pcdata).set_value(clean(words.text).c_str());
  }
}

}  // namespace stepward::emit::xhtml
