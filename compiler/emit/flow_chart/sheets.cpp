#include "emit/flow_chart/sheets.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "emit/document/document.hpp"
#include "emit/flow_chart/lettering.hpp"
#include "emit/flow_chart/pieces.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::flow_chart {
namespace {

constexpr double margin = 24, between_bands = 22, between_columns = 40, between_variants = 80;
/// A sheet that hangs on a wall or lies on a table is about as wide as A-sizes lying on their side.
constexpr double width_by_height = 1.4;

// ------------------------------------------------------------------ head and key

/// Facts in lines no wider than this; a fact stays whole if it fits into a line at all.
std::vector<std::string> in_lines(const std::vector<std::string>& facts, double ems) {
  std::vector<std::string> lines;
  for (const std::string& fact : facts) {
    const bool fits = !lines.empty() && width_in_ems(lines.back() + " · " + fact) <= ems;
    if (fits) lines.back() += " · " + fact;
    else for (std::string& part : wrapped(fact, ems)) lines.push_back(std::move(part));
  }
  return lines;
}

struct Block { double width = 0, height = 0; std::vector<Mark> marks; };

class LinesOfType {
 public:
  void put(Type type, const std::vector<std::string>& lines, double height) {
    for (const std::string& said : lines) {
      block_.marks.push_back(words(type, {0, block_.height + height * 0.75}, said));
      block_.width = std::max(block_.width, width_in_ems(said) * type_of(type).size * 1.1);
      block_.height += height;
    }
  }
  Block block() { return std::move(block_); }

 private:
  Block block_;
};

/// Title, document control and caution. `continued`: of the pages behind the first.
Block head_of(const Chart& chart, double width, bool continued) {
  const auto ems = [&](Type type) { return std::max(12.0, width / (type_of(type).size * 1.1)); };
  const std::string name = xml_text(name_of(chart));
  LinesOfType lines;
  lines.put(Type::chart_title, wrapped(continued ? filled(chart.continued, name) : name, ems(Type::chart_title)), 26);
  std::vector<std::string> first{xml_text(chart.number)};
  if (!chart.variant.empty()) first.push_back(xml_text(chart.variant));
  lines.put(Type::strong, in_lines(first, ems(Type::strong)), 17);
  std::vector<std::string> facts;
  for (const std::string& fact : chart.control) facts.push_back(xml_text(fact));
  lines.put(Type::plain, in_lines(facts, ems(Type::plain)), 16);
  lines.put(Type::plain, wrapped(chart.caution, ems(Type::plain)), 16);
  return lines.block();
}

/// A small one of what the line explains, in a room of 44 by 22.
std::vector<Mark> sample_of(KeyLine::What what) {
  const auto frame = [](Look look, double round) { return rectangle(look, 0, 2, 44, 18, round); };
  switch (what) {
    case KeyLine::What::step: return {frame(Look::shape, 0)};
    case KeyLine::What::critical: return {frame(Look::heavy, 0)};
    case KeyLine::What::box: return {frame(Look::shape, 0), line(Look::way, {{5, 2}, {5, 20}}, false), line(Look::way, {{39, 2}, {39, 20}}, false)};
    case KeyLine::What::question: {
      Mark hexagon = line(Look::question, {{0, 11}, {9, 2}, {35, 2}, {44, 11}, {35, 20}, {9, 20}}, false);
      hexagon.what = Mark::What::polygon;
      return {hexagon};
    }
    case KeyLine::What::ending: return {frame(Look::heavy, 9)};
    case KeyLine::What::emergency: return {frame(Look::black, 9)};
    case KeyLine::What::way_back: return {frame(Look::shape, 9)};
    case KeyLine::What::main_way: return {line(Look::main_way, {{2, 11}, {42, 11}}, true)};
    case KeyLine::What::again: return {line(Look::back_way, {{2, 11}, {42, 11}}, true)};
    case KeyLine::What::both: return {rectangle(Look::black, 0, 8, 44, 6)};
    case KeyLine::What::cut: return {disc(Look::mark, {22, 11}, 9), words(Type::strong, {22, 15}, "a", true)};
  }
  return {};
}

/// In columns side by side, as many as the width holds. Only what is cut needs to be told of cuts.
Block key_of(const Chart& chart, double width, bool has_cuts) {
  double widest = 0;
  std::vector<const KeyLine*> lines;
  for (const KeyLine& each : chart.key) {
    if (each.what == KeyLine::What::cut && !has_cuts) continue;
    lines.push_back(&each);
    widest = std::max(widest, 54 + width_in_ems(each.words) * letter_size + 18);
  }
  const auto columns = std::max<std::size_t>(1, static_cast<std::size_t>(width / std::max(1.0, widest)));
  const std::size_t rows = (lines.size() + columns - 1) / columns;
  Block key{0, 22 + static_cast<double>(rows) * 26, {}};
  key.marks.push_back(words(Type::strong, {0, 12}, chart.key_title));
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const double x = static_cast<double>(i / rows) * widest, y = 20 + static_cast<double>(i % rows) * 26;
    for (Mark mark : sample_of(lines[i]->what)) {
      move_by(mark, x, y);
      key.marks.push_back(std::move(mark));
    }
    key.marks.push_back(words(Type::plain, {x + 54, y + 15}, lines[i]->words));
    key.width = std::max(key.width, x + widest);
  }
  return key;
}

