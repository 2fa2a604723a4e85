// What single slips come to: points of weakness first, then what a confirm alone holds back, then how the rest is caught.

#include <algorithm>
#include <set>
#include <string>

#include "emit/dossier/writer.hpp"
#include "slips/table.hpp"
#include "wording/slips.hpp"
#include "wording/step_text.hpp"

namespace stepward::emit::dossier {

using slips::Outcome;
using slips::Row;
using wording::Phrase;

namespace {

const VariantFacts& first_variant(const Writer& writer, const Row& row) { return writer.facts().variants[*row.variants.begin()]; }

/// ": soil", of a look that misses; where it looks at several things, ": soil, the goggles".
std::string what_was_missed(const Writer& writer, const Row& row, const model::Line& line) {
  if (row.key.kind != graph::SlipKind::overlooked) return "";
  const std::size_t findings = line.findings.size();
  const std::string finding = ": " + writer.protocol()[line.findings[row.key.look % findings]].name;
  if (line.things.size() == 1) return finding;
  return finding + ", " + wording::thing_phrase(writer.protocol(), first_variant(writer, row).variant, line.things[row.key.look / findings], {});
}

/// Whether the lines of a row have several numbers on the card of this variant.
bool has_several_steps(const VariantFacts& variant, const Row& row) {
  std::set<std::string> labels;
  for (const model::LineId line : row.lines) labels.insert(variant.course.label(line));
  labels.erase("");
  return labels.size() > 1;
}

/// Where it comes to this harm, by the variants in which it does: numbers of the card, or an ending.
std::string places_of(const Writer& writer, const Row& row, const std::string& headline) {
  return writer.by_variant([&](const VariantFacts& variant) -> std::string {
    const auto here = row.harm_in.find(static_cast<std::size_t>(&variant - writer.facts().variants.data()));
    if (here == row.harm_in.end() || here->second.headline != headline) return "";
    const std::string place = here->second.ending ? writer.said(Phrase::dossier_the_ending, {{"ending", writer.protocol()[here->second.ending].name}}) : steps_of(variant, {here->second.line});
    // A row may stand for several places of one line; then it matters at which of them somebody slipped.
    if (place.empty() || !has_several_steps(variant, row)) return place;
    return writer.said(Phrase::dossier_slip_at, {{"step", place}, {"slip", steps_of(variant, {here->second.slipped})}});
  }, "; ");
}

/// What it comes to, the worst of all variants first; variants may come to other harm, and are told of theirs.
std::vector<std::string> harms_of(const Row& row) {
  std::vector<std::string> headlines{row.harm->headline};
  for (const auto& [variant, harm] : row.harm_in)
    if (std::find(headlines.begin(), headlines.end(), harm.headline) == headlines.end()) headlines.push_back(harm.headline);
  return headlines;
}

/// The act, once in each form that a variant or a call of its routine gives it.
Text acts_of(const Writer& writer, const Row& row) {
  Text all = writer.act(first_variant(writer, row), row.in_first);
  std::set<std::string> said{plain_text(all)};
  for (const std::size_t v : row.variants) {
    const VariantFacts& variant = writer.facts().variants[v];
    for (const model::LineId line : row.lines) {
      if (variant.course.label(line).empty()) continue;
      Text act = writer.act(variant, line);
      if (!said.insert(plain_text(act)).second) continue;
      all.push_back({"\n", false, ""});
      for (Run& run : act) all.push_back(std::move(run));
    }
  }
  return all;
}

/// The step and the slip; the act, and in the words of the check what it comes to.
void slip_row(Writer& writer, const Row& row) {
  const model::Line& line = writer.protocol()[row.in_first];
  const std::string steps = writer.steps_of_lines(row.lines, row.variants, "\n");
  Text what{{steps.empty() ? writer.said(wording::slip_phrase(row.key.kind)) : steps + "\n" + writer.said(wording::slip_phrase(row.key.kind)), true, ""}};
  Text text = acts_of(writer, row);
  text.push_back({what_was_missed(writer, row, line), false, ""});
  if (row.harm) {
    for (const std::string& harm : harms_of(row)) {
      const std::string where = places_of(writer, row, harm);
      text.push_back({"\n" + (where.empty() ? writer.said(Phrase::dossier_comes_to, {{"harm", harm}}) : writer.said(Phrase::dossier_comes_to_at, {{"harm", harm}, {"step", where}})), false, ""});
    }
  }
  // Of a time that is not kept no confirm tells: there the row has a timer.
  if (row.key.kind == graph::SlipKind::cut_short && !row.watch.empty()) {
    text.push_back({"\n" + writer.said(Phrase::dossier_timer_shows), false, ""});
  } else if (!row.watch.empty()) {
    const std::string watch = wording::step_text(writer.protocol(), first_variant(writer, row).variant, line, {}).watch;
    text.push_back({"\n" + writer.said(row.outcome == Outcome::harm ? Phrase::dossier_seen_too_late : Phrase::dossier_confirm_sees, {{"watch", watch}}), false, ""});
  }
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

void write_slips(Writer& writer) {
  writer.section(Phrase::dossier_slips);
  if (!writer.facts().slips) return writer.paragraph(writer.said(Phrase::dossier_slips_not_analysed));
  const slips::Table& table = *writer.facts().slips;
  const auto number = [&](Outcome outcome) { return whole_figure(count(table, outcome)); };
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
