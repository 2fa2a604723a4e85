#pragma once
// A protocol without errors in which nine weaknesses are planted, each of them one slip away from harm.

#include <string>

#include "driver/pipeline.hpp"

/// With the lines that answer one of them, by the place that they are written at ("goggles hands"), or with none (""). At "weak points" its papers are
/// asked to mark what is weak.
std::string weak_protocol(const std::string& answer);

/// A protocol read and walked; the test fails where it has errors.
stepward::driver::Compilation walked(const std::string& text);
