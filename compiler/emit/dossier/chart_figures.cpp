#include "emit/dossier/chart_figures.hpp"

#include <algorithm>
#include <cmath>

#include "emit/flow_chart/lettering.hpp"

namespace stepward::emit::dossier {

using flow_chart::Band;
using flow_chart::Lettered;
using flow_chart::Shape;
using flow_chart::Way;
using layout::Point;

namespace {

constexpr double air = 8;               // around a band
constexpr double highest = 840;         // of a figure: at 2/3 it stands on every face, with the heading above it
constexpr double widest = 780;          // of figures that stand side by side: the width of the narrowest face, at 2/3
constexpr double a_row = 60;            // about what a shape takes with the way to the next
constexpr double at_the_cut = 3;        // around a part of a band
constexpr double between_columns = 24;
constexpr double round = 0.5523;        // a quarter of a circle as a cubic: common practice, error below 0.03 percent
constexpr double above_letters = 11.5;  // from the top of a line of type to its foot

class BandPen {
 public:
  BandPen(const Band& band, const layout::Drawing& drawing) : band_(band), drawing_(drawing) {
    figure_.width = drawing.width + 2 * air;
    figure_.height = drawing.height + 2 * air;
    figure_.told = band.title;
  }

  Figure draw() {
    for (std::size_t i = 0; i < band_.ways.size(); ++i) way(band_.ways[i], drawing_.routes[i]);
    for (std::size_t i = 0; i < band_.shapes.size(); ++i) shape(band_.shapes[i], at(drawing_.middles[i]));
    for (std::size_t i = 0; i < band_.ways.size(); ++i) way_label(band_.ways[i], drawing_.routes[i]);
    return std::move(figure_);
  }

 private:
  static Point at(Point inner) { return {inner.x + air, inner.y + air}; }

  void stroke(std::vector<Figure::Point> points, bool curved, bool closed, double line, Figure::Fill fill = Figure::Fill::none) {
    figure_.strokes.push_back({std::move(points), curved, closed, false, false, line, fill});
  }

  void way(const Way& way, const layout::Route& route) {
    if (route.points.size() < 2) return;
    Figure::Stroke line{{}, route.points.size() % 3 == 1, false, way.goes_back, band_.shapes[way.to].what != Shape::What::onward, way.is_main ? 2.2 : 1, Figure::Fill::none};
    for (const Point& point : route.points) line.points.push_back({at(point).x, at(point).y});
    figure_.strokes.push_back(std::move(line));
  }

  void words(double middle, double foot, const std::string& text, bool strong, bool white = false) {
    if (!text.empty()) figure_.words.push_back({middle, foot, text, strong, white});
  }

  void way_label(const Way& way, const layout::Route& route) {
    if (way.label.empty()) return;
    const auto lines = flow_chart::wrapped(way.label, 9);
    const Point middle = at(route.label);
    double foot = middle.y - static_cast<double>(lines.size()) * flow_chart::line_height / 2 + above_letters;
    for (const std::string& line : lines) {
      words(middle.x, foot, line, true);
      foot += flow_chart::line_height;
    }
  }

  void shape(const Shape& shape, Point middle) {
    if (shape.what == Shape::What::onward) return;
    const Lettered text = flow_chart::lettered(shape);
    outline(shape, middle, text);
    const bool white = shape.what == Shape::What::ending && shape.emergency;
    double foot = middle.y - text.height / 2 + 6 + above_letters;
    const auto put = [&](const std::string& line, bool strong) {
      words(middle.x, foot, line, strong, white);
      foot += flow_chart::line_height;
    };
    if (!text.head.empty()) put(text.head, true);
    for (const std::string& line : text.lines) put(line, false);
    for (const std::string& mark : text.marks) put(mark, true);
  }

  void rectangle(double left, double top, double right, double foot, double line, Figure::Fill fill) {
    stroke({{left, top}, {right, top}, {right, foot}, {left, foot}}, false, true, line, fill);
  }

  /// With half circles at both ends.
  void pill(double left, double top, double right, double foot, double line, Figure::Fill fill) {
    const double r = std::min(right - left, foot - top) / 2, k = r * round, middle = (top + foot) / 2;
    stroke({{left + r, top}, {left + r, top}, {right - r, top}, {right - r, top}, {right - r + k, top}, {right, middle - k}, {right, middle}, {right, middle + k},
            {right - r + k, foot}, {right - r, foot}, {right - r, foot}, {left + r, foot}, {left + r, foot}, {left + r - k, foot}, {left, middle + k}, {left, middle},
            {left, middle - k}, {left + r - k, top}, {left + r, top}},
           true, true, line, fill);
  }

  void question(double left, double top, double right, double foot) {
    const double half = (foot - top) / 2, corner = std::min(16.0, half);
    stroke({{left, top + half}, {left + corner, top}, {right - corner, top}, {right, top + half}, {right - corner, foot}, {left + corner, foot}}, false, true, 1.5, Figure::Fill::white);
  }

  void outline(const Shape& shape, Point middle, const Lettered& size) {
    const double left = middle.x - size.width / 2, top = middle.y - size.height / 2, right = left + size.width, foot = top + size.height;
    switch (shape.what) {
      case Shape::What::entry: pill(middle.x - 3, middle.y - 3, middle.x + 3, middle.y + 3, 1, Figure::Fill::black); return;
      case Shape::What::step: rectangle(left, top, right, foot, shape.critical_word.empty() ? 1 : 3, Figure::Fill::white); return;
      case Shape::What::box:
        rectangle(left, top, right, foot, 1, Figure::Fill::white);
        stroke({{left + 5, top}, {left + 5, foot}}, false, false, 1);
        stroke({{right - 5, top}, {right - 5, foot}}, false, false, 1);
        return;
      case Shape::What::question: question(left, top, right, foot); return;
      case Shape::What::fork:
      case Shape::What::join: rectangle(left, top, right, foot, 1, Figure::Fill::black); return;
      case Shape::What::ending: pill(left, top, right, foot, shape.emergency ? 1 : 3, shape.emergency ? Figure::Fill::black : Figure::Fill::white); return;
      case Shape::What::resume:
      case Shape::What::back:
      case Shape::What::loose_end: pill(left, top, right, foot, 1, Figure::Fill::white); return;
      case Shape::What::onward: return;
    }
  }

