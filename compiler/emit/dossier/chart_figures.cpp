#include "emit/dossier/chart_figures.hpp"

#include <algorithm>
#include <limits>

#include "emit/flow_chart/lettering.hpp"
#include "emit/flow_chart/pieces.hpp"

namespace stepward::emit::dossier {

using flow_chart::Band;
using flow_chart::Ink;
using flow_chart::Mark;
using flow_chart::Piece;

namespace {

constexpr double air = 8;               // around a part of a band
constexpr double highest = 840;         // of a figure: at 2/3 it stands on every face, with the heading above it
constexpr double widest = 780;          // of figures that stand side by side: the width of the narrowest face, at 2/3
constexpr double caption = 20;          // "part 1 / 2", above a part
constexpr double broadest = 885;        // of a figure alone: the narrowest face holds 905 in letters of 7 points, and the outermost shapes keep their width
constexpr double closest = 0.88;        // to what part shapes move together: 21 points between them become 5 or more
constexpr double least_width = 120;     // of a part, so that its caption has room
constexpr double between_columns = 24;
constexpr double round = 0.5523;        // a quarter of a circle as a cubic: common practice, error below 0.03 percent

/// From the leftmost to the rightmost of what is drawn: a part of a wide band may use little of its width.
struct Extent { double left = 0, right = 0; };

Extent extent_of(const std::vector<Mark>& marks) {
  Extent all{std::numeric_limits<double>::infinity(), 0};
  for (const Mark& mark : marks) {
    const double x = mark.points[0].x;
    Extent here{x, x};
    if (mark.what == Mark::What::rectangle) here.right = x + mark.points[1].x;
    else if (mark.what == Mark::What::disc) here = {x - mark.points[1].x, x + mark.points[1].x};
    else if (mark.what == Mark::What::words) {
      const double width = flow_chart::width_in_ems(mark.text) * flow_chart::type_of(mark.type).size;
      here = mark.in_the_middle ? Extent{x - width / 2, x + width / 2} : Extent{x, x + width};
    } else {
      for (const flow_chart::Point& each : mark.points) here = {std::min(here.left, each.x), std::max(here.right, each.x)};
    }
    all = {std::min(all.left, here.left), std::max(all.right, here.right)};
  }
  return marks.empty() ? Extent{} : all;
}

/// A piece that is wider than a face bears, with less room between its shapes; these stay as they are.
void draw_in(std::vector<Mark>& marks, double left, double part) {
  const auto moved = [&](double x) { return (x - left) * (part - 1); };
  std::string shape;
  double by = 0;
  for (Mark& mark : marks) {
    if (mark.id.empty() || mark.id != shape) {
      shape = mark.id;
      double middle = mark.points[0].x;
      if (mark.what == Mark::What::rectangle) middle += mark.points[1].x / 2;
      else if (mark.what == Mark::What::polygon) middle = (mark.points[0].x + mark.points[mark.points.size() / 2].x) / 2;
      by = moved(middle);
    }
    const bool is_way = mark.id.empty() && (mark.what == Mark::What::line || mark.what == Mark::What::curve);
    if (is_way) for (flow_chart::Point& point : mark.points) point.x += moved(point.x);
    else flow_chart::move_by(mark, by, 0);
  }
}

/// As it fits on a face: what the least size of letters allows, or a little more where shapes would touch.
Piece fitting(Piece piece) {
  const Extent extent = extent_of(piece.marks);
  const double wide = extent.right - extent.left, room = broadest - 2 * air;
  if (wide <= room) return piece;
  const double part = std::max(closest, room / wide);
  draw_in(piece.marks, extent.left, part);
  piece.out.x += (piece.out.x - extent.left) * (part - 1);
  return piece;
}

/// The marks of one piece as lines and words.
class FigurePen {
 public:
  explicit FigurePen(const Piece& piece) : piece_(piece), top_(air + (piece.parts > 1 ? caption : 0)) {
    const Extent extent = extent_of(piece.marks);
    left_ = air - extent.left;
    figure_.width = std::max(least_width, extent.right - extent.left) + 2 * air;
    figure_.height = piece.height + top_ + air;
  }

