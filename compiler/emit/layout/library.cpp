#include "emit/layout/library.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <fmt/format.h>
#include <graphviz/gvc.h>

namespace stepward::emit::layout {
namespace {

constexpr double points_per_inch = 72;

/// What Graphviz last complained of; its own interface has room for one listener only.
std::string& complaint() {
  static std::string said;
  return said;
}

int listen(char* text) {
  complaint() += text;
  return 0;
}

/// Graphviz asks for texts that it may change.
void set_for(void* thing, const char* name, const std::string& value) {
  agsafeset(thing, const_cast<char*>(name), const_cast<char*>(value.c_str()), const_cast<char*>(""));
}

std::string inches(double points) { return fmt::format("{:.4f}", points / points_per_inch); }

/// One sketch as a graph of the library, for the time of one layout.
class Placing {
 public:
  explicit Placing(const Sketch& sketch) : sketch_(sketch), graph_(agopen(const_cast<char*>("chart"), Agdirected, nullptr)) {
    say_how();
    add_boxes();
    add_lines();
  }
  ~Placing() { agclose(graph_); }
  Placing(const Placing&) = delete;
  Placing& operator=(const Placing&) = delete;

  Agraph_t* graph() const { return graph_; }

  Drawing drawing() const {
    const boxf frame = GD_bb(graph_);
    Drawing drawing;
    drawing.width = frame.UR.x - frame.LL.x;
    drawing.height = frame.UR.y - frame.LL.y;
    for (Agnode_t* node : nodes_) drawing.middles.push_back(seen(ND_coord(node)));
    for (Agedge_t* edge : edges_) drawing.routes.push_back(route(edge));
    return drawing;
  }

  /// After `pin`: boxes stand where they were told to, in lanes of this extent.
  Drawing drawing_in(const std::vector<Point>& middles, std::vector<Area> lanes) const;

  /// Puts every box where it is told to stand; only the ways are still to be found.
  void pin(const std::vector<Point>& middles) {
    set_for(graph_, "splines", splines());
    for (std::size_t i = 0; i < nodes_.size(); ++i) set_for(nodes_[i], "pos", fmt::format("{:.2f},{:.2f}", middles[i].x, -middles[i].y));
  }

 private:
  const char* splines() const { return sketch_.curved ? "true" : "polyline"; }

  void say_how() {
    set_for(graph_, "rankdir", sketch_.flow == Sketch::Flow::down ? "TB" : "LR");
    // In lanes the boxes are moved before any way is looked for.
    set_for(graph_, "splines", sketch_.lanes > 0 ? "none" : splines());
    set_for(graph_, "nodesep", "0.3");
    set_for(graph_, "ranksep", sketch_.lanes > 0 ? "0.6" : "0.35");
    set_for(graph_, "notranslate", "true");
  }

  void add_boxes() {
    for (std::size_t i = 0; i < sketch_.boxes.size(); ++i) {
      const Box& box = sketch_.boxes[i];
      std::string name = fmt::format("b{}", i);
      Agnode_t* node = agnode(graph_, name.data(), 1);
      set_for(node, "shape", box.outline == Outline::rectangle ? "box" : box.outline == Outline::diamond ? "diamond" : "circle");
      set_for(node, "fixedsize", "true");
      set_for(node, "label", "");
      set_for(node, "width", inches(box.width));
      set_for(node, "height", inches(box.height));
      if (box.on_main_way) set_for(node, "group", "main");
      nodes_.push_back(node);
    }
    keep_at_end(Stands::first, "first", "source");
    keep_at_end(Stands::last, "last", "sink");
  }

  /// Everything that stands at one end of the flow.
  void keep_at_end(Stands stands, const char* name, const char* rank) {
    Agraph_t* end = nullptr;
    for (std::size_t i = 0; i < sketch_.boxes.size(); ++i) {
      if (sketch_.boxes[i].stands != stands) continue;
      if (!end) end = agsubg(graph_, const_cast<char*>(name), 1);
      agsubnode(end, nodes_[i], 1);
    }
    if (end) set_for(end, "rank", rank);
  }

  void add_lines() {
    for (std::size_t i = 0; i < sketch_.lines.size(); ++i) {
      const Line& line = sketch_.lines[i];
      std::string name = fmt::format("l{}", i);
      Agedge_t* edge = agedge(graph_, nodes_[line.from], nodes_[line.to], name.data(), 1);
      if (line.on_main_way) set_for(edge, "weight", "12");
      if (line.label_width > 0 && sketch_.lanes == 0) make_room(edge, line);
      edges_.push_back(edge);
    }
  }

