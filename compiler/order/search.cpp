#include "order/search.hpp"

#include <algorithm>
#include <bit>
#include <utility>

namespace stepward::order {
namespace {

constexpr std::uint32_t out_of_question = UINT32_MAX;

double factorial(std::size_t n) {
  double f = 1;
  for (std::size_t i = 2; i <= n; ++i) f *= static_cast<double>(i);
  return f;
}

bool holds_line(const std::vector<std::uint8_t>& lines, std::uint32_t line) { return std::find(lines.begin(), lines.end(), line) != lines.end(); }

}  // namespace

Search::Search(const Orders& orders, Breaches asked, Choice fixed, std::size_t most_places)
    : orders_(orders), asked_(asked), fixed_(std::move(fixed)), most_places_(most_places) {
  fixed_.resize(orders_.lines.size());
  find_ways_between();
  Breaches before = 0;
  Place first = follow(orders_.start, fixed_, before);
  if (before & asked_) return;
  first.reached = 1;
  file(std::move(first));
  // Every step chooses one line more, so the places of one level are known before the next is opened.
  for (std::size_t begin = 0; begin < places_.size() && complete_;) {
    const std::size_t end = places_.size();
    open_level(begin, end);
    begin = end;
  }
  count();
}

void Search::find_ways_between() {
  const std::size_t n = orders_.lines.size();
  leads_.assign(n, std::vector<bool>(n, false));
  for (const Situation& from : orders_.situations)
    for (const Way& way : from.ways)
      for (std::uint32_t to : way.leads_to) {
        const Situation& there = orders_.situations[to];
        if (there.order != from.order || there.done == 0) leads_[from.order][there.order] = true;
      }
  for (std::size_t by = 0; by < n; ++by)
    for (std::size_t from = 0; from < n; ++from)
      for (std::size_t to = 0; to < n; ++to)
        if (leads_[from][by] && leads_[by][to]) leads_[from][to] = true;
}

// What is chosen is followed at once, until every run stands where nothing is chosen yet.
Search::Place Search::follow(std::vector<std::uint32_t> open, Choice chosen, Breaches& broken) const {
  std::vector<std::uint32_t> seen = open;
  std::sort(seen.begin(), seen.end());
  Place out;
  while (!open.empty()) {
    const std::uint32_t at = open.back();
    open.pop_back();
    const Situation& here = orders_.situations[at];
    const auto done = static_cast<std::size_t>(std::popcount(here.done));
    const std::size_t lines = orders_.lines[here.order];
    if (done < lines && done >= chosen[here.order].size()) { out.situations.push_back(at); continue; }
    const Way& way = here.ways[done == lines ? lines : chosen[here.order][done]];
    broken |= way.broken;
    if (broken & asked_) return out;
    for (std::uint32_t to : way.leads_to) {
      const auto place = std::lower_bound(seen.begin(), seen.end(), to);
      if (place != seen.end() && *place == to) continue;
      seen.insert(place, to);
      open.push_back(to);
    }
  }
  std::sort(out.situations.begin(), out.situations.end());
  for (std::uint32_t s : out.situations) out.order = std::min(out.order, orders_.situations[s].order);
  out.chosen = std::move(chosen);
  return out;
}

bool Search::belongs_to_place(std::uint32_t order, const std::vector<std::uint32_t>& situations) const {
  return std::any_of(situations.begin(), situations.end(), [&](std::uint32_t s) { return leads_[orders_.situations[s].order][order]; });
}

// How many lines are chosen always counts: places of one level have chosen equally many.
std::uint32_t Search::file(Place place) {
  Key key{place.situations, place.chosen};
  for (std::uint32_t o = 0; o < key.chosen.size(); ++o)
    if (!belongs_to_place(o, place.situations)) std::fill(key.chosen[o].begin(), key.chosen[o].end(), std::uint8_t(0));
  const auto [known, fresh] = filed_.try_emplace(std::move(key), static_cast<std::uint32_t>(places_.size()));
  if (fresh) places_.push_back(std::move(place));
  return known->second;
}

void Search::open_level(std::size_t first, std::size_t last) {
  for (std::size_t p = first; p < last && complete_; ++p) {
    if (places_[p].order == UINT32_MAX) continue;
    const std::uint32_t lines = orders_.lines[places_[p].order];
    for (std::uint32_t line = 0; line < lines; ++line)
      if (!holds_line(places_[p].chosen[places_[p].order], line)) try_line(p, static_cast<std::uint8_t>(line));
    complete_ = places_.size() <= most_places_;
  }
}

void Search::try_line(std::size_t place, std::uint8_t line) {
  const Place& from = places_[place];
  const double reached = from.reached;
  Choice chosen = from.chosen;
  chosen[from.order].push_back(line);
  Breaches broken = 0;
  Place next = follow(from.situations, std::move(chosen), broken);
  if (broken & asked_) {
    places_[place].steps.push_back({line, out_of_question, broken & asked_});
    return;
  }
  const std::uint32_t to = file(std::move(next));
  places_[to].reached += reached;
  places_[place].steps.push_back({line, to, 0});
}

/// So many orders begin like this: what is not chosen yet may stand in any order.
double Search::open_lines(const Choice& chosen) const {
  double orders = 1;
  for (std::size_t o = 0; o < chosen.size(); ++o) orders *= factorial(orders_.lines[o] - chosen[o].size());
  return orders;
}

void Search::count() {
  for (std::size_t p = places_.size(); p-- > 0;) {
    Place& place = places_[p];
    if (place.order == UINT32_MAX) place.kept = open_lines(place.chosen);
    for (const Step& step : place.steps)
      if (step.to != out_of_question) place.kept += places_[step.to].kept;
  }
}

std::uint32_t Search::ended_at() const {
  for (std::size_t p = places_.size(); p-- > 0;)
    if (places_[p].order != UINT32_MAX) return places_[p].order;
  return 0;
}

double Search::all() const { return open_lines(fixed_); }

Choice Search::order_of_rank(double rank) const {
  Choice chosen = fixed_;
  for (const Place* at = &places_.front(); at->order != UINT32_MAX;) {
    const Step* taken = nullptr;
    for (const Step& step : at->steps) {
      const double kept = step.to == out_of_question ? 0 : places_[step.to].kept;
      if (kept == 0) continue;
      taken = &step;
      if (rank < kept) break;
      rank -= kept;
    }
    chosen[at->order].push_back(taken->line);
    at = &places_[taken->to];
  }
  // No run comes to what is left: it stays as it is written.
  for (std::size_t o = 0; o < chosen.size(); ++o)
    for (std::uint32_t line = 0; line < orders_.lines[o]; ++line)
      if (!holds_line(chosen[o], line)) chosen[o].push_back(static_cast<std::uint8_t>(line));
  return chosen;
}

std::vector<Rejection> Search::rejections() const {
  std::map<std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>, double> sums;
  for (const Place& place : places_)
    for (const Step& step : place.steps) {
      if (step.to != out_of_question) continue;
      Choice chosen = place.chosen;
      chosen[place.order].push_back(step.line);
      sums[{place.order, step.line, static_cast<std::uint32_t>(std::countr_zero(step.broken))}] += place.reached * open_lines(chosen);
    }
  std::vector<Rejection> out;
  for (const auto& [why, orders] : sums) out.push_back({std::get<0>(why), std::get<1>(why), std::get<2>(why), orders});
  std::stable_sort(out.begin(), out.end(), [](const Rejection& a, const Rejection& b) { return a.orders > b.orders; });
  return out;
}

}  // namespace stepward::order
