// What was found, told as stories; the words are the check's own.

#include "emit/dossier/writer.hpp"

namespace stepward::emit::dossier {

using wording::Phrase;

namespace {

std::string severity_in_words(const Writer& writer, diagnostics::Severity severity) {
  switch (severity) {
    case diagnostics::Severity::error: return writer.said(Phrase::dossier_error);
    case diagnostics::Severity::warning: return writer.said(Phrase::dossier_warning);
    case diagnostics::Severity::note: return writer.said(Phrase::dossier_note);
  }
  return {};
}

/// The steps that the place of a finding is printed as, by variant.
std::string steps_at(const Writer& writer, const ToldFinding& finding) {
  return writer.by_variant([&](const VariantFacts& variant) {
    std::set<model::LineId> lines;
    for (const model::LineId id : variant.in_order) {
      const source::Span line = writer.protocol()[id].span;
      if (finding.at.file && line.file == finding.at.file && finding.at.begin >= line.begin && finding.at.begin < line.end) lines.insert(id);
    }
    return steps_of(variant, lines);
  });
}

void tell(Writer& writer, const ToldFinding& finding) {
  Text what{{wording::capitalised(finding.headline) + ".", true, ""}};
  if (!finding.place.empty()) what.push_back({"\n" + finding.place, false, ""});
  if (const std::string steps = steps_at(writer, finding); !steps.empty()) what.push_back({"\n" + writer.said(Phrase::dossier_at_steps, {{"steps", steps}}), false, ""});
  for (const auto& [name, words] : finding.remarks) what.push_back({"\n" + std::string(name) + ": " + words, false, ""});
  writer.row(stories_table, {{{severity_in_words(writer, finding.severity) + " " + finding.code, true, ""}}, what});
  if (finding.story.empty()) return;
  Text story;
  for (const ToldFinding::Step& step : finding.story) {
    const std::string begin = story.empty() ? "" : "\n";
    story.push_back({begin + (step.number.empty() ? "" : step.number + " ") + step.text, step.here, ""});
  }
  writer.row(stories_table, {{{writer.said(Phrase::dossier_story), false, ""}}, story});
}

}  // namespace

void write_findings(Writer& writer) {
  writer.section(Phrase::dossier_findings);
  if (writer.facts().findings.empty()) {
    writer.paragraph(writer.said(Phrase::dossier_no_findings));
    return;
  }
  writer.paragraph(writer.said(Phrase::dossier_findings_how));
  writer.open(stories_table);
  for (const ToldFinding& finding : writer.facts().findings) tell(writer, finding);
}

}  // namespace stepward::emit::dossier
