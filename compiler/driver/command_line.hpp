#pragma once
// From the words of a command line to a command and its outcome. The only place that knows CLI11.

#include <string>
#include <vector>

#include "driver/host.hpp"

namespace stepward::driver {

/// Runs the program on its arguments, the program's own name left out.
Outcome run(const std::vector<std::string>& arguments, const Host& host);

}  // namespace stepward::driver
