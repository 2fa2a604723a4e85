#include "driver/registers.hpp"

#include <fmt/format.h>

#include "driver/verdict_text.hpp"
#include "wording/slips.hpp"

namespace stepward::driver {

using wording::Phrase;
using wording::phrase;

namespace {

std::string place_of(const Compilation& made, source::Span at) {
  return at.file ? fmt::format("{}:{}", made.files.path(at.file), made.files.position(at.file, at.begin).line) : std::string();
}

std::string quoted_list(const std::vector<std::string>& names) {
  std::string list;
  for (const std::string& name : names) list += (list.empty() ? "“" : ", “") + name + "”";
  return list;
}

std::string rule_name(const Compilation& made, const model::SetAside& aside) {
  return aside.rule ? (*made.protocol)[aside.rule].name : std::string();
}

std::string signature(const model::Agreement& agreement) {
  return agreement.by.name.empty() ? "nobody named" : agreement.by.name + ", " + agreement.by.office;
}

const char* done_in_words(model::LocalChange::What what) {
  switch (what) {
    case model::LocalChange::What::replace: return "replaced";
    case model::LocalChange::What::add_after: return "lines added after it";
    case model::LocalChange::What::leave_out: return "left out";
  }
  return "";
}

std::string needed(const Compilation& made, const check::ExceptionUse& use) {
  if (use.lines.empty()) return "needed by no run";
  std::string lines;
  for (const source::Span at : use.lines) lines += (lines.empty() ? "" : ", ") + place_of(made, at);
  const std::size_t all = made.verdict.walks.size();
  return fmt::format("needed by {} of {} in {} of {} variants, at {}", counted_runs(use.runs), counted_paths(made.verdict.paths()),
                     use.variants, all, lines);
}

std::string set_aside_text(const Compilation& made) {
  std::string text;
  for (std::size_t i = 0; i < made.protocol->set_aside.size(); ++i) {
    const model::SetAside& aside = made.protocol->set_aside[i];
    const std::string name = rule_name(made, aside);
    text += fmt::format("  {}{}{} in {}, until {}{}\n", aside.number, name.empty() ? "" : " ", name, quoted_list(aside.places),
                        aside.agreement.until.empty() ? "no day" : aside.agreement.until, aside.is_over ? " (over)" : "");
    text += fmt::format("    {}\n    agreed by {}; {}\n", aside.agreement.reason.empty() ? "no reason given" : aside.agreement.reason,
                        signature(aside.agreement), needed(made, made.verdict.exceptions[i]));
  }
  return text.empty() ? text : "set aside:\n" + text;
}

std::string local_changes_text(const Compilation& made) {
  std::string text;
  for (const model::LocalChange& change : made.protocol->local_changes) {
    text += fmt::format("  {} at “{}”: {}, {}, look again by {}{}\n", (*made.protocol)[change.routine].name, change.at,
                        done_in_words(change.what), change.calls == 1 ? "1 call" : fmt::format("{} calls", change.calls),
                        change.agreement.until.empty() ? "no day" : change.agreement.until, change.is_overdue ? " (overdue)" : "");
    text += fmt::format("    {}\n    agreed by {}\n", change.agreement.reason.empty() ? "no reason given" : change.agreement.reason,
                        signature(change.agreement));
  }
  return text.empty() ? text : "local changes:\n" + text;
}

std::string answered_slips_text(const Compilation& made) {
  std::string text;
  for (const model::AnsweredSlip& answer : made.protocol->answered_slips) {
    text += fmt::format("  {} at “{}” in “{}”, until {}{}\n", wording::slips_said(answer.kinds), answer.line, answer.place,
                        answer.agreement.until.empty() ? "no day" : answer.agreement.until, answer.is_over ? " (over)" : "");
    text += fmt::format("    {}\n    agreed by {}\n", answer.agreement.reason.empty() ? "no reason given" : answer.agreement.reason, signature(answer.agreement));
  }
  return text.empty() ? text : "slips that are answered for:\n" + text;
}

}  // namespace

std::string rules_counted(const Compilation& made, const model::Tongue& tongue) {
  const std::string rules = counted_as(tongue, made.protocol->rules.size(), Phrase::one_rule, Phrase::rules);
  const std::size_t asides = made.protocol->set_aside.size(), changes = made.protocol->local_changes.size();
  std::string exceptions;
  if (asides > 0) exceptions = counted_as(tongue, asides, Phrase::one_set_aside, Phrase::several_set_aside);
  if (changes > 0) exceptions += (exceptions.empty() ? "" : ", ") + counted_as(tongue, changes, Phrase::one_step_changed, Phrase::several_steps_changed);
  return exceptions.empty() ? rules : phrase(tongue, Phrase::with_exceptions, {{"rules", rules}, {"exceptions", exceptions}});
}

std::string registers_text(const Compilation& made) { return set_aside_text(made) + local_changes_text(made) + answered_slips_text(made); }

std::vector<diagnostics::Row> set_aside_rows(const Compilation& made) {
  std::vector<diagnostics::Row> rows;
  for (std::size_t i = 0; i < made.protocol->set_aside.size(); ++i) {
    const model::SetAside& aside = made.protocol->set_aside[i];
    const check::ExceptionUse& use = made.verdict.exceptions[i];
    std::vector<std::string> lines;
    for (const source::Span at : use.lines) lines.push_back(place_of(made, at));
    rows.push_back({{{"rule", aside.number}, {"name", rule_name(made, aside)}, {"places", aside.places},
                     {"reason", aside.agreement.reason}, {"agreed_by", aside.agreement.by.name},
                     {"office", aside.agreement.by.office}, {"ends_on", aside.agreement.until}, {"over", aside.is_over},
                     {"at", place_of(made, aside.span)}, {"lines", std::move(lines)},
                     {"variants", static_cast<std::int64_t>(use.variants)}, {"runs", use.runs}}});
  }
  return rows;
}

std::vector<diagnostics::Row> local_change_rows(const Compilation& made) {
  std::vector<diagnostics::Row> rows;
  for (const model::LocalChange& change : made.protocol->local_changes)
    rows.push_back({{{"routine", (*made.protocol)[change.routine].name}, {"step", change.at},
                     {"done", std::string(done_in_words(change.what))}, {"reason", change.agreement.reason},
                     {"agreed_by", change.agreement.by.name}, {"office", change.agreement.by.office},
                     {"look_again_by", change.agreement.until}, {"overdue", change.is_overdue},
                     {"calls", static_cast<std::int64_t>(change.calls)}, {"at", place_of(made, change.span)},
                     {"step_at", place_of(made, change.step)}}});
  return rows;
}

std::vector<diagnostics::Row> answered_slip_rows(const Compilation& made) {
  std::vector<diagnostics::Row> rows;
  for (const model::AnsweredSlip& answer : made.protocol->answered_slips) {
    std::vector<std::string> kinds;
    for (const model::SlipKind kind : answer.kinds) kinds.emplace_back(wording::slip_name(kind));
    rows.push_back({{{"slips", std::move(kinds)}, {"every_slip", answer.kinds.empty()}, {"step", answer.line}, {"place", answer.place},
                     {"reason", answer.agreement.reason}, {"agreed_by", answer.agreement.by.name}, {"office", answer.agreement.by.office},
                     {"ends_on", answer.agreement.until}, {"over", answer.is_over}, {"at", place_of(made, answer.span)},
                     {"step_at", place_of(made, (*made.protocol)[answer.lines.front()].span)}}});
  }
  return rows;
}

}  // namespace stepward::driver
