#include "driver/band_placer.hpp"

#include <algorithm>
#include <iterator>

namespace stepward::driver {

#ifdef STEPWARD_WITH_LAYOUT

std::size_t BandPlacer::position_of(const emit::layout::Sketch& sketch) const {
  return static_cast<std::size_t>(std::find(sketches_.begin(), sketches_.end(), sketch) - sketches_.begin());
}

std::optional<std::vector<emit::layout::Drawing>> BandPlacer::place(const std::vector<emit::layout::Sketch>& sketches, std::string& why) {
  const auto known = static_cast<std::ptrdiff_t>(sketches_.size());
  for (const emit::layout::Sketch& sketch : sketches)
    if (position_of(sketch) == sketches_.size()) sketches_.push_back(sketch);
  auto placed = place_layered({sketches_.begin() + known, sketches_.end()}, why);
  if (!placed) {
    sketches_.erase(sketches_.begin() + known, sketches_.end());
    return std::nullopt;
  }
  for (emit::layout::Drawing& each : *placed) drawings_.push_back(std::move(each));
  std::vector<emit::layout::Drawing> drawings;
  for (const emit::layout::Sketch& sketch : sketches) drawings.push_back(drawings_[position_of(sketch)]);
  return drawings;
}

#else

std::optional<std::vector<emit::layout::Drawing>> BandPlacer::place(const std::vector<emit::layout::Sketch>&, std::string& why) {
  why = "this stepward was built without the library that places boxes; --as dot needs none";
  return std::nullopt;
}

#endif

std::optional<std::vector<emit::flow_chart::PlacedChart>> BandPlacer::place_charts(const std::vector<emit::flow_chart::Chart>& charts,
                                                                                  std::vector<emit::layout::Sketch> (*sketches)(const emit::flow_chart::Chart&), std::string& why) {
  std::vector<emit::layout::Sketch> all;
  std::vector<std::size_t> counts;
  for (const emit::flow_chart::Chart& chart : charts) {
    std::vector<emit::layout::Sketch> here = sketches(chart);
    counts.push_back(here.size());
    std::move(here.begin(), here.end(), std::back_inserter(all));
  }
  auto drawings = place(all, why);
  if (!drawings) return std::nullopt;
  std::vector<emit::flow_chart::PlacedChart> placed;
  auto next = drawings->begin();
  for (std::size_t c = 0; c < charts.size(); ++c) {
    const auto end = next + static_cast<std::ptrdiff_t>(counts[c]);
    placed.push_back({charts[c], {std::make_move_iterator(next), std::make_move_iterator(end)}});
    next = end;
  }
  return placed;
}

}  // namespace stepward::driver
