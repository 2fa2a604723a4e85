#include "emit/flow_chart/pieces.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <map>

#include "emit/document/document.hpp"
#include "emit/flow_chart/band_ink.hpp"
#include "emit/flow_chart/lettering.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::flow_chart {
namespace {

constexpr double padding = 14, title_height = 28, hint_height = 16, least_width = 220;
/// A letter in its circle, and the room that a cut takes above and below.
constexpr double circle = 9, room_of_cut = 28;
/// What a cut keeps clear of: room for an arrow above a shape, and a little below it.
constexpr double clear_above = 12, clear_below = 4;
constexpr double nowhere = std::numeric_limits<double>::infinity();

double head_height(const Piece& piece) { return title_height + static_cast<double>(piece.hint.size()) * hint_height; }

// ------------------------------------------------------------------ where to cut

/// The straight pieces that a curve is, near enough to be cut.
std::vector<Point> flattened(const std::vector<Point>& curve) {
  constexpr int steps = 16;
  std::vector<Point> flat{curve.front()};
  for (std::size_t i = 0; i + 3 < curve.size(); i += 3) {
    for (int k = 1; k <= steps; ++k) {
      const double t = static_cast<double>(k) / steps, u = 1 - t;
      const double a = u * u * u, b = 3 * u * u * t, c = 3 * u * t * t, d = t * t * t;
      flat.push_back({a * curve[i].x + b * curve[i + 1].x + c * curve[i + 2].x + d * curve[i + 3].x,
                      a * curve[i].y + b * curve[i + 1].y + c * curve[i + 2].y + d * curve[i + 3].y});
    }
  }
  return flat;
}

bool crosses(Point a, Point b, double y) { return (a.y < y) != (b.y < y); }

std::size_t crossings(const std::vector<std::vector<Point>>& ways, double y) {
  std::size_t count = 0;
  for (const auto& way : ways) {
    for (std::size_t i = 1; i < way.size(); ++i) count += crosses(way[i - 1], way[i], y) ? 1 : 0;
  }
  return count;
}

std::size_t torn(const BandInk& ink, double y) {
  return static_cast<std::size_t>(
      std::count_if(ink.wholes.begin(), ink.wholes.end(), [&](const Whole& whole) { return whole.top - clear_above < y && y < whole.bottom + clear_below; }));
}

/// Where to cut so that each piece is at most `room` high: nothing is torn if that can be, then few ways are cut, then late.
std::vector<double> cuts_of(const BandInk& ink, const std::vector<std::vector<Point>>& ways, double height, double room) {
  std::vector<double> cuts;
  double begin = 0;
  while (height - begin > room && room > 0) {
    double best = begin + room;
    std::pair<std::size_t, std::size_t> least{std::numeric_limits<std::size_t>::max(), 0};
    for (double y = begin + room; y > begin + room * 0.4; y -= 3) {
      const std::pair<std::size_t, std::size_t> cost{torn(ink, y), crossings(ways, y)};
      if (cost >= least) continue;
      least = cost;
      best = y;
    }
    cuts.push_back(best);
    begin = best;
  }
  return cuts;
}

// ------------------------------------------------------------------ one piece of a band

/// A way where it crosses a cut, told by its position and by which of its crossings it is.
using Crossing = std::pair<std::size_t, std::size_t>;

struct CutEnd { Point at; std::string letter; bool goes_in = false; };

class BandCutter {
 public:
  BandCutter(const BandInk& ink, double height, double room, CutLetters& letters) : ink_(ink), height_(height), letters_(letters) {
    for (const Mark& way : ink.ways) flat_.push_back(flattened(way.points));
    cuts_ = cuts_of(ink, flat_, height, room);
    named_.resize(cuts_.size());
  }

  std::size_t count() const { return cuts_.size() + 1; }
  double top(std::size_t piece) const { return piece == 0 ? 0 : cuts_[piece - 1] - room_of_cut; }
  double height(std::size_t piece) const { return bottom(piece) - top(piece); }

