#include "check/clocks.hpp"

#include <algorithm>

#include "wording/step_text.hpp"

namespace stepward::check {
namespace {

using diagnostics::Code;
using explore::LineTime;
using explore::Measure;

/// The least time that the agent needs on anything the line may name: which layer "hands" are is not asked here.
std::uint32_t least_contact(const model::Protocol& p, const model::Variant& variant, const model::Line& line) {
  const auto& times = p[line.agent].contact_times;
  const bool open = std::any_of(line.things.begin(), line.things.end(), [](const model::Thing& t) {
    return t.what == model::Thing::What::hands || t.what == model::Thing::What::kind;
  });
  if (!open) return wording::contact_time(p, variant, line, {}).seconds;
  const auto shorter = [](const model::ContactTime& a, const model::ContactTime& b) { return a.time.seconds < b.time.seconds; };
  return times.empty() ? 0 : std::min_element(times.begin(), times.end(), shorter)->time.seconds;
}

LineTime time_of(const model::Protocol& p, const graph::Graph& graph, const graph::Node& node) {
  if (!node.line) return {0, 0};
  const model::Line& line = p[node.line];
  LineTime out{line.at_least.value_or(model::Duration{}).seconds, line.at_most ? line.at_most->seconds : explore::unbounded};
  const bool waits = line.verb == model::VerbKind::disinfect && !line.without_waiting;
  if (line.verb == model::VerbKind::start_timer || line.verb == model::VerbKind::stop_timer) out = {0, 0};
  if (line.verb == model::VerbKind::wait && !line.wait_contact_time) out = {line.wait.seconds, line.wait.seconds};
  if (waits && node.kind == graph::NodeKind::line) out = {0, 0};  // all of it passes until the contact time is over
  if (waits && node.kind == graph::NodeKind::contact_end) out.least = std::max(out.least, least_contact(p, graph.variant, line));
  // Two people at once take no longer together than the slower one.
  if (!node.instead.empty() || node.stands_beside) out.least = 0;
  return out;
}

class TimeReader {
 public:
  TimeReader(const model::Protocol& protocol, const Prepared& prepared, const explore::Result& result)
      : p_(protocol), prepared_(prepared), result_(result), times_(line_times(protocol, prepared.graph)) {}

  std::optional<TimeFinding> read(std::uint32_t id) const {
    const effects::Timing& timing = prepared_.system.timings[id];
    if (auto run = overrun(id, timing.at_most ? Measure::least : Measure::greatest)) return broken(timing, std::move(*run));
    if (overrun(id, timing.at_most ? Measure::greatest : Measure::least)) return unproved(timing);
    return std::nullopt;
  }

 private:
  std::optional<explore::Overrun> overrun(std::uint32_t id, Measure measure) const {
    return explore::first_overrun(prepared_.system, prepared_.packed, result_, times_, id, measure);
  }

  TimeFinding broken(const effects::Timing& timing, explore::Overrun run) const {
    const effects::Mark& mark = prepared_.system.marks[run.mark];
    TimeFinding out = begin(timing, timing.rule ? code_of(p_[timing.rule]) : Code::T811);
    out.report.line = mark.line;
    out.report.node = mark.node;
    out.at = place_of(mark, run.run.back());
    out.steps = static_cast<std::uint32_t>(run.run.size());
    out.args.push_back(shown(timing, run));
    out.run = std::move(run);
    return out;
  }

  TimeFinding unproved(const effects::Timing& timing) const {
    TimeFinding out = begin(timing, timing.rule ? Code::R202 : Code::T812);
    out.report.line = timing.timer_line;
    out.at = timing.rule ? p_[timing.rule].span : p_[timing.timer_line].span;
    return out;
  }

  source::Span place_of(const effects::Mark& mark, std::uint32_t last_edge) const {
    if (mark.line) return p_[mark.line].span;
    if (mark.node) return prepared_.graph[mark.node].span;
    return p_[model::InterruptionId(prepared_.packed.edges[last_edge].strikes)].span;
  }

  static Code code_of(const model::Rule& rule) {
    return rule.severity == model::Severity::advisory ? Code::R104 : Code::R103;
  }