  /// A table without words: its size is given, so no font is asked.
  void make_room(Agedge_t* edge, const Line& line) {
    std::string table = fmt::format(
        "<table fixedsize=\"true\" width=\"{:.0f}\" height=\"{:.0f}\" border=\"0\" cellborder=\"0\" cellspacing=\"0\"><tr><td></td></tr></table>",
        line.label_width, line.label_height);
    char* html = agstrdup_html(graph_, table.data());
    agsafeset(edge, const_cast<char*>("label"), html, const_cast<char*>(""));
    agstrfree(graph_, html);
  }

  /// The library counts upwards.
  Point seen(pointf at) const {
    const boxf frame = GD_bb(graph_);
    return {at.x - frame.LL.x, frame.UR.y - at.y};
  }

  Route route(Agedge_t* edge) const {
    Route route;
    if (ED_label(edge)) route.label = seen(ED_label(edge)->pos);
    if (!ED_spl(edge) || ED_spl(edge)->size == 0) return route;
    const bezier& curve = ED_spl(edge)->list[0];
    const int step = sketch_.curved ? 1 : 3;
    for (int i = 0; i < curve.size; i += step) route.points.push_back(seen(curve.list[i]));
    if (curve.eflag) reach(route, seen(curve.ep));
    if (!sketch_.curved) drop_doubles(route.points);
    return route;
  }

  /// The library leaves room for an arrowhead; whoever draws sets the head on the end of the line itself.
  void reach(Route& route, Point tip) const {
    if (!sketch_.curved) {
      route.points.push_back(tip);
      return;
    }
    const Point end = route.points.back();
    const Point third{end.x + (tip.x - end.x) / 3, end.y + (tip.y - end.y) / 3};
    const Point two_thirds{end.x + 2 * (tip.x - end.x) / 3, end.y + 2 * (tip.y - end.y) / 3};
    route.points.insert(route.points.end(), {third, two_thirds, tip});
  }

  static void drop_doubles(std::vector<Point>& points) {
    const auto same = [](Point a, Point b) { return a.x - b.x < 0.01 && b.x - a.x < 0.01 && a.y - b.y < 0.01 && b.y - a.y < 0.01; };
    points.erase(std::unique(points.begin(), points.end(), same), points.end());
  }