  std::vector<Mark> marks(std::size_t piece) {
    std::vector<Mark> marks;
    const double from = piece == 0 ? -nowhere : cuts_[piece - 1], to = piece < cuts_.size() ? cuts_[piece] : nowhere;
    std::vector<CutEnd> above, below;
    for (std::size_t w = 0; w < ink_.ways.size(); ++w) {
      if (is_inside(flat_[w], from, to)) marks.push_back(ink_.ways[w]);
      else cut_way(w, piece, from, to, marks, above, below);
    }
    if (piece > 0) put_letters(std::move(above), from - room_of_cut + circle + 4, marks);
    if (piece < cuts_.size()) put_letters(std::move(below), to + room_of_cut - circle - 4, marks);
    for (const Whole& whole : ink_.wholes) {
      const double middle = (whole.top + whole.bottom) / 2;
      if (middle >= from && middle < to) marks.insert(marks.end(), whole.marks.begin(), whole.marks.end());
    }
    for (Mark& mark : marks) move_by(mark, 0, -top(piece));
    return marks;
  }

 private:
  double bottom(std::size_t piece) const {
    if (piece == cuts_.size()) return height_;
    double lowest = cuts_[piece] + room_of_cut;
    const double from = piece == 0 ? -nowhere : cuts_[piece - 1];
    for (const Whole& whole : ink_.wholes) {
      const double middle = (whole.top + whole.bottom) / 2;
      if (middle >= from && middle < cuts_[piece]) lowest = std::max(lowest, whole.bottom + clear_below);
    }
    return lowest;
  }

  static bool is_inside(const std::vector<Point>& way, double from, double to) {
    return std::all_of(way.begin(), way.end(), [&](Point p) { return p.y >= from && p.y < to; });
  }

  static Point crossing(Point a, Point b, double y) { return {a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y), y}; }

  /// The parts of a way that lie in the piece, and where they were cut.
  void cut_way(std::size_t w, std::size_t piece, double from, double to, std::vector<Mark>& marks, std::vector<CutEnd>& above, std::vector<CutEnd>& below) {
    const std::vector<Point>& way = flat_[w];
    std::size_t crossed_above = 0, crossed_below = 0;
    std::vector<Point> part;
    const auto inside = [&](Point p) { return p.y >= from && p.y < to; };
    const auto flush = [&](bool at_end) {
      if (part.size() > 1) marks.push_back(line(ink_.ways[w].look, part, at_end && ink_.ways[w].arrow));
      part.clear();
    };
    if (inside(way.front())) part.push_back(way.front());
    for (std::size_t i = 1; i < way.size(); ++i) {
      const Point a = way[i - 1], b = way[i];
      for (const bool upper : a.y < b.y ? std::array{true, false} : std::array{false, true}) {
        const double y = upper ? from : to;
        if (!crosses(a, b, y)) continue;
        const Point at = crossing(a, b, y);
        const bool leaves = !inside(b) && (upper ? b.y < y : b.y >= y);
        part.push_back(at);
        if (leaves) flush(false);
        std::size_t& crossed = upper ? crossed_above : crossed_below;
        (upper ? above : below).push_back({at, letter_of(upper ? piece - 1 : piece, {w, crossed++}), leaves});
      }
      if (inside(b)) part.push_back(b);
    }
    flush(true);
  }

  std::string letter_of(std::size_t cut, Crossing which) {
    std::string& letter = named_[cut][which];
    if (letter.empty()) letter = letters_.next();
    return letter;
  }

  static void put_letters(std::vector<CutEnd> ends, double y, std::vector<Mark>& marks) {
    std::sort(ends.begin(), ends.end(), [](const CutEnd& a, const CutEnd& b) { return a.at.x < b.at.x; });
    double free_from = -nowhere;
    for (const CutEnd& end : ends) {
      const double x = std::max(end.at.x, free_from);
      free_from = x + 2 * circle + 3;
      const double near = y < end.at.y ? y + circle : y - circle;
      marks.push_back(end.goes_in ? line(Look::way, {end.at, {x, near}}, false) : line(Look::way, {{x, near}, end.at}, false));
      marks.push_back(disc(Look::mark, {x, y}, circle));
      marks.push_back(words(Type::strong, {x, y + 4}, end.letter, true));
    }
  }

  const BandInk& ink_;
  double height_;
  CutLetters& letters_;
  std::vector<std::vector<Point>> flat_;
  std::vector<double> cuts_;
  std::vector<std::map<Crossing, std::string>> named_;  ///< by cut
};

// ------------------------------------------------------------------ a band

class PieceMaker {
 public:
  PieceMaker(const PlacedChart& placed, double highest, const std::string& prefix, CutLetters& letters)
      : placed_(placed), highest_(highest), prefix_(prefix), letters_(letters) {}

  std::vector<Piece> all() {
    for (std::size_t i = 0; i < placed_.chart.bands.size(); ++i) add(placed_.chart.bands[i], placed_.bands[i]);
    return std::move(pieces_);
  }