  const Band& band_;
  const layout::Drawing& drawing_;
  Figure figure_;
};

// ------------------------------------------------------------------ cutting

struct Reach { double top = 0, foot = 0; };

Reach reach_of(const Figure::Stroke& stroke) {
  Reach reach{stroke.points.front().y, stroke.points.front().y};
  for (const Figure::Point& point : stroke.points) {
    reach.top = std::min(reach.top, point.y);
    reach.foot = std::max(reach.foot, point.y);
  }
  return reach;
}

/// Nothing but ways may be cut: the lowest place above `limit` that no shape and no word stands on; else the limit itself.
double cut_above(const Figure& figure, double from, double limit) {
  std::vector<Reach> taken;
  for (const Figure::Stroke& stroke : figure.strokes)
    if (stroke.closed) taken.push_back(reach_of(stroke));
  for (const Figure::Words& words : figure.words) taken.push_back({words.foot - above_letters, words.foot + 4});
  for (double y = limit; y > from + highest / 4; y -= 2) {
    if (std::none_of(taken.begin(), taken.end(), [&](const Reach& reach) { return reach.top - 3 < y && y < reach.foot + 3; })) return y;
  }
  return limit;
}

Figure slice(const Figure& whole, double from, double to) {
  Figure part;
  part.width = whole.width;
  part.height = to - from + 2 * at_the_cut;
  part.told = whole.told;
  for (Figure::Stroke stroke : whole.strokes) {
    const Reach reach = reach_of(stroke);
    if (reach.foot < from || reach.top > to) continue;
    for (Figure::Point& point : stroke.points) point.y += at_the_cut - from;
    part.strokes.push_back(std::move(stroke));
  }
  for (Figure::Words words : whole.words) {
    if (words.foot < from || words.foot > to) continue;
    words.foot += at_the_cut - from;
    part.words.push_back(std::move(words));
  }
  return part;
}

std::vector<Figure> cut(const Figure& whole) {
  std::vector<Figure> parts;
  double from = 0;
  while (whole.height - from > highest) {
    // Parts of about the same height: one shape by itself in a column looks forgotten.
    const double left = whole.height - from, even = left / std::ceil(left / highest);
    const double to = cut_above(whole, from, from + std::min(highest, even + a_row));
    parts.push_back(slice(whole, from, to));
    from = to;
  }
  parts.push_back(slice(whole, from, whole.height));
  return parts;
}

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
std::vector<Figure> on_faces(const Figure& whole) {
  std::vector<Figure> faces;
  for (Figure& part : cut(whole)) {
    if (!faces.empty() && faces.back().width + between_columns + part.width <= widest) put_beside(faces.back(), part);
    else faces.push_back(std::move(part));
  }
  return faces;
}

bool looks_the_same(const Figure& a, const Figure& b) {
  const auto same_words = [](const Figure::Words& x, const Figure::Words& y) { return x.text == y.text && x.middle == y.middle && x.foot == y.foot; };
  const auto same_stroke = [](const Figure::Stroke& x, const Figure::Stroke& y) {
    return x.closed == y.closed && x.line == y.line && x.fill == y.fill &&
           std::equal(x.points.begin(), x.points.end(), y.points.begin(), y.points.end(), [](auto p, auto q) { return p.x == q.x && p.y == q.y; });
  };
  return a.width == b.width && a.height == b.height && std::equal(a.words.begin(), a.words.end(), b.words.begin(), b.words.end(), same_words) &&
         std::equal(a.strokes.begin(), a.strokes.end(), b.strokes.begin(), b.strokes.end(), same_stroke);
}

struct WholeBand { std::string title; std::vector<std::size_t> variants; Figure figure; };

std::string title_of(const Band& band) { return (band.label.empty() ? "" : band.label + "  ") + band.title + (band.hint.empty() ? "" : "  –  " + band.hint); }

}  // namespace

std::vector<ChartFigure> chart_figures(const std::vector<flow_chart::PlacedChart>& charts) {
  std::vector<ChartFigure> all;
  for (const auto what : {Band::What::phase, Band::What::box, Band::What::breach}) {
    std::vector<WholeBand> bands;
    for (std::size_t v = 0; v < charts.size(); ++v) {
      std::size_t behind = 0;  // a band of a new name goes behind the one that it follows here
      for (std::size_t b = 0; b < charts[v].chart.bands.size(); ++b) {
        const Band& band = charts[v].chart.bands[b];
        if (band.what != what) continue;
        WholeBand drawn{title_of(band), {v + 1}, BandPen(band, charts[v].bands[b]).draw()};
        const auto same = std::find_if(bands.begin(), bands.end(), [&](const WholeBand& each) { return each.title == drawn.title && looks_the_same(each.figure, drawn.figure); });
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
    for (const WholeBand& band : bands) {
      std::string title = band.title;
      for (Figure& part : on_faces(band.figure)) {
        all.push_back({title, band.variants, std::move(part)});
        title.clear();
      }
    }
  }
  return all;
}

}  // namespace stepward::emit::dossier
