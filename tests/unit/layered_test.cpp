// Boxes are placed in child processes, because the layout library ends some of them: every sketch comes back all the same.
#include <doctest/doctest.h>

#include <random>

#include "driver/layered.hpp"
#include "emit/layout/drawing_bytes.hpp"

#ifdef STEPWARD_WITH_LAYOUT

namespace layered_test {

using namespace stepward::emit::layout;

/// A number below `end`. The engine's numbers are the standard's (C++20, rand.eng.mers); its distributions are not, so none is used.
std::size_t below(std::mt19937& random, std::size_t end) { return random() % end; }

/// One box that everything is reached from, lines at random, lanes if wanted: much denser than any protocol, to meet the library's faults.
Sketch sketch_at_random(std::mt19937& random, bool lanes) {
  Sketch sketch;
  sketch.lanes = lanes ? 1 + below(random, 4) : 0;
  sketch.flow = lanes ? Sketch::Flow::right : Sketch::Flow::down;
  sketch.curved = !lanes;
  const std::size_t count = 2 + below(random, 38);
  for (std::size_t i = 0; i < count; ++i) {
    Box box;
    box.width = 20 + static_cast<double>(below(random, 200));
    box.height = 10 + static_cast<double>(below(random, 90));
    box.lane = lanes ? below(random, sketch.lanes) : 0;
    box.stands = i == 0 ? Stands::first : i + 1 == count ? Stands::last : Stands::anywhere;
    sketch.boxes.push_back(box);
    if (i > 0) sketch.lines.push_back({below(random, std::min(i, count - 1)), i, 0, 0, false});
  }
  for (std::size_t more = below(random, 2 * count); more > 0; --more) {
    const std::size_t from = below(random, count - 1), to = 1 + below(random, count - 1);
    sketch.lines.push_back({from, to, 0, 0, false});
  }
  return sketch;
}

std::vector<Sketch> sketches_at_random(std::size_t count, unsigned seed) {
  std::mt19937 random(seed);
  std::vector<Sketch> all;
  for (std::size_t i = 0; i < count; ++i) all.push_back(sketch_at_random(random, i % 2 == 1));
  return all;
}

void answers(const Sketch& sketch, const Drawing& drawing) {
  REQUIRE(drawing.middles.size() == sketch.boxes.size());
  REQUIRE(drawing.routes.size() == sketch.lines.size());
  CHECK(drawing.lanes.size() == sketch.lanes);
  for (std::size_t i = 0; i < drawing.middles.size(); ++i) {
    CHECK(drawing.middles[i].x >= 0);
    CHECK(drawing.middles[i].x <= drawing.width + 1);
    if (sketch.lanes == 0) continue;
    const Area& lane = drawing.lanes[sketch.boxes[i].lane];
    CHECK(drawing.middles[i].y > lane.top);
    CHECK(drawing.middles[i].y < lane.bottom);
  }
  for (std::size_t k = 0; k < drawing.routes.size(); ++k) CHECK(drawing.routes[k].points.size() >= 2);
}

}  // namespace layered_test

TEST_CASE("layered: three hundred sketches in one go, more than the library survives in one process") {
  const auto sketches = layered_test::sketches_at_random(300, 1);
  std::string why;
  const auto drawings = stepward::driver::place_layered(sketches, why);
  REQUIRE_MESSAGE(drawings.has_value(), why);
  REQUIRE(drawings->size() == sketches.size());
  for (std::size_t i = 0; i < sketches.size(); ++i) layered_test::answers(sketches[i], (*drawings)[i]);
}

TEST_CASE("layered: a sketch is placed alike whatever stands before it") {
  const auto sketches = layered_test::sketches_at_random(9, 5);
  std::string why;
  const auto together = stepward::driver::place_layered(sketches, why);
  const auto alone = stepward::driver::place_layered({sketches[6]}, why);
  REQUIRE((together && alone));
  for (std::size_t i = 0; i < sketches[6].boxes.size(); ++i) {
    CHECK((*together)[6].middles[i].x == (*alone)[0].middles[i].x);
    CHECK((*together)[6].middles[i].y == (*alone)[0].middles[i].y);
  }
  CHECK(stepward::driver::place_layered({}, why)->empty());
}

TEST_CASE("layered: an answer that was cut off is none, and those before it are whole") {
  using namespace stepward::emit::layout;
  Drawing drawing{30, 20, {{1, 2}, {3, 4}}, {{{{0, 0}, {5, 6}}, {7, 8}}}, {{0, 0, 30, 20}}};
  const std::string whole = as_bytes({drawing, ""}), failed = as_bytes({std::nullopt, "no room"});
  const auto both = answers_in(whole + failed);
  REQUIRE(both.size() == 2);
  REQUIRE(both[0].drawing);
  CHECK(both[0].drawing->routes[0].label.y == 8);
  CHECK(both[0].drawing->lanes[0].right == 30);
  CHECK(both[1].why == "no room");
  CHECK_FALSE(both[1].drawing);
  for (std::size_t length = 1; length < whole.size(); ++length) CHECK(answers_in(failed + whole.substr(0, length)).size() == 1);
}

#endif
