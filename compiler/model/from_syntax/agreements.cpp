// What was agreed for this protocol alone: rules set aside in some place, and local changes to steps of routines. (Answers
// to slips rest on the same, and are read in answers.cpp.)
//
// Both are exceptions that somebody answers for, so both say why, who agreed, and a day after which they no longer stand
// by themselves. What is missing of that is no mistake of the protocol's steps: it is found, and the walk goes on.

#include <algorithm>

#include "base/text.hpp"
#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

class AgreementReader {
 public:
  AgreementReader(Context& context, const Place& place, std::string what)
      : context_(context), place_(place), what_(std::move(what)), once_(context) {}

  Agreement run() {
    bool has_day = false;
    for (const NodeId child : context_.node(place_).children) {
      const Node& line = context_.tree(place_)[child];
      if (line.kind == NodeKind::reason) read_reason(line);
      if (line.kind == NodeKind::agreed_by) read_signature(line);
      if (line.kind == NodeKind::ends_on || line.kind == NodeKind::look_again_by) {
        has_day = true;
        read_day(line);
      }
    }
    const bool ends = context_.node(place_).kind != NodeKind::local_change;
    if (agreement_.reason.empty()) missing("why", "reason \"…\"");
    if (agreement_.by.name.empty()) missing("who agreed", "agreed by \"Name\", \"office\"");
    if (!has_day) missing(ends ? "when it ends" : "when to look again", ends ? "ends on 2031-03-15" : "look again by 2031-03-15");
    return std::move(agreement_);
  }

 private:
  void read_reason(const Node& line) {
    if (!once_.first(line, "the reason")) return;
    if (const auto reading = context_.read(line, context_.frames->text_alone)) agreement_.reason = quoted(line, *reading);
  }

  void read_signature(const Node& line) {
    if (!once_.first(line, "who agreed")) return;
    if (const auto reading = context_.read(line, context_.frames->agreed_by))
      agreement_.by = {quoted(line, *reading), quoted(line, *reading, "office"), {}};
  }

  void read_day(const Node& line) {
    if (!once_.first(line, "the day")) return;
    const auto reading = context_.read(line, context_.frames->date_alone);
    if (!reading) return;
    const Segment& day = *reading->find("date");
    const std::string& written = line.phrase[day.begin].text;
    if (is_day(written)) agreement_.until = written;
    else context_.report(Code::D107, span_of(line, day), {written});
  }

  void missing(const std::string& detail, const std::string& line) {
    context_.report(Code::D121, context_.node(place_).span, {what_, detail}).fix = line;
  }

  Context& context_;
  Place place_;
  std::string what_;
  Once once_;
  Agreement agreement_;
};

// ---- rules set aside

class SetAsideReader {
 public:
  explicit SetAsideReader(Context& context) : context_(context), protocol_(context.protocol) {}

  void read(const Place& place) {
    const Node& node = context_.node(place);
    const auto reading = context_.read(node, context_.frames->set_aside);
    if (!reading) return;
    SetAside aside;
    aside.span = node.span;
    if (!find_rule(node, *reading->find("rule"), aside)) return;
    for (const Segment& segment : reading->segments)
      if (segment.label == "place" && !find_place(node, segment, aside)) return;
    aside.agreement = read_agreement(context_, place, "this exception to " + aside.number);
    aside.is_over = is_past(context_, aside.agreement.until);
    if (aside.is_over) context_.report(Code::D122, node.span, {aside.number, aside.agreement.until, context_.today});
    protocol_.set_aside.push_back(std::move(aside));
  }

 private:
  /// A rule is meant by its number; its name may follow for the reader.
  bool find_rule(const Node& node, const Segment& segment, SetAside& aside) {
    const std::string number = node.phrase[segment.begin].text;
    std::vector<std::string> numbers;
    for (const Place& place : context_.declared) {
      const Node& rule = context_.node(place);
      if (rule.kind != NodeKind::rule || rule.phrase.empty()) continue;
      numbers.push_back(rule.phrase[0].text);
      if (rule.phrase[0].text == number) aside.number = rule.phrase[0].written;
    }
    for (std::uint32_t at = 0; at < protocol_.rules.size(); ++at)
      if (protocol_.rules[at].number == aside.number && !aside.number.empty()) aside.rule = RuleId{at};
    if (!aside.number.empty()) return true;
    unknown(span_of(node, segment), node.phrase[segment.begin].written, numbers);
    return false;
  }

  bool find_place(const Node& node, const Segment& segment, SetAside& aside) {
    const std::string& name = node.phrase[segment.begin].text;
    const std::string folded = text::fold(name);
    std::vector<std::string> names;
    bool found = false;
    for (const Phase& phase : protocol_.phases) {
      names.push_back(phase.name);
      if (text::fold(phase.name) != folded) continue;
      aside.blocks.push_back(phase.block);
      found = true;
    }
    for (std::uint32_t at = 0; at < protocol_.routines.size(); ++at) {
      names.push_back(protocol_.routines[at].name);
      if (text::fold(protocol_.routines[at].name) != folded) continue;
      add_calls(RoutineId{at}, aside);
      found = true;
    }
    aside.places.push_back(name);
    if (!found) unknown(span_of(node, segment), name, names);
    return found;
  }

