// Rules that are set aside, steps that were changed for this protocol alone and slips that somebody answers for, with the day
// on which each ends.

#include "emit/dossier/writer.hpp"
#include "emit/sign_off/sign_off_page.hpp"

namespace stepward::emit::dossier {

using wording::Phrase;

namespace {

std::string person(const Writer& writer, const model::Signature& by) {
  if (by.name.empty()) return writer.said(Phrase::nobody_yet);
  return by.office.empty() ? by.name : by.name + ", " + by.office;
}

/// Reason, who agreed, until when; what is over is said first and loud.
Text agreed(const Writer& writer, const model::Agreement& agreement, bool is_over, Phrase over) {
  Text text;
  if (is_over) text.push_back({writer.said(over, {{"day", writer.day(agreement.until)}}) + "\n", true, ""});
  else text.push_back({(agreement.until.empty() ? writer.said(Phrase::until_no_day) : writer.said(Phrase::until_day, {{"day", writer.day(agreement.until)}})) + "\n", false, ""});
  text.push_back({agreement.reason.empty() ? writer.said(Phrase::dossier_no_reason) : agreement.reason, false, ""});
  text.push_back({"\n" + writer.said(Phrase::agreed_by_person, {{"person", person(writer, agreement.by)}}), false, ""});
  return text;
}

std::string places(const model::SetAside& aside) {
  std::string text;
  for (const std::string& place : aside.places) text += (text.empty() ? "“" : ", “") + place + "”";
  return text;
}

void set_aside(Writer& writer, std::size_t i) {
  const model::SetAside& aside = writer.protocol().set_aside[i];
  const ExceptionFacts& use = writer.facts().exceptions[i];
  const std::string rule = aside.rule ? writer.rule(writer.protocol()[aside.rule]) : aside.number;
  Text what{{rule, true, ""}};
  if (!aside.places.empty()) what.push_back({"\n" + writer.said(Phrase::dossier_set_aside_in, {{"places", places(aside)}}), false, ""});
  Text text = agreed(writer, aside.agreement, aside.is_over, Phrase::dossier_set_aside_over);
  const std::string steps = writer.by_variant([&](const VariantFacts& variant) {
    std::set<model::LineId> lines;
    for (const auto& [line, asides] : variant.set_aside)
      if (asides.count(static_cast<std::uint32_t>(i))) lines.insert(line);
    return steps_of(variant, lines);
  });
  const std::string needed = use.variants == 0 ? writer.said(Phrase::dossier_exception_unneeded)
                                               : writer.said(Phrase::dossier_exception_needed, {{"variants", std::to_string(use.variants)}, {"runs", use.runs}});
  text.push_back({"\n" + needed, false, ""});
  if (!steps.empty()) text.push_back({"\n" + writer.said(Phrase::dossier_not_kept_at, {{"steps", steps}}), false, ""});
  writer.row(fields_table, {what, text});
}

Phrase done(model::LocalChange::What what) {
  switch (what) {
    case model::LocalChange::What::replace: return Phrase::dossier_replaced;
    case model::LocalChange::What::add_after: return Phrase::dossier_added_after;
    case model::LocalChange::What::leave_out: return Phrase::dossier_left_out;
  }
  return Phrase::dossier_replaced;
}

void local_change(Writer& writer, const model::LocalChange& change) {
  const std::string step = writer.said(Phrase::step_of_routine, {{"routine", writer.protocol()[change.routine].name}, {"step", change.at}});
  Text text{{writer.said(done(change.what)) + " ", false, ""}};
  text.push_back({writer.said(Phrase::dossier_calls, {{"count", std::to_string(change.calls)}}) + "\n", false, ""});
  for (Run& run : agreed(writer, change.agreement, change.is_overdue, Phrase::dossier_change_overdue)) text.push_back(std::move(run));
  writer.row(fields_table, {{{step, true, ""}}, text});
}

void answered_slip(Writer& writer, std::size_t i) {
  const model::AnsweredSlip& answer = writer.protocol().answered_slips[i];
  Text text = answer_agreed(writer, answer);
  if (writer.facts().slips) {
    const std::size_t harms = writer.facts().slips->answers[i].harms;
    text.push_back({"\n" + (harms == 0 ? writer.said(Phrase::dossier_answer_unneeded) : writer.said(Phrase::dossier_answer_needed, {{"count", std::to_string(harms)}})), false, ""});
  }
  writer.row(fields_table, {{{wording::capitalised(answer_in_words(writer.source(), answer)), true, ""}}, text});
}

/// Most protocols have none, and say nothing of it.
void answered_slips(Writer& writer) {
  if (writer.protocol().answered_slips.empty()) return;
  writer.heading(Phrase::dossier_answered_slips);
  writer.open(fields_table);
  for (std::size_t i = 0; i < writer.protocol().answered_slips.size(); ++i) answered_slip(writer, i);
}

}  // namespace

Text answer_agreed(const Writer& writer, const model::AnsweredSlip& answer) { return agreed(writer, answer.agreement, answer.is_over, Phrase::dossier_answer_over); }

void write_registers(Writer& writer) {
  writer.section(Phrase::dossier_registers);
  writer.heading(Phrase::dossier_set_aside);
  if (writer.protocol().set_aside.empty()) writer.paragraph(writer.said(Phrase::dossier_nothing_set_aside));
  else writer.open(fields_table);
  for (std::size_t i = 0; i < writer.protocol().set_aside.size(); ++i) set_aside(writer, i);
  writer.heading(Phrase::dossier_local_changes);
  if (writer.protocol().local_changes.empty()) writer.paragraph(writer.said(Phrase::dossier_nothing_changed));
  else writer.open(fields_table);
  for (const model::LocalChange& change : writer.protocol().local_changes) local_change(writer, change);
  answered_slips(writer);
}

}  // namespace stepward::emit::dossier
