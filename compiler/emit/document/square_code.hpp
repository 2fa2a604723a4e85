#pragma once
// The square code (QR, ISO/IEC 18004) that stands on every paper: number, version and short hash, for a scanner.
//
// Here it is only modules on a grid, so that every writer draws the same code in its own way. Neighbouring dark modules
// of a row are one run: drawn as one shape, no printer and no screen leaves a seam between them.

#include <string>
#include <vector>

namespace stepward::emit {

/// `length` dark modules side by side; `row` and `column` count from the corner of the quiet zone.
struct DarkRun { int row = 0, column = 0, length = 0; };

struct SquareCode {
  static constexpr int quiet = 4;  ///< light modules that the standard asks for all round

  int width = 0;  ///< modules of one side, with the quiet zone; 0: there is no code
  std::vector<DarkRun> runs;
};

/// The code of a text, with error correction of level M. Width 0: the text is empty or too long for any code.
SquareCode square_code(const std::string& text);

}  // namespace stepward::emit