void put_block(Picture& picture, const Block& block, Point corner) {
  for (Mark mark : block.marks) {
    move_by(mark, corner.x, corner.y);
    picture.marks.push_back(std::move(mark));
  }
}

// ------------------------------------------------------------------ columns

struct Column {
  std::vector<std::size_t> pieces;
  double width = 0, height = 0, main_way = 0;
};

/// The pieces in columns no higher than this; what may happen at any time, and the boxes, begin columns of their own if `apart`.
std::vector<Column> columns_of(const std::vector<Piece>& pieces, double highest, bool apart) {
  std::vector<Column> columns;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const double height = pieces[i].framed_height();
    const bool another_kind = apart && i > 0 && pieces[i].what != pieces[i - 1].what;
    if (columns.empty() || another_kind || columns.back().height + between_bands + height > highest) columns.emplace_back();
    Column& column = columns.back();
    column.height += (column.pieces.empty() ? 0 : between_bands) + height;
    column.main_way = std::max(column.main_way, pieces[i].main_way);
    column.pieces.push_back(i);
  }
  for (Column& column : columns) {
    for (const std::size_t i : column.pieces) column.width = std::max(column.width, pieces[i].framed_width() + column.main_way - pieces[i].main_way);
  }
  return columns;
}

/// Phases that lead on to one in another column do so by a letter.
bool letter_joins(std::vector<Piece>& pieces, const std::vector<Column>& columns, CutLetters& letters) {
  bool any = false;
  for (std::size_t c = 0; c + 1 < columns.size(); ++c) {
    Piece &from = pieces[columns[c].pieces.back()], &to = pieces[columns[c + 1].pieces.front()];
    if (!from.leads_on || !to.is_led_to) continue;
    join_by_letter(from, to, letters.next());
    any = true;
  }
  return any;
}

/// One column with its left upper corner there; ways from phase to phase run over the frames, so they come last.
void put_column(Picture& picture, const std::vector<Piece>& pieces, const Column& column, Point corner) {
  std::vector<Mark> joins;
  double y = corner.y;
  for (std::size_t k = 0; k < column.pieces.size(); ++k) {
    const Piece& piece = pieces[column.pieces[k]];
    const double shift = column.main_way - piece.main_way;
    for (Mark& mark : framed(piece, {corner.x, y}, column.width, shift)) picture.marks.push_back(std::move(mark));
    const double foot = y + piece.framed_height();
    if (piece.leads_on && k + 1 < column.pieces.size()) {
      const Piece& next = pieces[column.pieces[k + 1]];
      const double x1 = corner.x + in_frame(piece, piece.out, shift).x, y1 = y + in_frame(piece, piece.out, shift).y;
      const double x2 = corner.x + in_frame(next, next.in, column.main_way - next.main_way).x, half = foot + between_bands / 2;
      joins.push_back(line(Look::main_way, {{x1, y1}, {x1, half}, {x2, half}, {x2, foot + between_bands}}, true));
    }
    y = foot + between_bands;
  }
  for (Mark& join : joins) picture.marks.push_back(std::move(join));
}

double total_width(const std::vector<Column>& columns) {
  double width = 0;
  for (const Column& column : columns) width += (width > 0 ? between_columns : 0) + column.width;
  return width;
}

std::string prefix_of(const Chart& chart) {
  if (chart.variant.empty()) return "";
  std::string name = chart.variant;
  std::replace(name.begin(), name.end(), ' ', '_');
  return xml_text(name) + "/";
}

double tallest_of(const std::vector<Piece>& pieces) {
  double tallest = 0;
  for (const Piece& piece : pieces) tallest = std::max(tallest, piece.framed_height());
  return tallest;
}

/// So high that the columns together are about as wide as a sheet is.
double good_height(const std::vector<Piece>& pieces) {
  double area = 0;
  for (const Piece& piece : pieces) area += (piece.framed_width() + between_columns) * (piece.framed_height() + between_bands);
  return std::sqrt(area / width_by_height) * 1.1;
}

/// All bands, whole; but one that is much higher than the sheet would be without it is cut.
std::vector<Piece> pieces_for_sheet(const PlacedChart& placed, CutLetters& letters) {
  constexpr double much = 1.4;
  std::vector<Piece> pieces = pieces_of(placed, std::numeric_limits<double>::infinity(), prefix_of(placed.chart), letters);
  const double height = good_height(pieces);
  return tallest_of(pieces) > much * height ? pieces_of(placed, height, prefix_of(placed.chart), letters) : pieces;
}