 private:
  void add(const Band& band, const layout::Drawing& drawing) {
    const BandInk ink = ink_of_band(band, drawing, prefix_);
    const Piece head = with_head(band, drawing);
    const double room = highest_ - 2 * padding - head_height(head);
    const bool fits = drawing.height <= room;
    BandCutter cutter(ink, drawing.height, fits ? nowhere : room - 2 * room_of_cut, letters_);
    for (std::size_t p = 0; p < cutter.count(); ++p) {
      Piece piece = head;
      piece.marks = cutter.marks(p);
      piece.height = cutter.height(p);
      if (p > 0 && !band.is_continued) piece.title = filled(placed_.chart.continued, piece.title);
      piece.is_led_to = head.is_led_to && p == 0;
      piece.leads_on = head.leads_on && p + 1 == cutter.count();
      piece.out.y -= cutter.top(p);
      piece.width = std::max(piece.width, title_width(piece));
      pieces_.push_back(std::move(piece));
    }
  }

  Piece with_head(const Band& band, const layout::Drawing& drawing) const {
    Piece piece;
    piece.what = band.what;
    piece.title = (band.label.empty() ? "" : band.label + "  ") + xml_text(band.title);
    piece.width = std::max({least_width, drawing.width, title_width(piece)});
    if (!band.hint.empty()) piece.hint = wrapped(xml_text(band.hint), piece.width / letter_size);
    piece.is_led_to = band.what == Band::What::phase && !pieces_.empty();
    if (!drawing.middles.empty()) piece.in = drawing.middles.front();
    piece.main_way = piece.in.x;
    for (std::size_t s = 0; s < band.shapes.size(); ++s) {
      if (band.shapes[s].what != Shape::What::onward) continue;
      piece.leads_on = true;
      piece.out = drawing.middles[s];
    }
    return piece;
  }

  static double title_width(const Piece& piece) { return width_in_ems(piece.title) * type_of(Type::band_title).size * 1.1; }

  const PlacedChart& placed_;
  double highest_;
  const std::string& prefix_;
  CutLetters& letters_;
  std::vector<Piece> pieces_;
};

void put_circle(Piece& piece, Point at, const std::string& letter) {
  piece.marks.push_back(disc(Look::mark, at, circle));
  piece.marks.push_back(words(Type::strong, {at.x, at.y + 4}, letter, true));
}

}  // namespace

std::string CutLetters::next() {
  std::string letters;
  for (std::size_t left = count_++ + 1; left > 0; left = (left - 1) / 26) letters.insert(letters.begin(), static_cast<char>('a' + (left - 1) % 26));
  return letters;
}

double Piece::framed_width() const { return width + 2 * padding; }
double Piece::framed_height() const { return head_height(*this) + height + 2 * padding; }

std::vector<Piece> pieces_of(const PlacedChart& placed, double highest, const std::string& prefix, CutLetters& letters) {
  return PieceMaker(placed, highest, prefix, letters).all();
}

void join_by_letter(Piece& from, Piece& to, const std::string& letter) {
  put_circle(from, from.out, letter);
  put_circle(to, to.in, letter);
}

Point in_frame(const Piece& piece, Point place, double shift) { return {padding + shift + place.x, head_height(piece) + padding + place.y}; }

std::vector<Mark> framed(const Piece& piece, Point corner, double width, double shift) {
  const bool is_breach = piece.what == Band::What::breach;
  const double head = head_height(piece);
  std::vector<Mark> marks;
  marks.push_back(rectangle(is_breach ? Look::breach_band : Look::band, corner.x, corner.y, width, piece.framed_height()));
  marks.push_back(rectangle(is_breach ? Look::breach_strip : Look::strip, corner.x, corner.y, width, head));
  marks.push_back(words(is_breach ? Type::title_on_black : Type::band_title, {corner.x + 10, corner.y + 20}, piece.title));
  double y = corner.y + title_height + 8;
  for (const std::string& said : piece.hint) {
    marks.push_back(words(is_breach ? Type::plain_on_black : Type::plain, {corner.x + 10, y}, said));
    y += hint_height;
  }
  const Point inner = in_frame(piece, {}, shift);
  for (const Mark& each : piece.marks) {
    marks.push_back(each);
    move_by(marks.back(), corner.x + inner.x, corner.y + inner.y);
  }
  return marks;
}

}  // namespace stepward::emit::flow_chart
