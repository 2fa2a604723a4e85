#include "emit/flow_chart/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>
#include <tuple>

#include "emit/document/document.hpp"
#include "emit/flow_chart/band_ink.hpp"
#include "emit/flow_chart/lettering.hpp"
#include "emit/xml_text.hpp"
#include "wording/phrases.hpp"

namespace stepward::emit::flow_chart {
namespace {

constexpr double padding = 14, title_height = 28, hint_height = 16, least_width = 220;
/// A letter in its circle, and the room that it takes above and below a cut; the words beside a cut stand beyond it.
constexpr double circle = 9, room_of_circle = 28, words_line = 14, between_words = 8;
constexpr double widest_words = 10;  // in ems, of a line beside a cut
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

/// Where to cut so that each piece is at most `room` high with what its cuts take: nothing is torn if that can be, then there are no more
/// pieces than there must be, then few ways are cut, then pieces are about equally high, since one shape by itself looks forgotten.
std::vector<double> cuts_of(const BandInk& ink, const std::vector<std::vector<Point>>& ways, double height, double room, double of_cut) {
  std::vector<double> cuts;
  const double between = room - 2 * of_cut;
  for (double begin = 0; between > 0 && height - begin + (begin > 0 ? of_cut : 0) > room;) {
    const double limit = begin + (begin > 0 ? between : room - of_cut);
    const double others = std::ceil((height - limit - of_cut) / between);  // pieces behind this one
    const double even = begin + (height - begin) / (1 + std::max(1.0, others));
    double best = limit;
    std::tuple<std::size_t, bool, std::size_t, double> least{std::numeric_limits<std::size_t>::max(), false, 0, 0};
    for (double y = limit; y > begin + between * 0.25; y -= 3) {
      const bool one_more = std::ceil((height - y - of_cut) / between) > std::max(1.0, others);
      const std::tuple<std::size_t, bool, std::size_t, double> cost{torn(ink, y), one_more, crossings(ways, y), std::abs(y - even)};
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

void put_letter(std::vector<Mark>& marks, Point at, const std::string& letter) {
  marks.push_back(disc(Look::mark, at, circle));
  marks.push_back(words(Type::strong, {at.x, at.y + 4}, letter, true));
}

/// "[answer]: on at [step]", filled.
std::string answered(const std::string& caption, std::string_view answer, std::string_view step) {
  std::string all;
  for (const wording::PhrasePiece& piece : wording::pieces_of(caption)) all += !piece.is_gap ? piece.text : piece.text == "answer" ? answer : step;
  return all;
}

/// A way that does not stay in one piece. It is drawn up to the first cut and on from the last one: what of it lies between is left
/// out, since whoever follows it has to find the part where it goes on, and no part that it only passes.
struct Severed {
  struct Cut { std::size_t behind = 0; Point at; bool goes_up = false; };  ///< `behind`: the last of the way's points before it
  std::size_t from = 0, to = 0;                                            ///< pieces
  Cut first, last;
  std::string letter;
};

/// Where a way was cut: its letter, and in lines where it comes from or goes on.
struct CutEnd {
  Point at;
  std::string letter;
  bool leaves = false;
  std::vector<std::string> said;

  double width() const {
    double ems = 0;
    for (const std::string& each : said) ems = std::max(ems, width_in_ems(each));
    return std::max(2 * circle, ems * letter_size);
  }
};

class BandCutter {
 public:
  /// `room`: for one piece, with what its cuts take.
  BandCutter(const BandInk& ink, const Chart& chart, const layout::Drawing& drawing, double room, CutLetters& letters)
      : ink_(ink), chart_(chart), width_(drawing.width), height_(drawing.height), letters_(letters) {
    for (const Mark& way : ink.ways) flat_.push_back(flattened(way.points));
    if (height_ <= room) return;
    std::size_t lines = 0;
    for (std::size_t w = 0; w < ink.ways.size(); ++w) lines = std::max({lines, said(w, true, 0).size(), said(w, false, 0).size()});
    room_of_cut_ = room_of_circle + static_cast<double>(lines) * words_line;
    cuts_ = cuts_of(ink, flat_, height_, room, room_of_cut_);
    for (std::size_t w = 0; w < ink.ways.size(); ++w)
      if (auto cut = severed(flat_[w])) severed_[w] = std::move(*cut);
  }

  std::size_t count() const { return cuts_.size() + 1; }
  double top(std::size_t piece) const { return piece == 0 ? 0 : cuts_[piece - 1] - room_of_cut_; }
  double height(std::size_t piece) const { return bottom(piece) - top(piece); }

  std::vector<Mark> marks(std::size_t piece) {
    std::vector<Mark> marks;
    const double from = piece == 0 ? -nowhere : cuts_[piece - 1], to = piece < cuts_.size() ? cuts_[piece] : nowhere;
    std::vector<CutEnd> above, below;
    for (std::size_t w = 0; w < ink_.ways.size(); ++w) {
      if (const auto cut = severed_.find(w); cut != severed_.end()) cut_way(w, cut->second, piece, marks, above, below);
      else if (is_inside(flat_[w], from, to)) marks.push_back(ink_.ways[w]);
    }
    if (piece > 0) put_ends(std::move(above), from - room_of_circle + circle + 4, marks);
    if (piece < cuts_.size()) put_ends(std::move(below), to + room_of_circle - circle - 4, marks);
    for (const Whole& whole : ink_.wholes) {
      const double middle = (whole.top + whole.bottom) / 2;
      if (middle >= from && middle < to && is_told_here(whole, piece)) marks.insert(marks.end(), whole.marks.begin(), whole.marks.end());
    }
    for (Mark& mark : marks) move_by(mark, 0, -top(piece));
    return marks;
  }

 private:
  double bottom(std::size_t piece) const {
    if (piece == cuts_.size()) return height_;
    double lowest = cuts_[piece] + room_of_cut_;
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

  std::size_t piece_at(Point p) const {
    return static_cast<std::size_t>(std::count_if(cuts_.begin(), cuts_.end(), [&](double cut) { return cut <= p.y; }));
  }

  /// None: the way stays in one piece.
  std::optional<Severed> severed(const std::vector<Point>& way) const {
    std::vector<Severed::Cut> crossed;
    for (std::size_t i = 1; i < way.size(); ++i) {
      std::size_t here = piece_at(way[i - 1]);
      for (const std::size_t there = piece_at(way[i]); here != there;) {
        const bool goes_up = there < here;
        crossed.push_back({i - 1, crossing(way[i - 1], way[i], cuts_[goes_up ? here - 1 : here]), goes_up});
        here += goes_up ? -1 : 1;
      }
    }
    if (crossed.empty()) return std::nullopt;
    return Severed{piece_at(way.front()), piece_at(way.back()), crossed.front(), crossed.back(), ""};
  }

  /// The begin or the end of a way where it lies in the piece, and where that was cut.
  void cut_way(std::size_t w, Severed& cut, std::size_t piece, std::vector<Mark>& marks, std::vector<CutEnd>& above, std::vector<CutEnd>& below) {
    const std::vector<Point>& way = flat_[w];
    const auto at = [&](std::size_t i) { return way.begin() + static_cast<std::ptrdiff_t>(i); };
    if ((piece == cut.from || piece == cut.to) && cut.letter.empty()) cut.letter = letters_.next();
    if (piece == cut.from) {
      std::vector<Point> begin(way.begin(), at(cut.first.behind + 1));
      begin.push_back(cut.first.at);
      marks.push_back(line(ink_.ways[w].look, std::move(begin), false));
      (cut.first.goes_up ? above : below).push_back({cut.first.at, cut.letter, true, said(w, true, cut.to + 1)});
    }
    if (piece == cut.to) {
      std::vector<Point> end{cut.last.at};
      end.insert(end.end(), at(cut.last.behind + 1), way.end());
      marks.push_back(line(ink_.ways[w].look, std::move(end), ink_.ways[w].arrow));
      (cut.last.goes_up ? below : above).push_back({cut.last.at, cut.letter, false, said(w, false, cut.from + 1)});
    }
  }

  /// The words beside a way stand where it is drawn: of the part that is left out its ends tell.
  bool is_told_here(const Whole& whole, std::size_t piece) const {
    const auto cut = whole.way ? severed_.find(*whole.way) : severed_.end();
    return cut == severed_.end() || piece == cut->second.from || piece == cut->second.to;
  }

  /// "on at 14" or "YES: on at 14", "part 2": counted from 1.
  std::vector<std::string> said(std::size_t way, bool leaves, std::size_t part) const {
    const std::string& step = leaves ? ink_.to[way] : ink_.from[way];
    const std::string where = ink_.answers[way].empty() ? filled(leaves ? chart_.goes_on_at : chart_.comes_from, step)
                                                        : answered(leaves ? chart_.answer_goes_on_at : chart_.answer_comes_from, ink_.answers[way], step);
    std::vector<std::string> lines = wrapped(where, widest_words);
    lines.push_back(filled(chart_.part, std::to_string(part)));
    return lines;
  }

  /// Side by side in the order of their ways, moved apart where their words would run into each other, and no wider than the band if that can be.
  static std::vector<double> apart(const std::vector<CutEnd>& ends, double width) {
    std::vector<double> places;
    double moved = 0, free_from = 0;
    for (const CutEnd& end : ends) {
      const double half = end.width() / 2;
      places.push_back(std::max(end.at.x, free_from + half));
      moved += places.back() - end.at.x;
      free_from = places.back() + half + between_words;
    }
    const double room = ends.empty() ? 0 : std::max(0.0, places.front() - ends.front().width() / 2);
    const double back = ends.empty() ? 0 : std::min(moved / static_cast<double>(ends.size()), room);
    for (double& place : places) place -= back;
    double needed = -between_words;
    for (const CutEnd& end : ends) needed += end.width() + between_words;
    double free_to = std::max(width, needed);
    for (std::size_t i = ends.size(); i-- > 0;) {
      const double half = ends[i].width() / 2;
      places[i] = std::min(places[i], free_to - half);
      free_to = places[i] - half - between_words;
    }
    return places;
  }

  void put_ends(std::vector<CutEnd> ends, double y, std::vector<Mark>& marks) const {
    std::sort(ends.begin(), ends.end(), [](const CutEnd& a, const CutEnd& b) { return a.at.x < b.at.x; });
    const std::vector<double> places = apart(ends, width_);
    for (std::size_t i = 0; i < ends.size(); ++i) {
      const CutEnd& end = ends[i];
      const double x = places[i];
      const bool is_above = y < end.at.y;
      const Point near{x, is_above ? y + circle : y - circle};
      marks.push_back(end.leaves ? line(Look::way, {end.at, near}, false) : line(Look::way, {near, end.at}, false));
      put_letter(marks, {x, y}, end.letter);
      double base = is_above ? y - circle - 5 - words_line * static_cast<double>(end.said.size() - 1) : y + circle + 12;
      for (const std::string& each : end.said) {
        marks.push_back(words(Type::plain, {x, base}, each, true));
        base += words_line;
      }
    }
  }

  const BandInk& ink_;
  const Chart& chart_;
  double width_, height_, room_of_cut_ = 0;
  CutLetters& letters_;
  std::vector<std::vector<Point>> flat_;
  std::vector<double> cuts_;
  std::map<std::size_t, Severed> severed_;  ///< by way
};

// ------------------------------------------------------------------ a band

double title_width(const std::string& title) { return width_in_ems(title) * type_of(Type::band_title).size * 1.1; }

/// Words to the right of a circle.
double beside_circle(Point at, const std::string& said) { return at.x + circle + 5 + width_in_ems(said) * letter_size; }

double right_edge(const std::vector<Mark>& marks) {
  double edge = 0;
  for (const Mark& mark : marks)
    if (mark.what == Mark::What::words && mark.in_the_middle) edge = std::max(edge, mark.points[0].x + width_in_ems(mark.text) * letter_size / 2);
  return edge;
}

class PieceMaker {
 public:
  PieceMaker(const PlacedChart& placed, std::size_t band, const std::string& prefix, CutLetters& letters)
      : chart_(placed.chart), at_(band), band_(placed.chart.bands[band]), drawing_(placed.bands[band]), prefix_(prefix), letters_(letters) {}

  /// None higher than `room` without its frame.
  std::vector<Piece> all(double room) const {
    const Piece whole = uncut();
    const BandInk ink = ink_of_band(band_, drawing_, prefix_, whole.leads_on ? first_number_of(chart_.bands[at_ + 1]) : "");
    BandCutter cutter(ink, chart_, drawing_, room, letters_);
    std::vector<Piece> pieces;
    for (std::size_t p = 0; p < cutter.count(); ++p) {
      Piece piece = whole;
      piece.marks = cutter.marks(p);
      piece.height = cutter.height(p);
      piece.part = p + 1;
      piece.parts = cutter.count();
      if (piece.parts > 1) {
        piece.part_title = filled(chart_.part, std::to_string(p + 1) + " / " + std::to_string(piece.parts));
        piece.title += ", " + piece.part_title;
      }
      piece.is_led_to = whole.is_led_to && p == 0;
      piece.leads_on = whole.leads_on && p + 1 == piece.parts;
      piece.out.y -= cutter.top(p);
      piece.width = std::max({piece.width, title_width(piece.title), right_edge(piece.marks)});
      pieces.push_back(std::move(piece));
    }
    return pieces;
  }

  /// With the words of its head, but without marks.
  Piece uncut() const {
    Piece piece;
    piece.what = band_.what;
    piece.title = (band_.label.empty() ? "" : band_.label + "  ") + xml_text(band_.title);
    piece.width = std::max({least_width, drawing_.width, title_width(piece.title)});
    if (!band_.hint.empty()) piece.hint = wrapped(xml_text(band_.hint), piece.width / letter_size);
    piece.is_led_to = band_.what == Band::What::phase && at_ > 0;
    if (piece.is_led_to) piece.comes_from = filled(chart_.comes_from, xml_text(chart_.bands[at_ - 1].title));
    if (!drawing_.middles.empty()) piece.in = drawing_.middles.front();
    piece.main_way = piece.in.x;
    for (std::size_t s = 0; s < band_.shapes.size(); ++s) {
      if (band_.shapes[s].what != Shape::What::onward) continue;
      piece.leads_on = true;
      piece.out = drawing_.middles[s];
      const Band& next = chart_.bands[at_ + 1];
      piece.goes_on = filled(chart_.goes_on_at, first_number_of(next)) + ": " + xml_text(next.title);
    }
    return piece;
  }

 private:
  const Chart& chart_;
  std::size_t at_;
  const Band& band_;
  const layout::Drawing& drawing_;
  const std::string& prefix_;
  CutLetters& letters_;
};

}  // namespace

std::string CutLetters::next() {
  std::string letters;
  for (std::size_t left = count_++ + 1; left > 0; left = (left - 1) / 26) letters.insert(letters.begin(), static_cast<char>('a' + (left - 1) % 26));
  return letters;
}

double Piece::framed_width() const { return width + 2 * padding; }
double Piece::framed_height() const { return head_height(*this) + height + 2 * padding; }

std::vector<Piece> pieces_of_band(const PlacedChart& placed, std::size_t band, double room, CutLetters& letters) {
  return PieceMaker(placed, band, "", letters).all(room);
}

std::vector<Piece> pieces_of(const PlacedChart& placed, double highest, const std::string& prefix, CutLetters& letters) {
  std::vector<Piece> pieces;
  for (std::size_t band = 0; band < placed.chart.bands.size(); ++band) {
    const PieceMaker maker(placed, band, prefix, letters);
    for (Piece& piece : maker.all(highest - 2 * padding - head_height(maker.uncut()))) {
      // Whether a letter stands there is known when there are columns, and then it is too late to be wider.
      if (piece.leads_on) {
        piece.width = std::max(piece.width, width_in_ems(piece.goes_on) * letter_size);
        piece.height += words_line;
      }
      if (piece.is_led_to) piece.width = std::max(piece.width, beside_circle(piece.in, piece.comes_from));
      pieces.push_back(std::move(piece));
    }
  }
  return pieces;
}

void join_by_letter(Piece& from, Piece& to, const std::string& letter) {
  put_letter(from.marks, from.out, letter);
  const double half = width_in_ems(from.goes_on) * letter_size / 2;
  from.marks.push_back(words(Type::plain, {std::clamp(from.out.x, half, std::max(half, from.width - half)), from.out.y + circle + 12}, from.goes_on, true));
  put_letter(to.marks, to.in, letter);
  to.marks.push_back(words(Type::plain, {to.in.x + circle + 5, to.in.y + 4}, to.comes_from));
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
