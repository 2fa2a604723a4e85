#include "emit/bpmn/catches.hpp"

#include <set>

#include <fmt/format.h>

namespace stepward::emit::bpmn {

using flow_chart::Band;
using flow_chart::Chart;
using flow_chart::Shape;

namespace {

constexpr const char* begins_with = "caught:";

Band catch_of(const Shape& thrown) {
  Band band;
  band.what = Band::What::breach;
  band.id = begins_with + error_key(thrown);
  band.title = thrown.text;
  Shape entry, end = thrown;
  entry.what = Shape::What::entry;
  entry.id = band.id + ":entry";
  end.id = band.id + ":end";
  band.shapes = {entry, end};
  band.ways.push_back({band.id + ":way", 0, 1, "", "", true, false});
  return band;
}

}  // namespace

Chart with_catches(const Chart& chart) {
  Chart whole = chart;
  std::set<std::string> caught;
  for (const Band& band : chart.bands) {
    for (const Shape& shape : band.shapes) {
      if (band.what == Band::What::phase || shape.what != Shape::What::ending || !caught.insert(error_key(shape)).second) continue;
      whole.bands.push_back(catch_of(shape));
    }
  }
  return whole;
}

bool is_catch(const Band& band) { return band.id.rfind(begins_with, 0) == 0; }

std::string error_key(const Shape& ending) { return fmt::format("over:{}:{}", ending.ending.value, ending.continue_with); }

}  // namespace stepward::emit::bpmn
