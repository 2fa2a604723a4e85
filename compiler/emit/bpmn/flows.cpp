#include <algorithm>

#include "emit/bpmn/diagram.hpp"

namespace stepward::emit::bpmn {

Flows::Flows(const Chart& chart) : chart_(chart) {
  for (std::size_t b = 0; b < chart.bands.size(); ++b) {
    const Band& band = chart.bands[b];
    for (std::size_t w = 0; w < band.ways.size(); ++w) {
      const Way& way = band.ways[w];
      if (!is_drawn(b, way.from)) continue;
      Flow flow{way.id, b, w, &way, band.shapes[way.from].id, "", way.condition, {}};
      follow(flow, b, w);
      all_.push_back(std::move(flow));
    }
  }
  for (std::size_t f = 0; f < all_.size(); ++f) {
    into_[all_[f].to].push_back(f);
    out_of_[all_[f].from].push_back(f);
  }
  say_conditions();
}

/// Through the points between phases, to the first shape that is an element.
void Flows::follow(Flow& flow, std::size_t band, std::size_t way) const {
  std::size_t to = chart_.bands[band].ways[way].to;
  while (!is_drawn(band, to)) {
    ++band;  // an `onward` is followed by a band, which begins with its entry
    const auto& ways = chart_.bands[band].ways;
    const auto first = std::find_if(ways.begin(), ways.end(), [](const Way& w) { return w.from == 0; });
    flow.through.emplace_back(band, static_cast<std::size_t>(first - ways.begin()));
    to = first->to;
  }
  flow.to = chart_.bands[band].shapes[to].id;
}

/// Of several ways without a condition the last is the default; what the others are taken for, their labels say.
void Flows::say_conditions() {
  for (std::size_t b = 0; b < chart_.bands.size(); ++b) {
    for (std::size_t s = 0; s < chart_.bands[b].shapes.size(); ++s) {
      if (chart_.bands[b].shapes[s].what != Shape::What::question) continue;
      const Flow* by_default = otherwise(b, s);
      for (const std::size_t f : out_of_[chart_.bands[b].shapes[s].id]) {
        if (&all_[f] != by_default && all_[f].condition.empty()) all_[f].condition = all_[f].way->label;
      }
    }
  }
}

bool Flows::is_drawn(std::size_t band, std::size_t shape) const {
  const Shape& one = chart_.bands[band].shapes[shape];
  const bool between = one.what == Shape::What::onward || (one.what == Shape::What::entry && chart_.bands[band].what == Band::What::phase && band > 0);
  return !between;
}

std::vector<const Flow*> Flows::into(std::size_t band, std::size_t shape) const {
  std::vector<const Flow*> found;
  const auto known = into_.find(chart_.bands[band].shapes[shape].id);
  if (known != into_.end()) {
    for (const std::size_t f : known->second) found.push_back(&all_[f]);
  }
  return found;
}

std::vector<const Flow*> Flows::out_of(std::size_t band, std::size_t shape) const {
  std::vector<const Flow*> found;
  const auto known = out_of_.find(chart_.bands[band].shapes[shape].id);
  if (known != out_of_.end()) {
    for (const std::size_t f : known->second) found.push_back(&all_[f]);
  }
  return found;
}

const Flow* Flows::otherwise(std::size_t band, std::size_t shape) const {
  const Flow* last = nullptr;
  for (const Flow* flow : out_of(band, shape)) {
    if (flow->way->condition.empty()) last = flow;
  }
  return last;
}

}  // namespace stepward::emit::bpmn
