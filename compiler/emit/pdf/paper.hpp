#pragma once
// Sheets of paper, which papers are printed on which, and how a paper looks on each: every measure in points (1/72 inch), in one table.
//
// Body text is 14 points and more, on A5 12 and more, on ID-1 10 and more; nothing is ever made smaller to fit. A3 and Tabloid are large
// print: everything is as much larger as the sheet is. Margins are 10 mm and more, for lamination, on ID-1 5 mm inside the trim;
// the script's left margin is wider, for its rings. A poster is read at 2 m and exists on the large sheets only, a badge card
// on ID-1 only; a review dossier, with its digests of 64 digits, from A4 up; every other paper is printed on every sheet from A5 up.
//
// Sizes: ISO 216 (A3 297 x 420, A4 210 x 297, A5 148 x 210 mm), ANSI/ASME Y14.1 (Letter 8.5 x 11, Tabloid 11 x 17 in),
// ISO/IEC 7810 (ID-1 85.60 x 53.98 mm).

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "emit/document/document.hpp"

namespace stepward::emit::pdf {

enum class Paper : std::uint8_t { a4, a5, a5_landscape, letter, a3, tabloid, id1 };

/// "A3", "A4", "A5", "A5-landscape", "Letter", "Tabloid", "ID-1", in any letters.
std::optional<Paper> paper_of(std::string_view name);
/// As people write it: "A4", "Letter", "ID-1". A sheet that lies on its side has the name of the one that stands.
std::string name_of(Paper paper);

struct SheetSize { double width = 0, height = 0; };
SheetSize size_of(Paper paper);

/// The sheets that a paper of this kind is printed on, the smallest first.
std::vector<Paper> papers_for(SheetKind kind);
bool is_printed_on(SheetKind kind, Paper paper);
/// The sheet where none is asked for: A3 for a poster, ID-1 for a badge card, else A4.
Paper default_paper(SheetKind kind);
/// A script on A5 lies on its side; everything else stands.
Paper paper_for(SheetKind kind, Paper wanted);
/// "A5, A4 or Letter".
std::string listed(const std::vector<Paper>& papers);

struct Look {
  double width, height;             ///< of the paper
  double left, right, top, bottom;  ///< margins
  double title, act, manner, number, branch_number, side, frame, heading, quiet, caps, say, foot, page;  ///< type sizes
  double tick;          ///< side of a tick box; 0: none
  double number_right;  ///< right edge of the number column, from the left margin
  double body_x;        ///< where the act begins
  double side_width;    ///< width of the side column (card) or of the right half (script); 0: what would stand there stands below the act
  double set_in;        ///< how far one level is set in
  double code;          ///< side of the square code
  double air;           ///< above and below the words of a block
  double edge = 0;      ///< width of the red band along the left side; 0: none
  bool small = false;   ///< a face under A6: head and foot hold only what every face must have
  bool right_to_left = false;  ///< laid out the other way round

  double text_width() const { return width - left - right; }
  /// What leads on to somewhere else, in the direction of reading.
  std::string arrow() const { return right_to_left ? "← " : "→ "; }
};

Look look_of(SheetKind kind, Paper paper);

}  // namespace stepward::emit::pdf
