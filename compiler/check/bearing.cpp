#include "check/bearing.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "check/stories.hpp"
#include "check/variant_check.hpp"
#include "check/without_a_line.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"
#include "rules/weave.hpp"
#include "wording/messages.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using diagnostics::Code;
using model::Pattern;
using model::Rule;

/// Times are reckoned on the finished walk; no step of a run breaks such a rule.
bool is_of_time(const Rule& rule) { return rule.pattern == Pattern::within || rule.pattern == Pattern::at_least; }

/// The rule with what it asks for replaced by what never happens. As an advice, so that no run is cut where it is broken.
Rule emptied(Rule rule) {
  rule.severity = model::Severity::advisory;
  rule.require = {};
  rule.then = {};
  rule.has_then = false;
  rule.has_unless = false;
  if (rule.pattern != Pattern::always) rule.has_while = false;  // there it says when the rule is asked
  for (model::States* states : {&rule.at_end, &rule.always}) {
    *states = {};
    states->all = false;
  }
  return rule;
}

/// "never A", A the rule's moment.
Rule never_its_moment(const Rule& rule) {
  Rule never;
  never.name = rule.name;
  never.number = rule.number;
  never.severity = model::Severity::advisory;
  never.pattern = Pattern::never;
  never.trigger = rule.trigger;
  return never;
}

/// What only forbids a moment is kept by that never coming: it asks for nothing that could be emptied.
bool only_forbids(const Rule& rule) { return rule.pattern == Pattern::never && !rule.has_unless && !rule.has_while; }

std::vector<std::string> why_it_holds(const Rule& rule, const Bearing& bearing) {
  if (is_of_time(rule)) return {rule.number, "by the clock", "its times are reckoned on the finished walk; no single step shows where it matters"};
  if (only_forbids(rule)) return {rule.number, "since its moment never comes", "it only forbids, and no path does what it forbids"};
  return {rule.number, "whatever it asks for",
          bearing.why == Bearing::Why::never_comes ? "its moment comes on no path" : "on no path does anything fall due"};
}

/// Whether the emptied rule remembers anything: what is owed is then never settled, and several such rules in one walk
/// would multiply each other's states.
bool remembers(const Rule& rule) {
  switch (rule.pattern) {
    case Pattern::before_each:
    case Pattern::never:
    case Pattern::at_ending: return false;
    case Pattern::after_each:
    case Pattern::right_after_each:
    case Pattern::always: return true;
    case Pattern::within:
    case Pattern::at_least: return false;
  }
  return true;
}

/// The rules that can be walked together: those without a memory, and each of the others by itself.
std::vector<std::vector<bool>> walked_together(const model::Protocol& protocol, const std::vector<bool>& wanted) {
  std::vector<std::vector<bool>> groups(1, std::vector<bool>(wanted.size(), false));
  for (std::size_t r = 0; r < wanted.size(); ++r) {
    if (!wanted[r]) continue;
    if (remembers(protocol.rules[r])) {
      groups.emplace_back(wanted.size(), false);
      groups.back()[r] = true;
    } else {
      groups.front()[r] = true;
    }
  }
  return groups;
}

/// The protocol with two rules in the place of each that is wanted: rule i emptied is 2 i, its moment 2 i + 1.
model::Protocol with_rules_emptied(const model::Protocol& protocol, const std::vector<bool>& wanted) {
  model::Protocol out = protocol;
  out.set_aside.clear();
  out.rules.clear();
  for (std::size_t r = 0; r < protocol.rules.size(); ++r) {
    const Rule& rule = protocol.rules[r];
    Rule nothing;
    nothing.severity = model::Severity::advisory;
    const bool asked = wanted[r] && !is_of_time(rule);
    out.rules.push_back(asked ? emptied(rule) : nothing);
    out.rules.push_back(asked ? never_its_moment(rule) : nothing);
  }
  return out;
}

