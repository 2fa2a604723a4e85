#pragma once
// The chart as other software and people get it, and how large its shapes are.
//
// `sketches` says what is to be placed, one sketch a band; whoever has a layout library places them; `as_svg` draws the
// chart with what came back on one sheet (sheets.hpp, which also cuts it to pages). DOT needs no places: whoever reads it lays
// it out.

#include <string>
#include <vector>

#include "emit/flow_chart/chart.hpp"
#include "emit/layout/sketch.hpp"

namespace stepward::emit::flow_chart {

/// A chart and where the shapes of each of its bands stand.
struct PlacedChart {
  Chart chart;
  std::vector<layout::Drawing> bands;
};

/// What stands in a shape, in lines: the number with the doer, the text, the time.
struct Lettered {
  std::string head;                 ///< "12 Observer"; may be empty
  std::vector<std::string> lines;
  std::vector<std::string> marks;   ///< "CRITICAL", "1 min"
  double width = 0, height = 0;     ///< of the whole shape
};
Lettered lettered(const Shape& shape);

constexpr double letter_size = 12, line_height = 15;

/// How wide the words beside a way may become before they are broken into lines, in ems. A way back says more than an answer.
inline double widest_label(const Way& way) { return way.goes_back ? 13 : 9; }

std::vector<layout::Sketch> sketches(const Chart& chart);

/// One SVG 1.1 picture: variants from left to right; of each, in columns, the phases, the boxes, and apart what may happen at
/// any time. Its width and height are in points. Texts are texts; title and description are given for those who do not see it.
std::string as_svg(const std::vector<PlacedChart>& charts);

/// A digraph for each variant, a cluster for each band.
std::string as_dot(const std::vector<Chart>& charts);

}  // namespace stepward::emit::flow_chart
