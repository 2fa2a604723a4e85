#pragma once
// Places the bands of flow charts. Variants share most of their phases, and what is the same is placed once: the library that
// places boxes is the slowest part of drawing.

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "emit/flow_chart/drawn.hpp"
#ifdef STEPWARD_WITH_LAYOUT
#include "emit/layout/layered.hpp"
#endif

namespace stepward::driver {

/// Not to be used by two threads at a time.
class BandPlacer {
 public:
  /// A drawing for each sketch, in their order. None: this build cannot place boxes, or the library that does gave up; `why` says it.
  std::optional<std::vector<emit::layout::Drawing>> place(const std::vector<emit::layout::Sketch>& sketches, std::string& why);

#ifdef STEPWARD_WITH_LAYOUT
 private:
  emit::layout::Layered library_;
  std::vector<std::pair<emit::layout::Sketch, emit::layout::Drawing>> placed_;
#endif
};

}  // namespace stepward::driver