bool is_cut(const std::vector<Piece>& pieces, const Chart& chart) { return pieces.size() > chart.bands.size(); }

/// One variant at this left edge; tells how far it reaches to the right and downwards.
Point put_chart(Picture& picture, const PlacedChart& placed, double left) {
  CutLetters letters;
  std::vector<Piece> pieces = pieces_for_sheet(placed, letters);
  const std::vector<Column> columns = columns_of(pieces, std::max(tallest_of(pieces), good_height(pieces)), true);
  const bool has_letters = letter_joins(pieces, columns, letters) || is_cut(pieces, placed.chart);
  const double width = std::max(500.0, total_width(columns));
  const Block head = head_of(placed.chart, width, false), key = key_of(placed.chart, width, has_letters);
  put_block(picture, head, {left, margin});
  const double top = margin + head.height + 10;
  double x = left, bottom = 0;
  for (const Column& column : columns) {
    put_column(picture, pieces, column, {x, top});
    x += column.width + between_columns;
    bottom = std::max(bottom, top + column.height);
  }
  put_block(picture, key, {left, bottom + between_bands});
  return {std::max({left + head.width, left + key.width, x - between_columns}), bottom + between_bands + key.height};
}

// ------------------------------------------------------------------ pages

class Paginator {
 public:
  Paginator(const PlacedChart& placed, const Page& page) : placed_(placed), page_(page) {}

  std::vector<Picture> pages() {
    CutLetters measure;
    double widest = 0;
    for (const Piece& piece : pieces_of(placed_, std::numeric_limits<double>::infinity(), "", measure)) widest = std::max(widest, piece.framed_width());
    scale_ = std::min(scale_on_pages, page_.width / std::max(1.0, widest));
    if (scale_ < smallest_scale) return {};
    width_ = page_.width / scale_;
    height_ = page_.height / scale_;
    head_ = page_.with_head ? head_of(placed_.chart, width_, true) : Block{};
    first_ = page_.with_head ? head_of(placed_.chart, width_, false) : Block{};
    const double room = height_ - std::max(head_.height, first_.height) - (page_.with_head ? 10 : 0);
    CutLetters letters;
    pieces_ = pieces_of(placed_, room, prefix_of(placed_.chart), letters);
    columns_ = columns_of(pieces_, room, false);
    const bool has_letters = letter_joins(pieces_, columns_, letters) || is_cut(pieces_, placed_.chart);
    for (const Column& column : columns_) put(column);
    put_key(has_letters);
    return std::move(made_);
  }

 private:
  void begin_page() {
    Picture picture;
    picture.width = width_;
    picture.height = height_;
    picture.scale = scale_;
    const Block& head = made_.empty() ? first_ : head_;
    put_block(picture, head, {0, 0});
    made_.push_back(std::move(picture));
    x_ = bottom_ = 0;
    top_ = head.height + (page_.with_head ? 10 : 0);
  }

  void put(const Column& column) {
    if (made_.empty() || x_ + column.width > width_) begin_page();
    put_column(made_.back(), pieces_, column, {x_, top_});
    x_ += column.width + between_columns;
    bottom_ = std::max(bottom_, top_ + column.height);
  }

  /// Beside the last column, at the foot of the last page, or on one more.
  void put_key(bool has_letters) {
    const Block beside = key_of(placed_.chart, width_ - x_, has_letters);
    if (!made_.empty() && x_ + beside.width <= width_ && top_ + beside.height <= height_) {
      put_block(made_.back(), beside, {x_, top_});
      return;
    }
    const Block key = key_of(placed_.chart, width_, has_letters);
    if (made_.empty() || bottom_ + between_bands + key.height > height_) begin_page();
    put_block(made_.back(), key, {0, bottom_ > 0 ? bottom_ + between_bands : top_});
  }

  const PlacedChart& placed_;
  Page page_;
  double scale_ = 1, width_ = 0, height_ = 0, x_ = 0, top_ = 0, bottom_ = 0;
  Block head_, first_;
  std::vector<Piece> pieces_;
  std::vector<Column> columns_;
  std::vector<Picture> made_;
};

}  // namespace

std::string name_of(const Chart& chart) { return chart.heading + ": " + chart.title; }

std::string told_of(const Chart& chart) {
  std::string bands;
  for (const Band& band : chart.bands) bands += (bands.empty() ? "" : "; ") + (band.label.empty() ? "" : band.label + " ") + band.title;
  return bands + ". " + chart.caution;
}

Picture one_sheet(const std::vector<PlacedChart>& charts) {
  Picture picture;
  double left = margin;
  for (const PlacedChart& placed : charts) {
    const Point reached = put_chart(picture, placed, left);
    picture.width = reached.x + margin;
    picture.height = std::max(picture.height, reached.y + margin);
    left = reached.x + between_variants;
  }
  return picture;
}

std::vector<Picture> cut_to(const PlacedChart& chart, const Page& page) { return Paginator(chart, page).pages(); }

}  // namespace stepward::emit::flow_chart