  const Sketch& sketch_;
  Agraph_t* graph_;
  std::vector<Agnode_t*> nodes_;
  std::vector<Agedge_t*> edges_;
};

// ------------------------------------------------------------------ lanes

constexpr double between_rows = 34, edge_of_lane = 17;

/// Boxes of one lane that came to stand at the same place of the flow, one below the other in the order that the library
/// found. A lane is as high as its highest such pile.
struct Pile {
  std::vector<std::size_t> boxes;
  double height = 0;
};

/// By lane, then by place in the flow.
std::vector<std::map<long, Pile>> piles_of(const Sketch& sketch, const Drawing& flow) {
  std::vector<std::map<long, Pile>> piles(sketch.lanes);
  for (std::size_t i = 0; i < sketch.boxes.size(); ++i) piles[sketch.boxes[i].lane][std::lround(flow.middles[i].x)].boxes.push_back(i);
  for (auto& lane : piles) {
    for (auto& [place, pile] : lane) {
      std::stable_sort(pile.boxes.begin(), pile.boxes.end(), [&](std::size_t a, std::size_t b) { return flow.middles[a].y < flow.middles[b].y; });
      for (const std::size_t box : pile.boxes) pile.height += (pile.height > 0 ? between_rows : 0) + sketch.boxes[box].height;
    }
  }
  return piles;
}

/// Where the boxes stand once every lane has its own strip beside the flow.
std::vector<Point> middles_in_lanes(const Sketch& sketch, const Drawing& flow, std::vector<Area>& lanes) {
  std::vector<Point> middles = flow.middles;
  double top = 0;
  for (const auto& lane : piles_of(sketch, flow)) {
    double height = 0;
    for (const auto& [place, pile] : lane) height = std::max(height, pile.height);
    const double bottom = top + height + 2 * edge_of_lane;
    for (const auto& [place, pile] : lane) {
      double y = (top + bottom - pile.height) / 2;
      for (const std::size_t box : pile.boxes) {
        middles[box].y = y + sketch.boxes[box].height / 2;
        y += sketch.boxes[box].height + between_rows;
      }
    }
    lanes.push_back({0, top, flow.width, bottom});
    top = bottom;
  }
  return middles;
}

/// The place for a label: on the way, a little behind its begin, where a question's answers are apart.
Point near_begin(const std::vector<Point>& points) {
  double left = 34;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const double x = points[i].x - points[i - 1].x, y = points[i].y - points[i - 1].y;
    const double length = std::sqrt(x * x + y * y);
    if (length >= left || i + 1 == points.size()) {
      const double part = length > 0 ? std::min(1.0, left / length) : 0;
      return {points[i - 1].x + x * part, points[i - 1].y + y * part};
    }
    left -= length;
  }
  return points.empty() ? Point{} : points.front();
}

Drawing Placing::drawing_in(const std::vector<Point>& middles, std::vector<Area> lanes) const {
  Drawing drawing = this->drawing();
  // The library may have moved the whole picture; the boxes say by how much.
  const Point by = middles.empty() ? Point{} : Point{middles[0].x - drawing.middles[0].x, middles[0].y - drawing.middles[0].y};
  for (layout::Route& route : drawing.routes) {
    for (Point& point : route.points) point = {point.x + by.x, point.y + by.y};
    route.label = near_begin(route.points);
  }
  drawing.middles = middles;
  drawing.width = lanes.empty() ? 0 : lanes.front().right;
  drawing.height = lanes.empty() ? 0 : lanes.back().bottom;
  drawing.lanes = std::move(lanes);
  return drawing;
}

// ------------------------------------------------------------------ straight ways

/// Where a line from the middle of a box towards another place leaves the box.
Point edge_towards(const Box& box, Point middle, Point there) {
  const double x = there.x - middle.x, y = there.y - middle.y;
  const double across = x == 0 ? 1 : std::abs(box.width / 2 / x), down = y == 0 ? 1 : std::abs(box.height / 2 / y);
  const double part = std::min({1.0, across, down});
  return {middle.x + x * part, middle.y + y * part};
}

std::vector<Point> straight_way(const Box& from, Point a, const Box& to, Point b) {
  if (a.x != b.x || a.y != b.y) return {edge_towards(from, a, b), edge_towards(to, b, a)};
  const double right = a.x + from.width / 2, foot = a.y + from.height / 2, out = edge_of_lane / 2;
  return {{right, a.y}, {right + out, a.y}, {right + out, foot + out}, {a.x, foot + out}, {a.x, foot}};
}

Drawing with_straight_ways(const Sketch& sketch, double width, const std::vector<Point>& middles, std::vector<Area> lanes) {
  Drawing drawing;
  drawing.width = width;
  drawing.height = lanes.empty() ? 0 : lanes.back().bottom;
  drawing.middles = middles;
  for (const Line& line : sketch.lines) {
    Route route{straight_way(sketch.boxes[line.from], middles[line.from], sketch.boxes[line.to], middles[line.to]), {}};
    route.label = near_begin(route.points);
    drawing.routes.push_back(std::move(route));
  }
  drawing.lanes = std::move(lanes);
  return drawing;
}

}  // namespace

struct Library::Context {
  GVC_t* context = gvContext();
  ~Context() { gvFreeContext(context); }

  /// Runs one of the library's engines; false: it gave up.
  bool run(Agraph_t* graph, const char* engine) const { return gvLayout(context, graph, engine) == 0; }
};

Library::Library() : context_(std::make_unique<Context>()) {
  agseterr(AGERR);
  agseterrf(listen);
}

Library::~Library() { agseterrf(nullptr); }

std::optional<Drawing> Library::place(const Sketch& sketch, bool straight, std::string& why) {
  complaint().clear();
  Placing placing(sketch);
  std::optional<Drawing> drawing;
  if (context_->run(placing.graph(), "dot")) drawing = placing.drawing();
  gvFreeLayout(context_->context, placing.graph());
  if (drawing && sketch.lanes > 0) {
    std::vector<Area> lanes;
    const std::vector<Point> middles = middles_in_lanes(sketch, *drawing, lanes);
    if (straight) return with_straight_ways(sketch, drawing->width, middles, std::move(lanes));
    placing.pin(middles);
    const bool routed = context_->run(placing.graph(), "nop");
    drawing = routed ? std::optional(placing.drawing_in(middles, std::move(lanes))) : std::nullopt;
    gvFreeLayout(context_->context, placing.graph());
  }
  if (!drawing) why = complaint().empty() ? "the layout library gave no reason" : complaint();
  return drawing;
}

}  // namespace stepward::emit::layout
