#include "slips/weak_points.hpp"

#include <algorithm>

#include "graph/numbering.hpp"
#include "model/variants.hpp"

namespace stepward::slips {
namespace {

/// By the number on the card: paper prints a routine's line once for all the calls that share a number.
std::map<std::string, WeakPoint> by_step(const Table& table) {
  std::map<std::string, WeakPoint> out;
  for (const Row& row : table.rows) {
    if (row.outcome != Outcome::harm) continue;
    for (const std::string& step : row.steps) {
      WeakPoint& point = out[step];
      point.slips.insert(row.key.kind);
      point.worst = std::min(point.worst, row.harm->consequence);
    }
  }
  return out;
}

}  // namespace

WeakPoints weak_points(const model::Protocol& protocol, std::size_t number, Options options) {
  options.at_once = 1;
  options.only_variant = number;
  const Table table = analyse(protocol, options);
  const graph::Course course = graph::number_steps(protocol, model::all_variants(protocol)[number]);
  const std::map<std::string, WeakPoint> points = by_step(table);
  WeakPoints out{{}, table.complete};
  for (std::size_t l = 0; l < protocol.lines.size(); ++l)
    if (const auto found = points.find(course.label(model::LineId(l))); found != points.end()) out.lines[model::LineId(l)] = found->second;
  return out;
}

}  // namespace stepward::slips
