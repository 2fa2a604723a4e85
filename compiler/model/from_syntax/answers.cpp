// Slips that somebody answers for: which slips, at which line, why, who agreed, and until when.
//
// The line is named as local changes name steps, but never by a number: "disinfect hands 2" would mean another line as soon
// as one more is written above it, and an answer that has wandered off hides a slip that nobody looked at. So a line that
// shares what it is called with another one of its place needs a name of its own. Whether the slip comes to harm at all is
// for the analysis of slips to say (slips/answers.hpp).

#include <algorithm>

#include "base/text.hpp"
#include "model/from_syntax/passes.hpp"
#include "model/from_syntax/steps.hpp"
#include "wording/slips.hpp"

namespace stepward::model::reading {
namespace {

/// What the line is called, without the number that tells it from others of the same words.
std::string called(const Line& line) {
  const std::string id = last_of_id(line.id);
  const std::size_t last = id.rfind(' ');
  const bool has_number = last != std::string::npos && id.find_first_not_of("0123456789", last + 1) == std::string::npos;
  return text::fold(has_number && !line.id_is_given ? id.substr(0, last) : id);
}

/// What a place holds: its lines, not those of the routines that it calls.
struct PlaceOfLines {
  std::string name;
  source::Span span;
  std::vector<BlockId> blocks;
  std::optional<RoutineId> routine;  ///< if it is one
};

class AnswerReader {
 public:
  explicit AnswerReader(Context& context) : context_(context), protocol_(context.protocol) {}

  void read(const Place& place) {
    const Node& node = context_.node(place);
    const auto reading = context_.read(node, context_.frames->answered_slip);
    if (!reading) return;
    AnsweredSlip answer;
    answer.span = node.span;
    answer.line = text::fold(words(node, *reading->find("line")));
    const auto where = find_place(node, *reading->find("place"));
    if (!where || !read_kinds(node, *reading, answer)) return;
    answer.place = where->name;
    if (!find_lines(node, *reading->find("line"), *where, answer) || !check_once(answer)) return;
    answer.agreement = read_agreement(context_, place, "this answer");
    answer.is_over = is_past(context_, answer.agreement.until);
    if (answer.is_over) context_.report(Code::D124, node.span, {answer.line, answer.agreement.until, context_.today});
    protocol_.answered_slips.push_back(std::move(answer));
  }

 private:
  // ---- slips

  bool read_kinds(const Node& node, const Reading& reading, AnsweredSlip& answer) {
    for (const Segment& segment : reading.segments) {
      if (segment.label != "slip") continue;
      const auto kind = find_kind(node, segment);
      if (!kind) return false;
      if (!answer.kinds.empty() && answer.is_about(*kind)) context_.report(Code::N113, span_of(node, segment), {"\"" + words(node, segment) + "\""});
      else answer.kinds.push_back(*kind);
    }
    std::sort(answer.kinds.begin(), answer.kinds.end());
    return true;
  }

  std::optional<SlipKind> find_kind(const Node& node, const Segment& segment) {
    const std::string said = words(node, segment);
    std::vector<std::string> names;
    for (const SlipKind kind : all_slip_kinds) {
      names.emplace_back(wording::slip_name(kind));
      if (names.back() == said) return kind;
    }
    auto& finding = context_.report(Code::N312, span_of(node, segment), {said, wording::slips_said({std::begin(all_slip_kinds), std::end(all_slip_kinds)})});
    if (const auto near = resolve::nearest_of(names, said)) finding.fix = *near;
    return std::nullopt;
  }

  // ---- places and their lines

  std::optional<PlaceOfLines> find_place(const Node& node, const Segment& segment) {
    const std::string name = node.phrase[segment.begin].text, folded = text::fold(name);
    std::vector<std::string> names;
    std::optional<PlaceOfLines> found;
    const auto look_at = [&](const Named& named, const std::vector<BlockId>& blocks, std::optional<RoutineId> routine) {
      names.push_back(named.name);
      if (text::fold(named.name) != folded) return;
      if (!found) found = PlaceOfLines{named.name, named.span, {}, routine};
      found->blocks.insert(found->blocks.end(), blocks.begin(), blocks.end());
    };
    for (const Phase& phase : protocol_.phases) look_at(phase, {phase.block}, std::nullopt);
    for (std::uint32_t at = 0; at < protocol_.routines.size(); ++at) look_at(protocol_.routines[at], calls_of(RoutineId{at}), RoutineId{at});
    for (const Interruption& each : protocol_.interruptions) look_at(each, {each.block}, std::nullopt);
    if (!found) {
      auto& finding = context_.report(Code::N101, span_of(node, segment), {name});
      if (const auto near = resolve::nearest_of(names, name)) finding.fix = *near;
    }
    return found;
  }

