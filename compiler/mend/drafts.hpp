#pragma once
// Changes that might clear a finding, the smallest and nearest first.
//
// A finding stands at a line, and mostly something is missing shortly before it. So new lines are tried in front of that
// line, then in front of the one before it, and so on out of its block and up into the phase before; lines that are there
// already are tried in another place; and a question is put around the line, or made two of one. Where the line belongs to
// a routine of the standard library, the places are those around the calls of it. `weight` adds up how far away a place is and
// how unlikely the line, and settles the order of search; `size` is what somebody has to type and settles what is shown first.

#include <cstdint>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "mend/change.hpp"
#include "mend/outline.hpp"

namespace stepward::mend {

struct Draft {
  Change change;
  std::uint32_t size = 0;      ///< lines to be typed; a line that is moved counts as one
  std::uint32_t distance = 0;  ///< statements between it and the finding
  std::uint32_t weight = 0;
};

/// What drafts are made from: a protocol as it was read.
struct Reading {
  const resolve::Loaded& loaded;
  const source::Files& files;
  const model::Protocol& protocol;
  const diagnostics::Sink& findings;
};

/// By weight; of equals the nearer one, then in the order of the text. `when_struck`: the finding needs an interruption.
std::vector<Draft> drafts_for(const diagnostics::Diagnostic& finding, const Reading& reading, bool when_struck);

}  // namespace stepward::mend