  TimeFinding begin(const effects::Timing& timing, Code code) const {
    TimeFinding out;
    out.report.code = code;
    out.report.severity = diagnostics::default_severity(code);
    out.report.rule = timing.rule;
    if (timing.timer_line) out.report.timer = p_[timing.timer_line].timer;
    const std::string bound = wording::duration_phrase({timing.seconds});
    out.args = timing.rule ? std::vector<std::string>{p_[timing.rule].name, p_[timing.rule].number}
                           : std::vector<std::string>{p_[p_[timing.timer_line].timer].name, "timer"};
    out.args.push_back((timing.at_most ? "at most " : "at least ") + bound);
    return out;
  }

  std::string shown(const effects::Timing& timing, const explore::Overrun& run) const {
    const effects::Mark& mark = prepared_.system.marks[run.mark];
    if (mark.what == effects::Mark::What::runs_out) return "it never comes";
    const std::uint32_t total = seconds_of(run, timing.at_most);
    if (timing.at_most) return "at least " + wording::duration_phrase({total});
    return total == 0 ? "no time at all" : "at most " + wording::duration_phrase({total});
  }

  /// What the clock shows at the end of the run, not cut off at the bound.
  std::uint32_t seconds_of(const explore::Overrun& run, bool least) const {
    std::uint32_t total = 0;
    const bool last_counts = !prepared_.system.marks[run.mark].before_its_line;
    for (std::size_t s = run.begun + 1; s + (last_counts ? 0 : 1) < run.run.size(); ++s) {
      if (run.run[s] >= prepared_.packed.first_strike) continue;
      const LineTime& time = times_[prepared_.system.edges[run.run[s]].by.value];
      total += least ? time.least : time.greatest;
    }
    return total;
  }

  const model::Protocol& p_;
  const Prepared& prepared_;
  const explore::Result& result_;
  std::vector<LineTime> times_;
};

}  // namespace

std::vector<LineTime> line_times(const model::Protocol& protocol, const graph::Graph& graph) {
  std::vector<LineTime> out;
  for (const graph::Node& node : graph.nodes) out.push_back(time_of(protocol, graph, node));
  return out;
}

std::vector<TimeFinding> time_findings(const model::Protocol& protocol, const Prepared& prepared, const explore::Result& result) {
  std::vector<TimeFinding> out;
  if (prepared.system.timings.empty()) return out;
  const TimeReader reader(protocol, prepared, result);
  for (std::uint32_t t = 0; t < prepared.system.timings.size(); ++t)
    if (auto finding = reader.read(t)) out.push_back(std::move(*finding));
  // A rule that is broken for one person or item is not told as open for another one.
  const auto is_broken = [&](model::RuleId rule) {
    return std::any_of(out.begin(), out.end(), [&](const TimeFinding& t) { return t.run && t.report.rule == rule; });
  };
  std::vector<TimeFinding> told;
  for (const TimeFinding& t : out)
    if (t.run || !t.report.rule || !is_broken(t.report.rule)) told.push_back(t);
  return told;
}

explore::Story clock_story(const effects::System& system, const explore::Packed& packed, const std::vector<LineTime>& times,
                           const explore::Overrun& run) {
  const bool at_most = system.timings[system.marks[run.mark].timing].at_most;
  explore::Story story;
  for (std::uint32_t s = 0; s < run.run.size(); ++s) {
    const std::uint32_t edge = run.run[s];
    const bool strike = edge >= packed.first_strike;
    const graph::NodeId by = strike ? graph::NodeId(run.stood[s]) : system.edges[edge].by;
    const bool counts = !strike && s > run.begun;
    const LineTime& time = counts ? times[by.value] : LineTime{0, 0};
    const std::uint32_t seconds = at_most ? time.least : time.greatest;
    const bool takes_time = seconds > 0 && seconds != explore::unbounded;
    const bool tells = strike || system.edges[edge].label.answer != 0 || s == run.begun || s + 1 == run.run.size() || takes_time;
    if (tells) story.steps.push_back({by, edge, s + 1, {}, true, takes_time ? seconds : 0, !at_most});
  }
  return story;
}

}  // namespace stepward::check