class BearingFinder {
 public:
  BearingFinder(const model::Protocol& protocol, const std::vector<bool>& wanted, const Options& options)
      : protocol_(protocol), wanted_(wanted), options_(options), out_(protocol.rules.size()) {
    for (Bearing& b : out_) b.why = Bearing::Why::never_comes;
  }

  std::vector<Bearing> run() {
    std::vector<model::Variant> variants = model::all_variants(protocol_);
    if (options_.only_variant && *options_.only_variant < variants.size()) variants = {variants[*options_.only_variant]};
    for (const std::vector<bool>& group : walked_together(protocol_, wanted_)) {
      hollow_ = with_rules_emptied(protocol_, group);
      for (const model::Variant& variant : variants) look_at(variant);
    }
    for (const model::Variant& variant : variants) {
      for (const Omission& o : broken_without_a_line(protocol_, wanted_, variant, options_)) {
        out_[o.rule.value].broken_by_omission = true;
        out_[o.rule.value].alone |= o.alone;
      }
    }
    return std::move(out_);
  }

 private:
  void look_at(const model::Variant& variant) {
    const Prepared prepared = prepare(hollow_, variant, options_);
    const Walked walked = first_walk(prepared, options_);
    for (const explore::Found& f : walked.result.found) {
      const effects::Report& report = prepared.system.reports[prepared.packed.reports[f.report].value];
      if (!report.rule) continue;
      Bearing& bearing = out_[report.rule.value / 2];
      if (report.rule.value % 2 == 1) note_moment(bearing);
      else if (bearing.why != Bearing::Why::matters || f.steps < bearing.steps) note_witness(bearing, prepared, walked, f, report);
    }
  }

  static void note_moment(Bearing& bearing) {
    if (bearing.why == Bearing::Why::never_comes) bearing.why = Bearing::Why::never_due;
  }

  void note_witness(Bearing& bearing, const Prepared& prepared, const Walked& walked, const explore::Found& found, const effects::Report& report) {
    bearing.why = Bearing::Why::matters;
    bearing.variant = model::variant_name(protocol_, prepared.variant);
    bearing.steps = found.steps;
    bearing.at = place_of_report(hollow_, prepared.graph, report);
    const effects::System whole = as_lowered(hollow_, prepared.graph, effects::HoldBack::no);
    const explore::Story story = explore::tell(whole, prepared.packed, walked.result, found);
    bearing.story = story_lines(hollow_, prepared.graph, graph::number_steps(hollow_, prepared.variant), whole, prepared.packed, story, report,
                                wording::headline(Code::R206, {protocol_.rules[report.rule.value / 2].number}));
  }

  const model::Protocol& protocol_;
  model::Protocol hollow_;  ///< with the rules of one group emptied
  const std::vector<bool>& wanted_;
  const Options& options_;
  std::vector<Bearing> out_;
};

}  // namespace

std::vector<Bearing> bearing_of_rules(const model::Protocol& protocol, const std::vector<bool>& wanted, const Options& options) {
  return BearingFinder(protocol, wanted, options).run();
}

void report_bearing(const model::Protocol& protocol, const std::vector<bool>& wanted, const std::vector<Bearing>& bearing,
                    const Verdict& verdict, diagnostics::Sink& sink) {
  for (std::size_t r = 0; r < bearing.size(); ++r) {
    const Rule& rule = protocol.rules[r];
    if (!wanted[r] || !verdict.rules_tested.count(rule.number)) continue;  // what is never asked is told already
    const Bearing& b = bearing[r];
    if (b.why != Bearing::Why::matters) {
      sink.push_back(diagnostics::make(Code::R203, rule.span, why_it_holds(rule, b)));
      continue;
    }
    diagnostics::Diagnostic witness = diagnostics::make(Code::R206, b.at, {rule.number});
    witness.story = b.story;
    witness.shared = b.variant;
    witness.places.push_back({rule.span, "rule"});
    sink.push_back(std::move(witness));
    if (b.broken_by_omission && !b.alone) sink.push_back(diagnostics::make(Code::R204, rule.span, {rule.number}));
  }
}

}  // namespace stepward::check
