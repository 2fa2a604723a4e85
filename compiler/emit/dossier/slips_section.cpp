// What single slips come to: points of weakness first, then what a confirm alone holds back, then how the rest is caught.

#include <algorithm>
#include <string>

#include "emit/dossier/slip_parts.hpp"
#include "emit/dossier/writer.hpp"
#include "wording/slips.hpp"

namespace stepward::emit::dossier {

using slips::Outcome;
using slips::Row;
using wording::Phrase;

namespace {

/// The step and the slip; the act, and in the words of the check what it comes to.
void slip_row(Writer& writer, const Row& row) {
  const std::string steps = writer.steps_of_lines(row.lines, row.variants, "\n");
  Text what{{steps.empty() ? writer.said(wording::slip_phrase(row.key.kind)) : steps + "\n" + writer.said(wording::slip_phrase(row.key.kind)), true, ""}};
  Text text = acts_of(writer, row);
  text.push_back({what_was_missed(writer, row), false, ""});
  for (const std::string& harm : slip_harms(writer, row)) text.push_back({"\n" + harm, false, ""});
  if (const std::string seen = seen_by_confirm(writer, row); !seen.empty()) text.push_back({"\n" + seen, false, ""});
  if (row.answer) {
    text.push_back({"\n", false, ""});
    for (Run& run : answer_agreed(writer, writer.protocol().answered_slips[*row.answer])) text.push_back(std::move(run));
  }
  writer.row(slips_table, {std::move(what), std::move(text)});
}

std::size_t count(const slips::Table& table, Outcome outcome) {
  return static_cast<std::size_t>(std::count_if(table.rows.begin(), table.rows.end(), [&](const Row& r) { return r.outcome == outcome; }));
}

template <typename Wanted>
void slip_rows(Writer& writer, const slips::Table& table, Phrase heading, Phrase none, Wanted wanted) {
  writer.heading(heading);
  if (std::none_of(table.rows.begin(), table.rows.end(), wanted)) return writer.paragraph(writer.said(none));
  writer.open(slips_table);
  for (const Row& row : table.rows)
    if (wanted(row)) slip_row(writer, row);
}

}  // namespace

std::string count_of(const slips::Table& table, Outcome outcome) { return whole_figure(count(table, outcome)); }

void write_slips(Writer& writer) {
  writer.section(Phrase::dossier_slips);
  if (!writer.facts().slips) return writer.paragraph(writer.said(Phrase::dossier_slips_not_analysed));
  const slips::Table& table = *writer.facts().slips;
  const auto number = [&](Outcome outcome) { return count_of(table, outcome); };
  writer.paragraph(writer.said(Phrase::dossier_slips_tried, {{"count", whole_figure(table.rows.size())}}));
  writer.paragraph(writer.said(Phrase::dossier_slips_counted, {{"harm", number(Outcome::harm)}, {"caught", number(Outcome::caught)},
                                                              {"harmless", number(Outcome::harmless)}, {"unknown", number(Outcome::not_modelled)}}), true);
  const auto is_held = [](const Row& r) { return r.outcome == Outcome::caught && r.harm.has_value(); };
  const auto held = static_cast<std::size_t>(std::count_if(table.rows.begin(), table.rows.end(), is_held));
  writer.paragraph(writer.said(Phrase::dossier_slips_listed, {{"harm", number(Outcome::harm)}, {"confirm", whole_figure(held)},
                                                              {"others", whole_figure(table.rows.size() - count(table, Outcome::harm) - held)}}));
  writer.paragraph(writer.said(Phrase::dossier_slips_mean));
  if (!table.complete) writer.warning(writer.said(Phrase::dossier_slips_incomplete));
  const auto is_answered = [&](const Row& r) { return table.is_answered(r); };
  const auto answered = std::count_if(table.rows.begin(), table.rows.end(), is_answered);
  if (answered > 0) writer.paragraph(writer.said(Phrase::dossier_answered_counted, {{"count", whole_figure(static_cast<std::uint64_t>(answered))}}));
  slip_rows(writer, table, Phrase::dossier_weak_points, answered > 0 ? Phrase::dossier_no_open_weak_points : Phrase::dossier_no_weak_points, [&](const Row& r) { return table.is_open(r); });
  if (answered > 0) slip_rows(writer, table, Phrase::dossier_answered_points, Phrase::dossier_no_weak_points, is_answered);
  slip_rows(writer, table, Phrase::dossier_held_by_confirm, Phrase::dossier_nothing_held_by_confirm, is_held);
}

}  // namespace stepward::emit::dossier
