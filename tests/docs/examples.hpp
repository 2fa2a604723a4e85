#pragma once
// Checks sources held in memory from text to verdict.

#include <string>

#include "diagnostics/diagnostic.hpp"
#include "page.hpp"
#include "source/files.hpp"

namespace stepward::test {

struct Checked {
  source::Files files;
  diagnostics::Sink findings;   ///< in the order in which they are shown
};

/// Checks `example.ward` among `sources`; `today` may be empty.
Checked check_sources(const SourceFiles& sources, const std::string& today);

}  // namespace stepward::test
