#include "emit/bpmn/places.hpp"

#include <algorithm>

#include "emit/bpmn/bpmn.hpp"
#include "emit/bpmn/catches.hpp"
#include "emit/flow_chart/lettering.hpp"

namespace stepward::emit::bpmn {
namespace {

using What = Shape::What;
using layout::Drawing;

constexpr double pool_head = 30, lane_head = 30, around = 24, between_pools = 40, task_width = 140, task_height = 84;

std::vector<std::size_t> bands_of(const Chart& chart, Band::What what) {
  std::vector<std::size_t> all;
  for (std::size_t i = 0; i < chart.bands.size(); ++i) {
    if (chart.bands[i].what == what) all.push_back(i);
  }
  return all;
}

bool has_step_of(const Band& band, const std::string& person) {
  return std::any_of(band.shapes.begin(), band.shapes.end(), [&](const Shape& s) { return s.what == What::step && s.who == person; });
}

/// Where a height of a band goes when its lanes are stretched to those of the pool.
class Stretch {
 public:
  Stretch(const std::vector<Area>& from, const std::vector<Area>& to) : from_(from), to_(to) {}

  double operator()(double y) const {
    for (std::size_t lane = 0; lane < from_.size(); ++lane) {
      if (y > from_[lane].bottom && lane + 1 < from_.size() && y >= from_[lane + 1].top) continue;
      if (y <= from_[lane].bottom || lane + 1 == from_.size()) return to_[lane].top + (to_[lane].bottom - to_[lane].top - height(lane)) / 2 + y - from_[lane].top;
      return to_[lane].bottom;
    }
    return y;
  }

 private:
  double height(std::size_t lane) const { return from_[lane].bottom - from_[lane].top; }
  const std::vector<Area>& from_;
  const std::vector<Area>& to_;
};

class PlaceMaker {
 public:
  explicit PlaceMaker(const PlacedChart& placed) : placed_(placed), chart_(placed.chart) { places_.bands.resize(chart_.bands.size()); }

  Places make() {
    pool(bands_of(chart_, Band::What::phase), true);
    for (const std::size_t box : bands_of(chart_, Band::What::box)) pool({box}, false);
    double width = 0;
    for (const PoolPlace& pool : places_.pools) width = std::max(width, pool.area.right);
    for (PoolPlace& pool : places_.pools) {
      pool.area.right = width;
      for (LanePlace& lane : pool.lanes) lane.area.right = width;
      if (pool.at_any_time.bottom > 0) pool.at_any_time.right = width;
    }
    return std::move(places_);
  }

 private:
  void pool(const std::vector<std::size_t>& bands, bool is_course) {
    if (bands.empty()) return;
    const Lanes lanes = lanes_of(chart_, chart_.bands[bands.front()]);
    PoolPlace pool;
    pool.bands = bands;
    pool.area = {0, y_, 0, y_};
    std::vector<Area> areas;
    for (std::size_t lane = 0; lane < lanes.people.size(); ++lane) {
      double height = 60;
      for (const std::size_t band : bands) {
        const Area& area = placed_.bands[band].lanes[lane];
        height = std::max(height, area.bottom - area.top + 16);
      }
      areas.push_back({pool_head, pool.area.bottom, 0, pool.area.bottom + height});
      pool.lanes.push_back({chart_.people.empty() ? "" : chart_.people[lanes.people[lane]], areas.back()});
      pool.area.bottom += height;
    }
    double x = pool_head + lane_head + around;
    for (const std::size_t band : bands) x = put_band(band, x, areas) + around;
    pool.area.right = x;
    if (is_course) put_interruptions(pool);
    y_ = pool.area.bottom + between_pools;
    places_.pools.push_back(std::move(pool));
  }

  double put_band(std::size_t band, double x, const std::vector<Area>& areas) {
    const Drawing& drawing = placed_.bands[band];
    const Stretch stretch(drawing.lanes, areas);
    const auto moved = [&](Point p) { return Point{p.x + x, stretch(p.y)}; };
    fill(band, moved);
    // Names of gateways stand below them, so the frame of a phase keeps within its lanes by a little.
    places_.bands[band].frame = {x - around / 2, areas.front().top + 4, x + drawing.width + around / 2, areas.back().bottom - 4};
    return x + drawing.width;
  }

  /// All interruptions side by side, under the lanes.
  void put_interruptions(PoolPlace& pool) {
    const auto breaches = bands_of(chart_, Band::What::breach);
    if (breaches.empty()) return;
    const double top = pool.area.bottom;
    double x = pool_head + lane_head + around, bottom = top;
    for (const std::size_t breach : breaches) {
      const Drawing& drawing = placed_.bands[breach];
      const double inner = top + 2 * around + 16;
      fill(breach, [&](Point p) { return Point{p.x + x + around, p.y + inner}; });
      places_.bands[breach].frame = {x, top + around, x + drawing.width + 2 * around, inner + drawing.height + around + 16};
      x = places_.bands[breach].frame.right + around;
      bottom = std::max(bottom, places_.bands[breach].frame.bottom + around);
    }
    pool.at_any_time = {pool_head, top, x, bottom};
    pool.area.bottom = bottom;
    pool.area.right = std::max(pool.area.right, x);
  }

