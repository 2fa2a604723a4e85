#pragma once
// Places the bands of flow charts. Variants share most of their phases, and what is the same is placed once: the library that
// places boxes is the slowest part of drawing.

#include <optional>
#include <string>
#include <vector>

#include "driver/layered.hpp"
#include "emit/flow_chart/drawn.hpp"

namespace stepward::driver {

/// Not to be used while another thread runs: it starts processes.
class BandPlacer {
 public:
  /// A drawing for each sketch, in their order. None: this build cannot place boxes, or the library that does gave up; `why` says it.
  std::optional<std::vector<emit::layout::Drawing>> place(const std::vector<emit::layout::Sketch>& sketches, std::string& why);

  /// The same for charts that are sketched in this manner, all at once.
  std::optional<std::vector<emit::flow_chart::PlacedChart>> place_charts(const std::vector<emit::flow_chart::Chart>& charts,
                                                                        std::vector<emit::layout::Sketch> (*sketches)(const emit::flow_chart::Chart&), std::string& why);

#ifdef STEPWARD_WITH_LAYOUT
 private:
  /// How many sketches there are: it is none of them.
  std::size_t position_of(const emit::layout::Sketch& sketch) const;

  std::vector<emit::layout::Sketch> sketches_;
  std::vector<emit::layout::Drawing> drawings_;  ///< by position in `sketches_`
#endif
};

}  // namespace stepward::driver
