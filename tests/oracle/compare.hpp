#pragma once
// The two walks side by side.

#include <string>
#include <tuple>
#include <vector>

#include "check/verdict.hpp"
#include "trial.hpp"

namespace stepward::oracle {

/// What both walks can say of a finding: its code, the line (none: between lines or at an ending), the thing or the
/// rule's number, and the length of the shortest run to it.
struct Common {
  std::string code, line, about;
  int steps = 0;
  auto tied() const { return std::tie(code, line, about, steps); }
  friend bool operator<(const Common& a, const Common& b) { return a.tied() < b.tied(); }
  friend bool operator==(const Common& a, const Common& b) { return a.tied() == b.tied(); }
};

std::vector<Common> slow_findings(const Protocol& protocol, const Result& result);
/// `tamper` plants a fault in the fast walk; without one it is as users have it.
std::vector<Common> fast_findings(const Protocol& protocol, const Variant& variant, bool reduce,
                                  const check::Tamper& tamper = {});

/// The disagreement in words, or empty when both say the same.
std::string disagreement(const std::vector<Common>& slow, const std::vector<Common>& fast);

}  // namespace stepward::oracle
