#include "driver/band_placer.hpp"

#include <algorithm>

namespace stepward::driver {

#ifdef STEPWARD_WITH_LAYOUT

std::optional<std::vector<emit::layout::Drawing>> BandPlacer::place(const std::vector<emit::layout::Sketch>& sketches, std::string& why) {
  std::vector<emit::layout::Drawing> drawings;
  for (const emit::layout::Sketch& sketch : sketches) {
    const auto known = std::find_if(placed_.begin(), placed_.end(), [&](const auto& one) { return one.first == sketch; });
    if (known != placed_.end()) {
      drawings.push_back(known->second);
      continue;
    }
    auto drawing = library_.place(sketch, why);
    if (!drawing) return std::nullopt;
    placed_.emplace_back(sketch, std::move(*drawing));
    drawings.push_back(placed_.back().second);
  }
  return drawings;
}

#else

std::optional<std::vector<emit::layout::Drawing>> BandPlacer::place(const std::vector<emit::layout::Sketch>&, std::string& why) {
  why = "this stepward was built without the library that places boxes; --as dot needs none";
  return std::nullopt;
}

#endif

}  // namespace stepward::driver
