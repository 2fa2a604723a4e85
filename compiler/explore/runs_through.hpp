#pragma once
// How many runs meet a report? The walk keeps the first one only; here every step that meets it is found again, and the
// runs through such steps are counted.

#include "explore/walk.hpp"

namespace stepward::explore {

/// A step that meets a wanted report.
struct Met {
  std::uint32_t report = 0;     ///< its number in the packed system
  std::uint32_t successor = 0;  ///< the step's position in `successors`
  bool cut = false;             ///< some report on it ends the run there
};

/// All steps that meet a report of which `wanted`, by its number in the packed system, says yes; in the order of the steps.
std::vector<Met> steps_that_meet(const Packed& packed, const Result& result, const std::vector<bool>& wanted);

/// How many different runs take one of these steps, given by position in `successors` and in order.
double runs_through(const Result& result, const std::vector<std::uint32_t>& steps);

}  // namespace stepward::explore
