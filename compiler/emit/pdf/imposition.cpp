#include "emit/pdf/imposition.hpp"

#include <algorithm>
#include <cmath>

namespace stepward::emit::pdf {

namespace {

constexpr double millimetre = 72 / 25.4;
constexpr double off_trim = 1 * millimetre, mark_length = 4 * millimetre;
constexpr double between = 6 * millimetre, around = 10 * millimetre;  // a mark each, and what printers do not reach
constexpr double off_edge = 5 * millimetre;

/// Faces in rows and columns in the middle of a sheet.
struct Grid {
  SheetSize sheet, face;
  int columns = 0, rows = 0;
  double gap = 0;

  std::size_t count() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
  double left() const { return (sheet.width - columns * face.width - (columns - 1) * gap) / 2; }
  double top() const { return (sheet.height - rows * face.height - (rows - 1) * gap) / 2; }
  double x(int column) const { return left() + column * (face.width + gap); }
  double y(int row) const { return top() + row * (face.height + gap); }
};

int fitting(double room, double each, double gap) { return std::max(0, static_cast<int>(std::floor((room + gap) / (each + gap) + 1e-6))); }

Grid grid(SheetSize sheet, SheetSize face, double margin, double gap) {
  return {sheet, face, fitting(sheet.width - 2 * margin, face.width, gap), fitting(sheet.height - 2 * margin, face.height, gap), gap};
}

/// Whichever way of turning the sheet holds more.
Grid better_grid(SheetSize sheet, SheetSize face, double margin, double gap) {
  const Grid upright = grid(sheet, face, margin, gap), lying = grid({sheet.height, sheet.width}, face, margin, gap);
  return lying.count() > upright.count() ? lying : upright;
}

std::optional<Grid> grid_for(SheetSize sheet, SheetSize face) {
  const Grid apart = better_grid(sheet, face, around, between);
  if (apart.count() >= 2) return apart;
  const Grid touching = better_grid(sheet, face, 0, 0);
  return touching.count() >= 2 ? std::optional(touching) : std::nullopt;
}

/// Two marks at each corner, outside of the face.
void add_marks_around(std::vector<CutMark>& marks, double x, double y, SheetSize face) {
  for (const double edge : {x, x + face.width}) {
    marks.push_back({edge, y - off_trim - mark_length, edge, y - off_trim});
    marks.push_back({edge, y + face.height + off_trim, edge, y + face.height + off_trim + mark_length});
  }
  for (const double edge : {y, y + face.height}) {
    marks.push_back({x - off_trim - mark_length, edge, x - off_trim, edge});
    marks.push_back({x + face.width + off_trim, edge, x + face.width + off_trim + mark_length, edge});
  }
}

/// Along the lines that neighbours share, at the edges of the sheet.
std::vector<CutMark> shared_lines(const Grid& grid) {
  std::vector<CutMark> marks;
  const SheetSize& sheet = grid.sheet;
  for (int column = 1; column < grid.columns; ++column) {
    marks.push_back({grid.x(column), off_edge, grid.x(column), off_edge + mark_length});
    marks.push_back({grid.x(column), sheet.height - off_edge - mark_length, grid.x(column), sheet.height - off_edge});
  }
  for (int row = 1; row < grid.rows; ++row) {
    marks.push_back({off_edge, grid.y(row), off_edge + mark_length, grid.y(row)});
    marks.push_back({sheet.width - off_edge - mark_length, grid.y(row), sheet.width - off_edge, grid.y(row)});
  }
  return marks;
}

/// `faces`: by place, row by row; 0: nothing lies there. `back`: seen from behind.
PrintedSide side_of(const Grid& grid, const std::vector<int>& faces, bool back) {
  PrintedSide side;
  if (grid.gap == 0) side.marks = shared_lines(grid);
  for (std::size_t i = 0; i < faces.size(); ++i) {
    if (faces[i] == 0) continue;
    const int place = static_cast<int>(i), column = place % grid.columns;
    const double x = grid.x(back ? grid.columns - 1 - column : column), y = grid.y(place / grid.columns);
    side.spots.push_back({faces[i], x, y});
    if (grid.gap > 0) add_marks_around(side.marks, x, y, grid.face);
  }
  return side;
}

std::vector<PrintedSide> fronts_only(const Grid& grid, int faces) {
  std::vector<PrintedSide> sides;
  std::vector<int> row;
  for (int face = 1; face <= faces; ++face) {
    row.push_back(face);
    if (row.size() < grid.count() && face < faces) continue;
    sides.push_back(side_of(grid, row, false));
    row.clear();
  }
  return sides;
}

std::vector<PrintedSide> fronts_and_backs(const Grid& grid, int faces) {
  const std::size_t cards = (static_cast<std::size_t>(faces) + 1) / 2, sets = std::max<std::size_t>(1, grid.count() / cards);
  std::vector<PrintedSide> sides;
  std::vector<int> fronts, backs;
  for (std::size_t i = 0; i < cards * sets; ++i) {
    const int front = static_cast<int>(2 * (i % cards) + 1);
    fronts.push_back(front);
    backs.push_back(front < faces ? front + 1 : 0);
    if (fronts.size() < grid.count() && i + 1 < cards * sets) continue;
    sides.push_back(side_of(grid, fronts, false));
    sides.push_back(side_of(grid, backs, true));
    fronts.clear();
    backs.clear();
  }
  return sides;
}

}  // namespace

Imposition one_by_one(SheetSize face, int faces) {
  Imposition all{face, {}};
  for (int each = 1; each <= faces; ++each) all.sides.push_back({{{each, 0, 0}}, {}});
  return all;
}

std::optional<Imposition> several_up(SheetSize face, int faces, Paper paper, bool both_sides) {
  const auto grid = grid_for(size_of(paper), face);
  if (!grid) return std::nullopt;
  return Imposition{grid->sheet, both_sides ? fronts_and_backs(*grid, faces) : fronts_only(*grid, faces)};
}

std::vector<Paper> sheets_holding(SheetSize face) {
  std::vector<Paper> all;
  for (const Paper paper : {Paper::a5, Paper::a4, Paper::letter, Paper::a3, Paper::tabloid}) {
    if (grid_for(size_of(paper), face)) all.push_back(paper);
  }
  return all;
}

}  // namespace stepward::emit::pdf
