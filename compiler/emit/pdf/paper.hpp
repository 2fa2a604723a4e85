#pragma once
// Sheets of paper and how a sheet looks on each: every measure in points (1/72 inch), in one table.
//
// Body text is 14 points and more on A4 and Letter, 12 and more on A5; nothing is ever made smaller to fit. Margins are
// 10 mm and more, for lamination; the script's left margin is wider, for its rings.

#include <cstdint>
#include <optional>
#include <string_view>

#include "emit/document/document.hpp"

namespace stepward::emit::pdf {

enum class Paper : std::uint8_t { a4, a5, a5_landscape, letter };

/// "A4", "a5", "a5-landscape", "letter".
std::optional<Paper> paper_of(std::string_view name);
/// A script on A5 lies on its side; everything else stands.
Paper paper_for(SheetKind kind, Paper wanted);

struct Look {
  double width, height;             ///< of the paper
  double left, right, top, bottom;  ///< margins
  double title, act, manner, number, branch_number, side, frame, heading, quiet, caps, say, foot, page;  ///< type sizes
  double tick;          ///< side of a tick box; 0: none
  double number_right;  ///< right edge of the number column, from the left margin
  double body_x;        ///< where the act begins
  double side_width;    ///< width of the side column (card) or of the right half (script)
  double set_in;        ///< how far one level is set in
  double code;          ///< side of the square code
  double air;           ///< above and below the words of a block
  double edge = 0;      ///< width of the red band along the left side; 0: none

  double text_width() const { return width - left - right; }
};

Look look_of(SheetKind kind, Paper paper);

}  // namespace stepward::emit::pdf
