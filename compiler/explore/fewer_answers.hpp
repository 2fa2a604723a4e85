#pragma once
// The same finding, on a run on which less is found and answered on the way.
//
// A shortest run goes where the course is shortest. Soil that will not come off sends everybody out at once, so a visor that swings into the face
// comes to harm soonest there; but it does so on any day, and whoever reads of the soil looks for what it has to do with the visor.
//
//     shortest     … (4) sharp in it: no · (23) soil · (23) soil · (32a) out to the edge · (47) the visor swings
//     told         … (47) the visor swings
//
// Each answer of the run that is not the ordinary one is tried the ordinary way. From there the run is followed again: where it stood before, it does
// what it did before, and anywhere else the ordinary thing. If it comes to the same finding, and to nothing before that would have ended it, then the
// answer said nothing of the finding, and this run is told. It is a run like any other, only longer; how long the shortest is stays what it was.

#include <cstdint>
#include <vector>

#include "effects/system.hpp"
#include "explore/deviation.hpp"

namespace stepward::explore {

/// `run`: packed edges from the state `start` to the packed report `wanted`, slips among them. A run on which something interrupts is given back.
std::vector<std::uint32_t> with_fewer_answers(const effects::System& system, const Packed& packed, const Signs& signs, const std::uint64_t* start,
                                              std::vector<std::uint32_t> run, std::uint32_t wanted);

}  // namespace stepward::explore
