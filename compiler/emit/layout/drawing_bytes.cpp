#include "emit/layout/drawing_bytes.hpp"

#include <cstring>

namespace stepward::emit::layout {
namespace {

class Packer {
 public:
  void put(double number) { bytes_.append(reinterpret_cast<const char*>(&number), sizeof number); }
  void put_count(std::size_t count) { put(static_cast<double>(count)); }
  void put(Point point) {
    put(point.x);
    put(point.y);
  }
  void put(const std::vector<Point>& points) {
    put_count(points.size());
    for (const Point& point : points) put(point);
  }
  void put(const std::string& text) {
    put_count(text.size());
    bytes_ += text;
  }
  std::string bytes() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

/// Behind the end everything is 0 and `is_cut` true.
class Unpacker {
 public:
  explicit Unpacker(const std::string& bytes) : bytes_(bytes) {}

  double number() {
    double number = 0;
    if (has(sizeof number)) std::memcpy(&number, bytes_.data() + at_, sizeof number);
    at_ += sizeof number;
    return is_cut() ? 0 : number;
  }
  std::size_t count() { return static_cast<std::size_t>(number()); }
  Point point() {
    const double x = number();
    return {x, number()};
  }
  std::vector<Point> points() {
    std::vector<Point> all;
    for (std::size_t left = count(); left > 0 && !is_cut(); --left) all.push_back(point());
    return all;
  }
  std::string text() {
    const std::size_t length = count();
    const std::string text = has(length) ? bytes_.substr(at_, length) : std::string();
    at_ += length;
    return text;
  }
  bool is_cut() const { return at_ > bytes_.size(); }
  bool is_done() const { return at_ >= bytes_.size(); }

 private:
  bool has(std::size_t length) const { return at_ <= bytes_.size() && length <= bytes_.size() - at_; }

  const std::string& bytes_;
  std::size_t at_ = 0;
};

Drawing unpacked(Unpacker& from) {
  Drawing drawing;
  drawing.width = from.number();
  drawing.height = from.number();
  drawing.middles = from.points();
  for (std::size_t left = from.count(); left > 0 && !from.is_cut(); --left) {
    Route route{from.points(), {}};
    route.label = from.point();
    drawing.routes.push_back(std::move(route));
  }
  for (std::size_t left = from.count(); left > 0 && !from.is_cut(); --left) {
    const Point corner = from.point(), other = from.point();
    drawing.lanes.push_back({corner.x, corner.y, other.x, other.y});
  }
  return drawing;
}

}  // namespace

std::string as_bytes(const Answer& answer) {
  Packer to;
  to.put(answer.why);
  to.put_count(answer.drawing ? 1 : 0);
  if (answer.drawing) {
    to.put(answer.drawing->width);
    to.put(answer.drawing->height);
    to.put(answer.drawing->middles);
    to.put_count(answer.drawing->routes.size());
    for (const Route& route : answer.drawing->routes) {
      to.put(route.points);
      to.put(route.label);
    }
    to.put_count(answer.drawing->lanes.size());
    for (const Area& lane : answer.drawing->lanes) {
      to.put(Point{lane.left, lane.top});
      to.put(Point{lane.right, lane.bottom});
    }
  }
  return to.bytes();
}

std::vector<Answer> answers_in(const std::string& bytes) {
  std::vector<Answer> all;
  for (Unpacker from(bytes); !from.is_done();) {
    Answer answer{std::nullopt, from.text()};
    if (from.count() == 1) answer.drawing = unpacked(from);
    if (!from.is_cut()) all.push_back(std::move(answer));
  }
  return all;
}

}  // namespace stepward::emit::layout
