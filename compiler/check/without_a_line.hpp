#pragma once
// Which rules break when one line of a run is left out, and is anything else at fault then?
//
// Every place where a line is done gets one more edge that does nothing and goes on behind the line; a field of two
// values lets each run take one such edge at most. So one walk holds every run with one line left out, whichever it is.
// A run is cut where something is at fault that needs no rule; rules only report. No interruption strikes.

#include <vector>

#include "check/verdict.hpp"

namespace stepward::check {

struct Omission {
  model::RuleId rule;
  bool alone = false;  ///< on some run with a line left out, the rule is broken and nothing else is at fault by then
};

/// The rules among those `wanted` (by position) that some single line left out breaks.
std::vector<Omission> broken_without_a_line(const model::Protocol& protocol, const std::vector<bool>& wanted, const model::Variant& variant, const Options& options);

}  // namespace stepward::check
