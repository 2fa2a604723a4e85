#pragma once
// A protocol without errors in which nine weaknesses are planted, each of them one slip away from harm.

#include <string>

/// With the lines that answer one of them, by the place that they are written at ("goggles hands"), or with none (""). At "weak points" its papers are
/// asked to mark what is weak.
std::string weak_protocol(const std::string& answer);