  Figure draw() {
    if (piece_.parts > 1) figure_.words.push_back({figure_.width / 2, air + 10, piece_.part_title, true, false});
    for (const Mark& mark : piece_.marks) put(mark);
    if (piece_.leads_on) put_below(piece_.out, piece_.goes_on);
    return std::move(figure_);
  }

 private:
  Figure::Point at(flow_chart::Point inner) const { return {inner.x + left_, inner.y + top_}; }

  void put(const Mark& mark) {
    switch (mark.what) {
      case Mark::What::rectangle: rounded(at(mark.points[0]), mark.points[1].x, mark.points[1].y, mark.round, mark.look); return;
      case Mark::What::disc: {
        const double r = mark.points[1].x;
        const Figure::Point middle = at(mark.points[0]);
        rounded({middle.x - r, middle.y - r}, 2 * r, 2 * r, r, mark.look);
        return;
      }
      case Mark::What::polygon: stroke(mark, false, true); return;
      case Mark::What::curve: stroke(mark, true, false); return;
      case Mark::What::line: stroke(mark, false, false); return;
      case Mark::What::words: put_words(mark); return;
    }
  }

  void stroke(const Mark& mark, bool curved, bool closed) {
    std::vector<Figure::Point> points;
    for (const flow_chart::Point& each : mark.points) points.push_back(at(each));
    if (points.size() > 1) stroke(std::move(points), curved, closed, mark.arrow, mark.look);
  }

  void stroke(std::vector<Figure::Point> points, bool curved, bool closed, bool arrow, flow_chart::Look look) {
    const Ink ink = flow_chart::ink_of(look);
    const Figure::Fill fill = ink.fill < 0 ? Figure::Fill::none : ink.fill < 0.5 ? Figure::Fill::black : Figure::Fill::white;
    figure_.strokes.push_back({std::move(points), curved, closed, ink.dash > 0, arrow, ink.width, fill});
  }

  /// A rectangle whose corners are quarters of a circle; with half its height a pill, with half of all its sides a disc.
  void rounded(Figure::Point corner, double width, double height, double r, flow_chart::Look look) {
    const double left = corner.x, top = corner.y, right = left + width, foot = top + height;
    if (r <= 0) return stroke({{left, top}, {right, top}, {right, foot}, {left, foot}}, false, true, false, look);
    r = std::min({r, width / 2, height / 2});
    const double k = r * (1 - round);
    const auto straight = [](Figure::Point from, Figure::Point to) { return std::vector<Figure::Point>{from, to, to}; };
    std::vector<Figure::Point> points{{left + r, top}};
    const auto add = [&](const std::vector<Figure::Point>& more) { points.insert(points.end(), more.begin(), more.end()); };
    add(straight({left + r, top}, {right - r, top}));
    add({{right - k, top}, {right, top + k}, {right, top + r}});
    add(straight({right, top + r}, {right, foot - r}));
    add({{right, foot - k}, {right - k, foot}, {right - r, foot}});
    add(straight({right - r, foot}, {left + r, foot}));
    add({{left + k, foot}, {left, foot - k}, {left, foot - r}});
    add(straight({left, foot - r}, {left, top + r}));
    add({{left, top + k}, {left + k, top}, {left + r, top}});
    stroke(std::move(points), true, true, false, look);
  }

  void put_words(const Mark& mark) {
    const flow_chart::Lettering letters = flow_chart::type_of(mark.type);
    const Figure::Point place = at(mark.points[0]);
    const double half = mark.in_the_middle ? 0 : flow_chart::width_in_ems(mark.text) * letters.size / 2;
    figure_.words.push_back({place.x + half, place.y, mark.text, letters.bold, letters.white});
  }

  /// Below the way that leads on to the next phase, as near to its middle as the figure is wide.
  void put_below(flow_chart::Point inner, const std::string& text) {
    const Figure::Point place = at(inner);
    const double half = flow_chart::width_in_ems(text) * flow_chart::letter_size / 2;
    figure_.width = std::max(figure_.width, 2 * half);
    figure_.words.push_back({std::clamp(place.x, half, figure_.width - half), place.y + below_way, text, false, false});
    figure_.height = std::max(figure_.height, place.y + below_way + air);
  }

  static constexpr double below_way = 14;

