// The failure-mode table in the two published forms, as text, csv and json. Cells that are for the people who work there stay empty.

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "emit/slips/csv.hpp"
#include "emit/slips/failure_modes.hpp"
#include "emit/slips/slip_words.hpp"
#include "wording/slips.hpp"

namespace stepward::emit {
namespace {

using slips::FailureDecision;
using slips::FailureMode;
using slips::Row;

std::string decision_in_words(FailureDecision d) {
  switch (d) {
    case FailureDecision::act: return "act";
    case FailureDecision::act_by_score: return "act if the score is 8 or more";
    case FailureDecision::stop_controlled: return "stop: controlled";
    case FailureDecision::stop_obvious: return "stop: obvious";
    case FailureDecision::stop_no_harm: return "stop: no harm in the model";
  }
  return "";
}

std::string mode_in_words(const Row& row) { return row.look.empty() ? slip_name(row) : slip_name(row) + ": " + row.look; }

/// What is wrong as soon as the line is over.
std::string local_effect(const Row& row) {
  if (row.harm && row.harm->at_once) return row.harm->headline;
  return row.breaks.empty() ? "" : fmt::format("breaks {}", fmt::join(row.breaks, ", "));
}

std::string end_effect(const Row& row) {
  if (!row.harm) return row.outcome == slips::Outcome::caught ? "none before it is noticed" : "none in the model";
  return row.harm->step.empty() ? row.harm->headline : fmt::format("{} (at {})", row.harm->headline, row.harm->step);
}

std::string controls(const Row& row) {
  std::string out;
  for (const slips::Catch& c : row.caught) {
    if (!out.empty()) out += "; ";
    out += catch_name(c.by);
    if (!c.step.empty()) out += fmt::format(" ({})", c.step);
    if (!c.words.empty()) out += ": " + c.words;
  }
  return out;
}

/// What the author does about it, for the columns of actions: whether that holds the slip back, the model does not know.
struct Action { std::string what, who, due; };

Action action_of(const slips::Table& table, const Row& row) {
  if (!row.answer) return {};
  const model::AnsweredSlip& said = table.answers[*row.answer].said;
  const std::string what = said.is_over ? fmt::format("OVER since {}: {}", said.agreement.until, said.agreement.reason) : said.agreement.reason;
  return {what, answered_by(said), said.agreement.until};
}

std::string yes(bool it_is) { return it_is ? "yes" : "no"; }

using Cells = std::vector<std::string>;
struct Form { Cells heads; std::vector<Cells> rows; };

/// The steps 3 and 4 of HFMEA, with its own numbering of failure modes.
Form hfmea(const slips::Table& table, const std::vector<FailureMode>& modes) {
  Form out{{"failure mode number", "process step", "failure mode", "guide word", "potential cause", "effect", "severity", "probability", "hazard score",
            "single point weakness", "existing control", "effective control", "obvious", "proceed", "action type", "action", "outcome measure", "person responsible"}, {}};
  for (const FailureMode& m : modes) {
    const Row& row = table.rows[m.row];
    const Action action = action_of(table, row);
    out.rows.push_back({m.number, row.line, mode_in_words(row), std::string(wording::guide_word(row.key.kind)), "", end_effect(row), "", "", "",
                        yes(m.answers.single_point_weakness), controls(row), yes(m.answers.effective_control), yes(m.answers.obvious), decision_in_words(m.decision), "", action.what, "", action.who});
  }
  return out;
}

/// The columns of a table after IEC 60812:2018, from memory.
Form iec_60812(const slips::Table& table, const std::vector<FailureMode>& modes) {
  Form out{{"item", "step", "function", "failure mode", "cause", "local effect", "end effect", "existing controls", "severity", "occurrence", "detection", "rank",
            "recommended action", "owner", "due", "result"}, {}};
  for (const FailureMode& m : modes) {
    const Row& row = table.rows[m.row];
    const Action action = action_of(table, row);
    out.rows.push_back({m.number, row.line, "", mode_in_words(row), "", local_effect(row), end_effect(row), controls(row), "", "", "", "", action.what, action.who, action.due, ""});
  }
  return out;
}

Form form_of(const slips::Table& table, const std::vector<FailureMode>& modes, FailureForm form) {
  return form == FailureForm::hfmea ? hfmea(table, modes) : iec_60812(table, modes);
}

}  // namespace

std::string failure_modes_as_csv(const slips::Table& table, const std::vector<FailureMode>& modes, FailureForm form) {
  const Form made = form_of(table, modes, form);
  std::string out = csv_row(made.heads);
  for (const Cells& row : made.rows) out += csv_row(row);
  return out;
}

std::string failure_modes_as_json(const slips::Table& table, const std::vector<FailureMode>& modes, FailureForm form) {
  const Form made = form_of(table, modes, form);
  nlohmann::ordered_json rows = nlohmann::ordered_json::array();
  for (const Cells& cells : made.rows) {
    nlohmann::ordered_json row;
    for (std::size_t i = 0; i < cells.size(); ++i) row[made.heads[i]] = cells[i];
    rows.push_back(std::move(row));
  }
  const nlohmann::ordered_json out{{"format", "stepward-failure-modes"}, {"version", 1}, {"form", form == FailureForm::hfmea ? "HFMEA" : "IEC 60812"},
                                   {"complete", table.complete}, {"assumptions", what_was_tried(table)}, {"failure_modes", std::move(rows)}};
  return out.dump(2) + "\n";
}

// To be read, not filled in: what asks for action first.
std::string failure_modes_as_text(const slips::Table& table, const std::vector<FailureMode>& modes, FailureForm form) {
  std::string out = fmt::format("Failure modes, {}: {}; severity and how often are for those who work there\n", form == FailureForm::hfmea ? "by the questions of HFMEA" : "as IEC 60812 asks for them", modes.size());
  for (const FailureDecision d : {FailureDecision::act, FailureDecision::act_by_score, FailureDecision::stop_controlled, FailureDecision::stop_obvious, FailureDecision::stop_no_harm}) {
    bool first = true;
    for (const FailureMode& m : modes) {
      if (m.decision != d) continue;
      const Row& row = table.rows[m.row];
      if (first) out += "\n" + decision_in_words(d) + "\n";
      first = false;
      out += fmt::format("  {:10} {}, {}\n", m.number, mode_in_words(row), row.line);
      if (d == FailureDecision::stop_no_harm) continue;
      if (row.harm) out += fmt::format("             comes to: {}\n", end_effect(row));
      if (!row.caught.empty()) out += fmt::format("             control: {}\n", controls(row));
      if (row.answer) out += fmt::format("             action: {} ({}, {})\n", action_of(table, row).what, answered_by(table.answers[*row.answer].said), answer_standing(table.answers[*row.answer].said));
    }
  }
  out += "\n";
  for (const std::string& line : what_was_tried(table)) out += line + "\n";
  return out;
}

}  // namespace stepward::emit
