#pragma once
// SPAR-H: two nominal figures and eight shaping factors.
//
// Doing something has a nominal chance to fail of 0.001, working out what is the matter 0.01. Eight factors (time, stress,
// complexity, experience, procedures, ergonomics, fitness, work processes) each multiply it. With three or more factors above
// 1 the plain product can pass 1, and is drawn in:
//
//   two or fewer above 1: chance = N P, at most 1        three or more: chance = N P / (N (P - 1) + 1)
//
// Worked example: an action with factors 2, 2 and 3: the product is 0.012, the chance 0.012 / 1.011 = 0.01187. With 2 and 5, only two
// above 1, it is 0.01. A level such as "inadequate time" makes failure certain, whatever the rest.
// Nominal figures read (SPAR-H concept page); factors from a public re-encoding; the adjustment from there and from memory, which agree.

#include <vector>

#include "reliability/published.hpp"

namespace stepward::reliability {

enum class TaskKind : std::uint8_t { action, diagnosis };

/// The formula alone. Why::outside_0_to_1 or Why::not_positive.
Answer<double> shaped_chance(double nominal, const std::vector<double>& multipliers);

/// By the set: `levels` are names of figures without the kind ("stress high", "procedures poor"); a factor that is not named is
/// nominal. `spar_h` is a choice of SPAR-H-2005.
Answer<double> spar_h_chance(const Choice& spar_h, TaskKind kind, const std::vector<std::string>& levels);

/// The name of a level in the set: "action, stress high".
std::string spar_h_figure(TaskKind kind, std::string_view level);

}  // namespace stepward::reliability
