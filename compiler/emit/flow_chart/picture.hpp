#pragma once
// The chart as ink on a sheet: frames, curves and words with their places, and with no notion of a file format.
//
// Whoever makes a picture (sheets.hpp) says where every mark stands and how it looks; whoever puts it into a file (svg.cpp, a
// page of a dossier) draws mark by mark, in order, and asks `ink_of` and `type_of` for greys, widths and sizes. So both show the
// same, and neither has to know what a question is. Lengths are points (1/72 inch), y grows downwards.
//
// There is no colour: a chart has to survive a grey photocopy, so that what differs does so by shape, by frame and by word.

#include <cstdint>
#include <string>
#include <vector>

#include "emit/layout/sketch.hpp"

namespace stepward::emit::flow_chart {

using layout::Point;

enum class Look : std::uint8_t { band, strip, breach_band, breach_strip, shape, heavy, question, black, way, main_way, back_way, mark, rule };

/// Greys from 0 (black) to 1 (white); below 0: none.
struct Ink { double fill = -1, line = -1, width = 1, dash = 0, gap = 0; };
Ink ink_of(Look look);

enum class Type : std::uint8_t { plain, strong, small, band_title, chart_title, plain_on_black, title_on_black };

struct Lettering { double size = 12; bool bold = false, white = false; };
Lettering type_of(Type type);

struct Mark {
  enum class What : std::uint8_t {
    rectangle,  ///< left upper corner, then {width, height}
    disc,       ///< middle, then {radius, radius}
    polygon,    ///< its corners
    curve,      ///< a chain of cubic Bézier pieces: 1, 4, 7… points
    line,       ///< a chain of straight pieces
    words       ///< one line of text: where its base line begins, or the middle of it
  } what = What::words;
  Look look = Look::shape;
  std::vector<Point> points;
  double round = 0;           ///< rectangle: radius of its corners
  bool arrow = false;         ///< curve and line: a head at the end
  std::string text;
  Type type = Type::plain;
  bool in_the_middle = false; ///< words: around their point, not behind it
  std::string id;             ///< of the shape that it belongs to; empty: of none. Marks of one shape follow each other
};

struct Picture {
  double width = 0, height = 0;
  double scale = 1;           ///< by which everything is to be drawn smaller; width and height are those before
  std::vector<Mark> marks;
};

Mark rectangle(Look look, double left, double top, double width, double height, double round = 0);
Mark disc(Look look, Point middle, double radius);
Mark words(Type type, Point at, std::string text, bool in_the_middle = false);
Mark line(Look look, std::vector<Point> points, bool arrow);

void move_by(Mark& mark, double x, double y);

}  // namespace stepward::emit::flow_chart
