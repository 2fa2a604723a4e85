#include "emit/dossier/slip_parts.hpp"

#include <algorithm>
#include <set>

#include "wording/step_text.hpp"

namespace stepward::emit::dossier {

using slips::Row;
using wording::Phrase;

namespace {

const VariantFacts& first_variant(const Writer& writer, const Row& row) { return writer.facts().variants[*row.variants.begin()]; }

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

std::vector<std::string> harms_of(const Row& row) {
  std::vector<std::string> headlines{row.harm->headline};
  for (const auto& [variant, harm] : row.harm_in)
    if (std::find(headlines.begin(), headlines.end(), harm.headline) == headlines.end()) headlines.push_back(harm.headline);
  return headlines;
}

}  // namespace

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

std::string what_was_missed(const Writer& writer, const Row& row) {
  if (row.key.kind != graph::SlipKind::overlooked) return "";
  const model::Line& line = writer.protocol()[row.in_first];
  const std::size_t findings = line.findings.size();
  const std::string finding = ": " + writer.protocol()[line.findings[row.key.look % findings]].name;
  if (line.things.size() == 1) return finding;
  return finding + ", " + wording::thing_phrase(writer.protocol(), first_variant(writer, row).variant, line.things[row.key.look / findings], {});
}

std::vector<std::string> slip_harms(const Writer& writer, const Row& row) {
  std::vector<std::string> told;
  if (!row.harm) return told;
  for (const std::string& harm : harms_of(row)) {
    const std::string where = places_of(writer, row, harm);
    told.push_back(where.empty() ? writer.said(Phrase::dossier_comes_to, {{"harm", harm}}) : writer.said(Phrase::dossier_comes_to_at, {{"harm", harm}, {"step", where}}));
  }
  return told;
}

std::string seen_by_confirm(const Writer& writer, const Row& row) {
  if (row.watch.empty()) return "";
  // Of a time that is not kept no confirm tells: there the row has a timer.
  if (row.key.kind == graph::SlipKind::cut_short) return writer.said(Phrase::dossier_timer_shows);
  const std::string watch = wording::step_text(writer.protocol(), first_variant(writer, row).variant, writer.protocol()[row.in_first], {}).watch;
  return writer.said(row.outcome == slips::Outcome::harm ? Phrase::dossier_seen_too_late : Phrase::dossier_confirm_sees, {{"watch", watch}});
}

}  // namespace stepward::emit::dossier
