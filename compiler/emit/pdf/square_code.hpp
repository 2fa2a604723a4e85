#pragma once
// The square code (QR, ISO/IEC 18004) at the foot of every face: number, version and short hash, for a scanner.

#include <string>
#include <vector>

#include "emit/pdf/galley.hpp"

namespace stepward::emit::pdf {

/// Draws the code with its quiet zone into a square of `side` points at (x, y). False: the text is too long.
bool add_square_code(Galley& galley, const std::string& text, double x, double y, double side);

}  // namespace stepward::emit::pdf