  void add_calls(RoutineId routine, SetAside& aside) const {
    for (const Block& block : protocol_.blocks)
      for (const Statement& statement : block.statements)
        if (statement.what == Statement::What::call && statement.routine == routine) aside.blocks.push_back(statement.block);
  }

  void unknown(source::Span at, const std::string& name, const std::vector<std::string>& known) {
    auto& finding = context_.report(Code::N101, at, {name});
    if (const auto near = resolve::nearest_of(known, name)) finding.fix = *near;
  }

  Context& context_;
  Protocol& protocol_;
};

// ---- local changes

class ChangeReader {
 public:
  explicit ChangeReader(Context& context) : context_(context), protocol_(context.protocol) {}

  void read(const Place& place) {
    const Node& node = context_.node(place);
    const auto reading = context_.read(node, context_.frames->local_change);
    if (!reading) return;
    LocalChange change;
    change.span = node.span;
    change.routine = RoutineId{reading->find("routine")->meaning.index};
    change.at = words(node, *reading->find("id"));
    change.what = reading->has("replace") ? LocalChange::What::replace
                  : reading->has("after") ? LocalChange::What::add_after
                                          : LocalChange::What::leave_out;
    change.agreement = read_agreement(context_, place, "this change to " + protocol_[change.routine].name);
    change.is_overdue = is_past(context_, change.agreement.until);
    if (change.is_overdue)
      context_.report(Code::D123, node.span, {protocol_[change.routine].name, change.agreement.until, context_.today});
    if (!check_lines(place, change) || !check_alone(node, change)) return;
    protocol_.local_changes.push_back(std::move(change));
    context_.changes.push_back({place});
  }

 private:
  bool check_lines(const Place& place, const LocalChange& change) {
    const auto& children = context_.node(place).children;
    const auto is_line = [&](NodeId child) {
      const NodeKind kind = context_.tree(place)[child].kind;
      return kind == NodeKind::plain || kind == NodeKind::do_routine || kind == NodeKind::if_question ||
             kind == NodeKind::only_for || kind == NodeKind::repeat || kind == NodeKind::together ||
             kind == NodeKind::finish_as;
    };
    const auto first = std::find_if(children.begin(), children.end(), is_line);
    const bool has_lines = first != children.end(), leaves_out = change.what == LocalChange::What::leave_out;
    if (has_lines != leaves_out) return true;
    if (leaves_out)
      context_.report(Code::N103, context_.tree(place)[*first].span, {"a step", "the reason, who agreed, and a day"});
    else
      context_.report(Code::N114, context_.node(place).span, {"this change", "what is done instead, or then"});
    return false;
  }

  bool check_alone(const Node& node, const LocalChange& change) {
    for (const LocalChange& other : protocol_.local_changes) {
      if (other.routine != change.routine || other.at != change.at) continue;
      context_.report(Code::N309, node.span, {change.at, protocol_[change.routine].name}).places.push_back({other.span, "changed first"});
      return false;
    }
    return true;
  }

  Context& context_;
  Protocol& protocol_;
};

}  // namespace

std::vector<Place> own_places(const Context& context, NodeKind kind) {
  std::vector<Place> places;
  if (context.loaded.files[0].tree.file_kind != "protocol") return places;  // told by `check_whole`
  for (const Place& place : context.declared)
    if (context.is_root(place) && context.node(place).kind == kind) places.push_back(place);
  return places;
}

bool is_past(const Context& context, const std::string& day) {
  return !context.today.empty() && !day.empty() && day < context.today;
}

std::string listed_steps(const std::set<std::string>& steps) {
  std::string list;
  std::size_t count = 0;
  for (const std::string& step : steps) {
    if (++count > 8) return list + ", …";
    list += (list.empty() ? "" : ", ") + step;
  }
  return list;
}

Agreement read_agreement(Context& context, const Place& place, const std::string& what) {
  return AgreementReader(context, place, what).run();
}

void read_changes(Context& context) {
  context.steps_of_changed.resize(context.routines.size());
  ChangeReader reader(context);
  for (const Place& place : own_places(context, NodeKind::local_change)) reader.read(place);
}

void check_changes(Context& context) {
  for (std::size_t at = 0; at < context.changes.size(); ++at) {
    const LocalChange& change = context.protocol.local_changes[at];
    const Routine& routine = context.protocol[change.routine];
    if (!context.routines[change.routine.value].called) {
      context.report(Code::N310, change.span, {routine.name, "changed"}).places.push_back({routine.span, "the routine"});
    } else if (!context.changes[at].met) {
      const std::set<std::string>& steps = context.steps_of_changed[change.routine.value];
      auto& gone = context.report(Code::N308, change.span, {change.at, routine.name, listed_steps(steps)});
      gone.places.push_back({routine.span, "the routine"});
      const auto near = resolve::nearest_of({steps.begin(), steps.end()}, change.at);
      const char* does = change.what == LocalChange::What::replace ? "replace with" : change.what == LocalChange::What::add_after ? "add after" : "leave out";
      if (near) gone.fix = "local change to routine " + routine.name + " at " + *near + " " + does;
    }
  }
}

void read_set_asides(Context& context) {
  SetAsideReader reader(context);
  for (const Place& place : own_places(context, NodeKind::set_aside)) reader.read(place);
}

}  // namespace stepward::model::reading
