#pragma once
// Checks sources held in memory from text to verdict.

#include <optional>
#include <string>

#include "diagnostics/diagnostic.hpp"
#include "page.hpp"
#include "source/files.hpp"

namespace stepward::test {

struct Checked {
  source::Files files;
  diagnostics::Sink findings;  ///< in the order in which they are shown
};

struct CheckOptions {
  std::size_t limit = 200'000;  ///< states of one variant's walk
  std::optional<std::size_t> only_variant;
  std::string witness;                                ///< a rule's number, or "all"
};

/// Checks `example.ward` among `sources`; `today` may be empty.
Checked check_sources(const SourceFiles& sources, const std::string& today, const CheckOptions& with = {});

}  // namespace stepward::test
