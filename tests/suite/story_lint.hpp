#pragma once
// What a story must be, whatever it tells. Called on every finding of every source that the tests check.

#include <string>
#include <vector>

#include "diagnostics/diagnostic.hpp"

namespace stepward::test {

/// What is wrong with the words of a finding: one sentence each; empty when nothing is.
std::vector<std::string> lint_story(const diagnostics::Diagnostic& finding);

}  // namespace stepward::test