  std::vector<BlockId> calls_of(RoutineId routine) const {
    std::vector<BlockId> calls;
    for (const Block& block : protocol_.blocks)
      for (const Statement& statement : block.statements)
        if (statement.what == Statement::What::call && statement.routine == routine) calls.push_back(statement.block);
    return calls;
  }

  std::vector<LineId> lines_in(std::vector<BlockId> open) const {
    std::vector<LineId> lines;
    while (!open.empty()) {
      const BlockId id = open.back();
      open.pop_back();
      if (!id) continue;
      for (const Statement& statement : protocol_[id].statements) {
        if (statement.what == Statement::What::line) lines.push_back(statement.line);
        if (statement.what == Statement::What::call) continue;
        for (const Statement::Arm& arm : statement.arms) open.push_back(arm.block);
        open.push_back(statement.block);
        open.push_back(statement.fallback);
      }
    }
    std::sort(lines.begin(), lines.end(), [](LineId a, LineId b) { return a.value < b.value; });
    return lines;
  }

  bool find_lines(const Node& node, const Segment& segment, const PlaceOfLines& where, AnsweredSlip& answer) {
    if (where.routine && where.blocks.empty()) {
      context_.report(Code::N310, node.span, {where.name, "answered"}).places.push_back({where.span, "the routine"});
      return false;
    }
    std::set<std::string> steps;
    std::set<std::pair<std::uint32_t, std::uint32_t>> said;  // lines of the source
    std::string several;
    for (const LineId id : lines_in(where.blocks)) {
      const Line& line = protocol_[id];
      const std::string name = called(line);
      steps.insert(name);
      if (name != answer.line && text::fold(last_of_id(line.id)) == answer.line) several = name;
      if (name != answer.line) continue;
      answer.lines.push_back(id);
      said.insert({line.span.file.value, line.span.begin});
    }
    if (said.size() == 1) return true;
    if (said.size() > 1) several = answer.line;
    if (several.empty()) no_such_line(span_of(node, segment), steps, where, answer);
    else context_.report(Code::N311, span_of(node, segment), {several, where.name});
    return false;
  }

  void no_such_line(source::Span at, const std::set<std::string>& steps, const PlaceOfLines& where, const AnsweredSlip& answer) {
    auto& finding = context_.report(Code::N308, at, {answer.line, where.name, listed_steps(steps)});
    if (where.routine) finding.places.push_back({where.span, "the routine"});
    const std::string slips = (answer.kinds.empty() ? "" : "slip ") + wording::slips_said(answer.kinds);
    if (const auto near = resolve::nearest_of({steps.begin(), steps.end()}, answer.line))
      finding.fix = "answer to " + slips + " at " + *near + " in \"" + where.name + "\"";
  }

  bool check_once(const AnsweredSlip& answer) {
    for (const AnsweredSlip& other : protocol_.answered_slips) {
      if (other.lines != answer.lines) continue;
      const auto shared = std::find_if(std::begin(all_slip_kinds), std::end(all_slip_kinds), [&](SlipKind kind) { return other.is_about(kind) && answer.is_about(kind); });
      if (shared == std::end(all_slip_kinds)) continue;
      const bool both_all = other.kinds.empty() && answer.kinds.empty();
      context_.report(Code::N313, answer.span, {wording::slips_said(both_all ? std::vector<SlipKind>{} : std::vector{*shared}), answer.line})
          .places.push_back({other.span, "answered first"});
      return false;
    }
    return true;
  }

  Context& context_;
  Protocol& protocol_;
};

}  // namespace

void read_answers(Context& context) {
  AnswerReader reader(context);
  for (const Place& place : own_places(context, NodeKind::answered_slip)) reader.read(place);
}

}  // namespace stepward::model::reading
