#pragma once
// The flow charts of a review dossier: those that `graph --as svg` draws, laid out for one paper.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "driver/band_placer.hpp"
#include "driver/pipeline.hpp"
#include "emit/flow_chart/drawn.hpp"

namespace stepward::driver {

/// Whether a chart says at which answers no run comes by. `graph --as svg`, which walks nothing, cannot.
enum class NeverTaken : std::uint8_t { is_told, is_not_told };

/// Of every variant, in the words of `spoken`, with the places of their shapes. None: this build cannot place boxes, or the library that
/// does gave up; `why` says it. Not to be called by two threads at a time.
std::optional<std::vector<emit::flow_chart::PlacedChart>> dossier_charts(const model::Protocol& spoken, const Compilation& made, NeverTaken never,
                                                                         BandPlacer& placer, std::string& why);

}  // namespace stepward::driver
