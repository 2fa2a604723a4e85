#pragma once
// Several faces on one sheet, to be cut apart: where each lies, and the marks to cut along.
//
// Marks stand outside the trim only, 1 mm off it and 4 mm long, where there is room for them around every face (10 mm at the edge of the
// sheet, 6 mm between faces). Where there is none, as for two A5 on A4, faces lie edge to edge in the middle of the sheet, and the line
// that both share is marked at the edges of the sheet. What is printed on both sides is laid out for printing that turns the sheet
// about its long side: backs lie in the mirrored place, and a sheet is filled with as many whole sets as it holds.

#include <optional>
#include <vector>

#include "emit/pdf/paper.hpp"

namespace stepward::emit::pdf {

/// A face, from 1, with its top left corner on the sheet.
struct Spot {
  int face = 1;
  double x = 0, y = 0;
};

struct CutMark { double x1 = 0, y1 = 0, x2 = 0, y2 = 0; };

struct PrintedSide {
  std::vector<Spot> spots;
  std::vector<CutMark> marks;
};

struct Imposition {
  SheetSize sheet;
  std::vector<PrintedSide> sides;
};

/// One face on each side, its own size.
Imposition one_by_one(SheetSize face, int faces);
/// Nothing where the sheet does not hold two.
std::optional<Imposition> several_up(SheetSize face, int faces, Paper sheet, bool both_sides);
/// The sheets that hold two and more faces of this size.
std::vector<Paper> sheets_holding(SheetSize face);

}  // namespace stepward::emit::pdf
