#pragma once
// The flow chart cut to figures that stand on a face each.
//
// A picture of all variants is metres high; a face is not. Each band becomes a figure, and one that is too high is cut into the same pieces as
// on the sheets of `graph --as svg` (flow_chart/pieces.hpp), with the same letters and words at each way that is cut; here their marks
// become lines and words at places. Letters begin anew in every band, so that what several variants draw alike is drawn once.

#include <vector>

#include "emit/document/document.hpp"
#include "emit/flow_chart/drawn.hpp"

namespace stepward::emit::dossier {

/// A part of a band, and the variants that it belongs to, from 1.
struct ChartFigure {
  std::string title;               ///< "A  Soil on the hands"; empty: the band goes on
  std::vector<std::size_t> variants;
  Figure figure;
};

/// Of all variants, phases first, then boxes, then what may happen at any time. `charts`: by variant.
std::vector<ChartFigure> chart_figures(const std::vector<flow_chart::PlacedChart>& charts);

}  // namespace stepward::emit::dossier