  const Piece& piece_;
  double left_ = air, top_;
  Figure figure_;
};

/// Puts a figure beside another one, as columns of a page.
void put_beside(Figure& left, const Figure& right) {
  const double x = left.width + between_columns;
  for (Figure::Stroke stroke : right.strokes) {
    for (Figure::Point& point : stroke.points) point.x += x;
    left.strokes.push_back(std::move(stroke));
  }
  for (Figure::Words words : right.words) {
    words.middle += x;
    left.words.push_back(std::move(words));
  }
  left.width = x + right.width;
  left.height = std::max(left.height, right.height);
}

/// A band cut to faces: parts that are narrow stand side by side.
std::vector<Figure> on_faces(const std::vector<Piece>& pieces, const std::string& told) {
  std::vector<Figure> faces;
  for (const Piece& piece : pieces) {
    const Piece fits = fitting(piece);
    Figure part = FigurePen(fits).draw();
    part.told = told;
    if (!faces.empty() && faces.back().width + between_columns + part.width <= widest) put_beside(faces.back(), part);
    else faces.push_back(std::move(part));
  }
  return faces;
}

bool looks_the_same(const Mark& a, const Mark& b) {
  const auto same_point = [](flow_chart::Point p, flow_chart::Point q) { return p.x == q.x && p.y == q.y; };
  return a.what == b.what && a.look == b.look && a.text == b.text && a.type == b.type && a.arrow == b.arrow &&
         std::equal(a.points.begin(), a.points.end(), b.points.begin(), b.points.end(), same_point);
}

bool look_the_same(const std::vector<Piece>& a, const std::vector<Piece>& b) {
  const auto same_piece = [](const Piece& x, const Piece& y) {
    return x.goes_on == y.goes_on && std::equal(x.marks.begin(), x.marks.end(), y.marks.begin(), y.marks.end(), looks_the_same);
  };
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), same_piece);
}

struct WholeBand { std::string title; std::vector<std::size_t> variants; std::vector<Piece> pieces; };

/// "B1  Glove torn  –  At any time. Stop, then": "continued" may follow it.
std::string title_of(const Band& band) {
  std::string title = (band.label.empty() ? "" : band.label + "  ") + band.title + (band.hint.empty() ? "" : "  –  " + band.hint);
  if (title.ends_with(':')) title.pop_back();
  return title;
}

/// The bands of one kind, each once for the variants that draw it alike.
std::vector<WholeBand> bands_of(const std::vector<flow_chart::PlacedChart>& charts, Band::What what) {
  std::vector<WholeBand> bands;
  for (std::size_t v = 0; v < charts.size(); ++v) {
    std::size_t behind = 0;  // a band of a new name goes behind the one that it follows here
    for (std::size_t b = 0; b < charts[v].chart.bands.size(); ++b) {
      if (charts[v].chart.bands[b].what != what) continue;
      flow_chart::CutLetters letters;
      WholeBand drawn{title_of(charts[v].chart.bands[b]), {v + 1}, flow_chart::pieces_of_band(charts[v], b, highest - 3 * air - caption, letters)};
      const auto same = std::find_if(bands.begin(), bands.end(), [&](const WholeBand& each) { return each.title == drawn.title && look_the_same(each.pieces, drawn.pieces); });
      if (same != bands.end()) {
        same->variants.push_back(v + 1);
        behind = static_cast<std::size_t>(same - bands.begin()) + 1;
      } else {
        for (std::size_t i = 0; i < bands.size(); ++i)
          if (bands[i].title == drawn.title) behind = i + 1;  // one that is drawn otherwise elsewhere stands beside that
        bands.insert(bands.begin() + static_cast<std::ptrdiff_t>(behind), std::move(drawn));
        ++behind;
      }
    }
  }
  return bands;
}

}  // namespace

std::vector<ChartFigure> chart_figures(const std::vector<flow_chart::PlacedChart>& charts) {
  std::vector<ChartFigure> all;
  for (const auto what : {Band::What::phase, Band::What::box, Band::What::breach}) {
    for (const WholeBand& band : bands_of(charts, what)) {
      std::string title = band.title;
      for (Figure& part : on_faces(band.pieces, band.title)) {
        all.push_back({title, band.variants, std::move(part)});
        title.clear();
      }
    }
  }
  return all;
}

}  // namespace stepward::emit::dossier
