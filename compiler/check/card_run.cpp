#include "check/card_run.hpp"

#include <algorithm>
#include <charconv>
#include <set>

#include "model/variants.hpp"

namespace stepward::check {

model::LineId CardRun::line_at(std::uint32_t step) const {
  const graph::NodeId node = step > 0 && step <= passed_.size() ? passed_[step - 1] : graph::NodeId();
  return node ? graph_[node].line : model::LineId();
}

std::string CardRun::card(model::LineId line) const {
  const std::string& number = course_.label(line);
  return number.empty() ? "" : "(" + number + ")";
}

std::vector<model::LineId> CardRun::lines_between(std::uint32_t from, std::uint32_t to) const {
  std::vector<model::LineId> lines;
  for (std::uint32_t step = from + 1; step < to; ++step) {
    const model::LineId line = line_at(step);
    if (line && line != line_at(step - 1) && !course_.label(line).empty() && line != line_at(to)) lines.push_back(line);
  }
  return lines;
}

std::uint32_t CardRun::main_number(model::LineId line) const {
  const std::string& label = course_.label(line);
  std::uint32_t number = 0;
  const auto [end, error] = std::from_chars(label.data(), label.data() + label.size(), number);
  return error == std::errc() && end == label.data() + label.size() ? number : 0;
}

std::vector<model::LineId> CardRun::lines_gone_round(std::uint32_t from, std::uint32_t to) const {
  std::uint32_t first = 0, last = 0;
  std::set<model::LineId> passed;
  for (std::uint32_t step = 1; step <= steps(); ++step) {
    const model::LineId line = line_at(step);
    if (!line) continue;
    passed.insert(line);
    if (step <= from) first = std::max(first, main_number(line));
    else if (step <= to) last = std::max(last, main_number(line));
  }
  std::vector<model::LineId> out;
  for (const graph::Node& node : graph_.nodes) {
    const std::uint32_t number = node.line ? main_number(node.line) : 0;
    if (number > first && number < last && passed.insert(node.line).second) out.push_back(node.line);
  }
  return out;
}

std::uint32_t CardRun::comes_behind(model::LineId line, std::uint32_t from, std::uint32_t to) const {
  for (std::uint32_t step = from + 1; step < to; ++step)
    if (const model::LineId each = line_at(step); each && main_number(each) > main_number(line)) return step;
  return to;
}

std::string CardRun::by_question(model::LineId line) const {
  for (const graph::Run& run : course_.runs)
    for (const graph::Entry& question : run.entries)
      for (const graph::Fork& arm : question.forks)
        if (line && !arm.is_trunk && !arm.run && arm.go_on.what == graph::Target::What::label && arm.go_on.label == course_.label(line) && !question.label.empty()) return " by " + question.label;
  return " on this run";
}

std::uint32_t CardRun::behind_slip(std::uint32_t from, const std::string& card_told) const {
  const model::LineId next = line_at(from + 1);
  return next && !card_told.empty() && card_told == card(next) ? from + 1 : from;
}

std::vector<effects::Bearer> CardRun::things_of(const model::Line& line) const {
  using B = effects::Bearer::What;
  if (line.things.size() != 1) return {};
  const model::Thing& t = line.things.front();
  const model::RoleId of = line.of ? line.of : t.of ? t.of : p_.acts;
  if (const model::ItemId item = model::item_of(p_, t, graph_.variant)) return {{B::worn, of, item, {}, {}}};
  if (t.what == model::Thing::What::site) return {{B::site, of, {}, t.site, {}}};
  if (t.what == model::Thing::What::spot) return {{B::spot, {}, {}, {}, t.spot}};
  return {};
}

bool CardRun::is_about(model::LineId line, const effects::Bearer& thing) const {
  const std::vector<effects::Bearer> things = things_of(p_[line]);
  return std::find(things.begin(), things.end(), thing) != things.end();
}

}  // namespace stepward::check
