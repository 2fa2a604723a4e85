#include "slips/timed.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "wording/step_text.hpp"

namespace stepward::slips {
namespace {

using Field = effects::FieldMeaning::What;

/// Of a wait, the longest of what its person leaves wet.
std::uint32_t seconds_asked(const model::Protocol& protocol, const graph::Graph& graph, const model::Line& line) {
  if (!line.wait_contact_time) return wording::contact_time(protocol, graph.variant, line, {}).seconds;
  std::uint32_t longest = 0;
  for (const graph::Node& node : graph.nodes) {
    if (node.kind != graph::NodeKind::line) continue;
    const model::Line& wetting = protocol[node.line];
    if (wetting.without_waiting && wetting.who == line.who) longest = std::max(longest, wording::contact_time(protocol, graph.variant, wetting, {}).seconds);
  }
  return longest;
}

/// A line that starts the timer, for somebody else than `doer`, to run so long; none where one that starts it does not.
const model::Line* started_by(const model::Protocol& protocol, const graph::Graph& graph, std::uint32_t timer, model::RoleId doer, std::uint32_t seconds) {
  const model::Line* found = nullptr;
  for (const graph::Node& node : graph.nodes) {
    if (node.kind != graph::NodeKind::line) continue;
    const model::Line& line = protocol[node.line];
    if (line.verb != model::VerbKind::start_timer || line.timer.value != timer) continue;
    if (line.who == doer || !line.at_least || line.at_least->seconds < seconds) return nullptr;
    found = &line;
  }
  return found;
}

bool runs_wherever(const explore::Trodden& trodden, graph::NodeId at, explore::Slot running) {
  const auto& states = trodden.at_node[at.value];
  return !states.empty() && std::all_of(states.begin(), states.end(), [&](std::uint32_t s) { return explore::get(trodden.walk.state(s), running) == 1; });
}

}  // namespace

std::string timed_by(const model::Protocol& protocol, const SlippedSystem& made, const explore::Trodden& trodden, graph::NodeId at, const model::Line& line) {
  const std::uint32_t seconds = seconds_asked(protocol, made.ways.graph, line);
  for (std::size_t f = 0; f < made.system.fields.size(); ++f) {
    const effects::FieldMeaning& meaning = made.system.fields[f].meaning;
    if (meaning.what != Field::running) continue;
    const model::Line* start = started_by(protocol, made.ways.graph, meaning.index, line.who, seconds);
    if (!start || !runs_wherever(trodden, at, made.packed.fields[f])) continue;
    return fmt::format("the timer “{}” of {}, {}", protocol[start->timer].name, protocol[start->who].name, wording::duration_phrase(*start->at_least));
  }
  return "";
}

// Nobody is a check on himself, and nobody sees a tear or soil that the look itself missed. What to watch for tells how the line is done, and that it is;
// it tells nothing of when.
std::string seen_by_confirm(const model::Protocol& protocol, const SlippedSystem& made, const graph::SlipWay& way) {
  const model::Line& line = protocol[made.ways.graph[way.slipped].line];
  const model::Rhythm& rhythm = protocol.rhythm;
  const bool is_visible = way.kind == graph::SlipKind::left_out || way.kind == graph::SlipKind::clumsy;
  if (!is_visible || !rhythm.given || !rhythm.confirms || !line.in_rhythm || line.who == rhythm.confirms) return "";
  return wording::step_text(protocol, made.ways.graph.variant, line, {}).watch;
}

}  // namespace stepward::slips