  template <class Move>
  void fill(std::size_t band, Move&& moved) {
    const Drawing& drawing = placed_.bands[band];
    BandPlace& place = places_.bands[band];
    for (std::size_t i = 0; i < drawing.middles.size(); ++i) {
      const layout::Box size = size_of(chart_.bands[band].shapes[i], band == 0 || chart_.bands[band].what != Band::What::phase);
      const Point at = moved(drawing.middles[i]);
      place.shapes.push_back({at.x - size.width / 2, at.y - size.height / 2, at.x + size.width / 2, at.y + size.height / 2});
    }
    for (const layout::Route& route : drawing.routes) {
      std::vector<Point> points;
      for (const Point& point : route.points) points.push_back(moved(point));
      place.ways.push_back(std::move(points));
      place.labels.push_back(moved(route.label));
    }
  }

  const PlacedChart& placed_;
  const Chart& chart_;
  Places places_;
  double y_ = 0;
};

}  // namespace

Places places_of(const PlacedChart& placed) { return PlaceMaker(placed).make(); }

Lanes lanes_of(const Chart& chart, const Band& band) {
  Lanes lanes;
  if (band.what == Band::What::breach) return lanes;
  for (std::size_t p = 0; p < chart.people.size(); ++p) {
    const bool has_lane = band.what == Band::What::box
                              ? has_step_of(band, chart.people[p])
                              : std::any_of(chart.bands.begin(), chart.bands.end(), [&](const Band& b) { return b.what == Band::What::phase && has_step_of(b, chart.people[p]); });
    if (has_lane) lanes.people.push_back(p);
  }
  if (lanes.people.empty()) lanes.people.push_back(0);
  // What nobody does stands in the lane of the line before it; before the first line, in that of the first.
  std::size_t lane = 0;
  const auto lane_of_person = [&](const std::string& who) {
    for (std::size_t i = 0; i < lanes.people.size() && !chart.people.empty(); ++i) {
      if (chart.people[lanes.people[i]] == who) return i;
    }
    return std::size_t{0};
  };
  const auto first = std::find_if(band.shapes.begin(), band.shapes.end(), [](const Shape& s) { return s.what == What::step; });
  if (first != band.shapes.end()) lane = lane_of_person(first->who);
  for (const Shape& shape : band.shapes) {
    if (shape.what == What::step) lane = lane_of_person(shape.who);
    lanes.of_shapes.push_back(lane);
  }
  return lanes;
}

layout::Box size_of(const Shape& shape, bool first_of_pool) {
  using layout::Outline;
  switch (shape.what) {
    case What::entry: return first_of_pool ? layout::Box{36, 36, Outline::circle, layout::Stands::first} : layout::Box{1, 1, Outline::rectangle, layout::Stands::first};
    case What::onward: return {1, 1, Outline::rectangle, layout::Stands::last};
    case What::step:
    case What::box: {
      // A long text makes the task higher, so that nothing of it is cut.
      const auto lines = flow_chart::wrapped(shape.number + " " + shape.text, 10.5);
      return {task_width, std::max(task_height, 16.0 + 15.0 * static_cast<double>(lines.size()))};
    }
    case What::question:
    case What::fork:
    case What::join: return {50, 50, Outline::diamond};
    case What::ending:
    case What::resume:
    case What::back:
    case What::loose_end: return {36, 36, Outline::circle};
  }
  return {};
}

std::vector<layout::Sketch> sketches(const Chart& said) {
  const Chart chart = with_catches(said);
  std::vector<layout::Sketch> all;
  for (std::size_t b = 0; b < chart.bands.size(); ++b) {
    const Band& band = chart.bands[b];
    layout::Sketch sketch;
    sketch.flow = layout::Sketch::Flow::right;
    sketch.curved = false;
    const Lanes lanes = lanes_of(chart, band);
    sketch.lanes = lanes.people.size();
    for (std::size_t i = 0; i < band.shapes.size(); ++i) {
      sketch.boxes.push_back(size_of(band.shapes[i], b == 0 || band.what != Band::What::phase));
      if (!lanes.of_shapes.empty()) sketch.boxes.back().lane = lanes.of_shapes[i];
    }
    for (const Way& way : band.ways) {
      layout::Line line{way.from, way.to, 0, 0, way.is_main};
      if (!way.label.empty()) {
        line.label_width = flow_chart::width_in_ems(way.label) * 11 + 6;
        line.label_height = 14;
      }
      sketch.lines.push_back(line);
    }
    all.push_back(std::move(sketch));
  }
  return all;
}

}  // namespace stepward::emit::bpmn
