#pragma once
// A drawing, or why there is none, as bytes between two processes of one program. Not for files: numbers are as this machine has them.

#include <optional>
#include <string>
#include <vector>

#include "emit/layout/sketch.hpp"

namespace stepward::emit::layout {

struct Answer {
  std::optional<Drawing> drawing;
  std::string why;
};

std::string as_bytes(const Answer& answer);

/// Reads answers one behind the other. What ends in the midst of one was cut off, and is none.
std::vector<Answer> answers_in(const std::string& bytes);

}  // namespace stepward::emit::layout
