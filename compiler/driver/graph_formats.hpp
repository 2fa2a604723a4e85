#pragma once
// What `stepward graph` can write, by name.

#include <optional>
#include <string>
#include <vector>

#include "driver/pipeline.hpp"

namespace stepward::driver {

/// The names that `--as` knows, in the order in which they are listed.
std::vector<std::string> graph_format_names();

struct Written {
  std::string format;
  bool walk = false;       ///< say of each way of the step graph whether some run takes it
  unsigned workers = 1;
};

/// The variants of a protocol that resolved without an error, in one of these formats. None: this build cannot place boxes,
/// the library that does gave up, or a walk that was asked for came to no end; `why` says it.
std::optional<std::string> written_as(const Written& how, const Compilation& made, const std::vector<model::Variant>& variants, std::string& why);

}  // namespace stepward::driver
