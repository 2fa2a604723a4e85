#pragma once
// The registers of a protocol: rules that are set aside in some place, steps of routines that it changes for itself, and
// slips that somebody answers for.
//
// Whoever signs a protocol answers for its exceptions, so the verdict lists each with its reason, who agreed, its day, and
// what the walk says of it: at which lines the rule is not kept, in how many variants, on how many runs.

#include <string>
#include <vector>

#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"

namespace stepward::driver {

/// "26 rules", and behind them, where there are any, how many are set aside in places and how many steps are changed.
std::string rules_counted(const Compilation& compilation, const model::Tongue& tongue = {});

/// The lines of all registers, each under its heading; empty where there are none.
std::string registers_text(const Compilation& compilation);

/// The same as data.
std::vector<diagnostics::Row> set_aside_rows(const Compilation& compilation);
std::vector<diagnostics::Row> local_change_rows(const Compilation& compilation);
std::vector<diagnostics::Row> answered_slip_rows(const Compilation& compilation);

}  // namespace stepward::driver
