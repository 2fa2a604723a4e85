#pragma once
// Draws the square code (emit/document/square_code.hpp) at the foot of every face.

#include <string>
#include <vector>

#include "emit/pdf/galley.hpp"

namespace stepward::emit::pdf {

/// Draws the code with its quiet zone into a square of `side` points at (x, y). False: the text is too long.
bool add_square_code(Galley& galley, const std::string& text, double x, double y, double side);

}  // namespace stepward::emit::pdf
