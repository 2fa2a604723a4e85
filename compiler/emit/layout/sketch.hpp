#pragma once
// What is to be placed, and where it then stands: the two sides of a layout, as plain data.
//
// A `Sketch` says how large each box is and which boxes are joined; it knows no text, font or file format. A `Drawing`
// answers it position by position: box i of the sketch has its middle at `middles[i]`, line j runs along `routes[j]`.
// Both are owned by whoever asked. Lengths are points (1/72 inch), x grows to the right and y downwards.
//
// Only `library.hpp` needs a layout library; everything that makes a sketch or reads a drawing builds without one.

#include <cstddef>
#include <string>
#include <vector>

namespace stepward::emit::layout {

struct Point { double x = 0, y = 0; };

/// Where a box has to stand in the direction of the flow: anywhere, before all others, or behind them.
enum class Stands { anywhere, first, last };
enum class Outline { rectangle, diamond, circle };

struct Box {
  double width = 0, height = 0;
  Outline outline = Outline::rectangle;
  Stands stands = Stands::anywhere;
  std::size_t lane = 0;       ///< which lane it lies in; without meaning if the sketch has no lanes
  bool on_main_way = false;   ///< boxes of the main way stand in line as far as possible
  friend bool operator==(const Box&, const Box&) = default;
};

struct Line {
  std::size_t from = 0, to = 0;
  double label_width = 0, label_height = 0;  ///< room for a label; 0: none
  bool on_main_way = false;
  friend bool operator==(const Line&, const Line&) = default;
};

struct Sketch {
  enum class Flow { down, right } flow = Flow::down;
  bool curved = true;         ///< false: routes are straight pieces
  std::size_t lanes = 0;      ///< lanes lie beside the flow in their order, from its begin to its end; 0: there are none
  std::vector<Box> boxes;
  std::vector<Line> lines;
  friend bool operator==(const Sketch&, const Sketch&) = default;
};

/// A curved route is a chain of cubic Bézier pieces (1, 4, 7… points), a straight one a chain of corners.
struct Route {
  std::vector<Point> points;
  Point label;                ///< middle of the room for the label
};

struct Area { double left = 0, top = 0, right = 0, bottom = 0; };

struct Drawing {
  double width = 0, height = 0;
  std::vector<Point> middles;
  std::vector<Route> routes;
  std::vector<Area> lanes;
};

}  // namespace stepward::emit::layout
