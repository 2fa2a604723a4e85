#pragma once
// Where everything of one chart lies in its BPMN diagram: pools one below the other, lanes in them, phases side by side.
//
// Each band was placed by itself. Lanes of one pool get the height of the tallest band, and what was placed in a band is
// moved with its lane; corners of a way that lie between two lanes are moved in proportion, so that ways stay whole.

#include <string>
#include <vector>

#include "emit/flow_chart/drawn.hpp"

namespace stepward::emit::bpmn {

using flow_chart::Band;
using flow_chart::Chart;
using flow_chart::PlacedChart;
using flow_chart::Shape;
using flow_chart::Way;
using layout::Area;
using layout::Point;

/// Which people have a lane in a band, by their position in `Chart::people`, and the lane of each shape.
struct Lanes {
  std::vector<std::size_t> people;
  std::vector<std::size_t> of_shapes;  ///< positions in `people`
};
/// `band` with the others of its pool: all phases, or a box by itself.
Lanes lanes_of(const Chart& chart, const Band& band);

/// How large a shape is drawn; a point that only ways pass has no extent.
layout::Box size_of(const Shape& shape, bool first_of_pool);

struct LanePlace { std::string name; Area area; };
struct BandPlace {
  std::vector<Area> shapes;
  std::vector<std::vector<Point>> ways;
  std::vector<Point> labels;           ///< of ways
  Area frame;                          ///< around the band
};
struct PoolPlace {
  Area area;
  std::vector<LanePlace> lanes;
  std::vector<std::size_t> bands;      ///< in order
  Area at_any_time;                    ///< of the course: the lane of interruptions; empty: there are none
};
struct Places {
  std::vector<PoolPlace> pools;        ///< the course, then the boxes
  std::vector<BandPlace> bands;        ///< as in the chart
};

Places places_of(const PlacedChart& placed);

}  // namespace stepward::emit::bpmn
