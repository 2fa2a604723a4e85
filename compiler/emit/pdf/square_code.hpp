#pragma once
// Draws the square code (emit/document/square_code.hpp) at the foot of every face.

#include <string>
#include <vector>

#include "emit/pdf/galley.hpp"

namespace stepward::emit::pdf {

/// Draws the code with its first dark module at (x, y). `side` counts the quiet zone all round, which has to stay empty. False: the text is too long.
bool add_square_code(Galley& galley, const std::string& text, double x, double y, double side);

}  // namespace stepward::emit::pdf
