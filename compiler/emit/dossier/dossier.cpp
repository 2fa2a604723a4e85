#include "emit/dossier/dossier.hpp"

#include "emit/document/check_words.hpp"
#include "emit/dossier/chart_figures.hpp"
#include "emit/dossier/writer.hpp"
#include "emit/sign_off/sign_off_page.hpp"

namespace stepward::emit {

using wording::Phrase;

namespace {

std::vector<Table> dossier_tables(const PaperSource& source) {
  using What = Column::What;
  const auto words = [&](Phrase caption, double share) { return Column{What::words, source.said(caption), share}; };
  const auto field = [&](Phrase caption, double share) { return Column{What::field, source.said(caption), share}; };
  const Table fields{{What::words, "", 1}, {What::words, "", 2.6}};
  return {fields,
          {{What::words, "", 1}},
          fields,
          {words(Phrase::dossier_rule_column, 1), words(Phrase::dossier_asked_column, 1.6)},
          {words(Phrase::dossier_step_column, 0.6), words(Phrase::dossier_done_column, 1.4), words(Phrase::dossier_contact_column, 2)},
          {words(Phrase::kit_what, 1.6), words(Phrase::dossier_needed_column, 1), words(Phrase::dossier_listed_column, 1)},
          {words(Phrase::kit_what, 1.2), words(Phrase::dossier_step_column, 1.6)},
          {words(Phrase::dossier_ending_column, 0.8), words(Phrase::dossier_shortest_column, 1.2), words(Phrase::dossier_longest_column, 1.2)},
          {words(Phrase::dossier_mark_column, 1), words(Phrase::dossier_source_column, 3.2)},
          signature_table(source),
          fields,
          {{What::figure, "", 0.2}, words(Phrase::dossier_severity, 1.4), words(Phrase::dossier_probability, 1.3)},
          {words(Phrase::dossier_probability, 1.4), words(Phrase::dossier_catastrophic, 1), words(Phrase::dossier_major, 1), words(Phrase::dossier_moderate, 1), words(Phrase::dossier_minor, 1)},
          {words(Phrase::dossier_mode_column, 1.65), words(Phrase::dossier_effect_column, 2.2), words(Phrase::dossier_questions_column, 1.26)},
          {field(Phrase::dossier_causes, 3.2), field(Phrase::dossier_severity, 1), field(Phrase::dossier_probability, 1.1), field(Phrase::dossier_score, 0.8)},
          {field(Phrase::dossier_action, 3.6), field(Phrase::kit_who, 1.5), field(Phrase::dossier_by_when, 1)},
          {field(Phrase::dossier_causes, 1.4), field(Phrase::dossier_severity, 0.95), field(Phrase::dossier_probability, 1.3), field(Phrase::dossier_score, 0.8), field(Phrase::dossier_action_short, 1.65),
           field(Phrase::kit_who, 0.9), field(Phrase::dossier_by_when, 0.95)}};
}

void write_chart(dossier::Writer& writer) {
  const dossier::ChartFile& chart = writer.facts().chart;
  writer.section(Phrase::flow_chart);
  if (chart.sha256.empty()) {
    writer.paragraph(writer.said(Phrase::dossier_chart_none, {{"reason", chart.why_none}}));
    return;
  }
  writer.paragraph(writer.said(Phrase::dossier_chart_how));
  writer.paragraph(writer.said(Phrase::dossier_chart_file, {{"command", chart.command}}));
  writer.open(dossier::list_table);
  writer.row(dossier::list_table, {{{chart.sha256, false, ""}}});
  if (chart.tells_never) writer.paragraph(writer.said(Phrase::dossier_chart_never));
  for (dossier::ChartFigure& part : dossier::chart_figures(writer.facts().charts)) {
    const bool everywhere = part.variants.size() == writer.facts().variants.size();
    if (!part.title.empty()) writer.heading_of(everywhere ? part.title : writer.in_variants({part.variants, part.title}));
    writer.add(std::move(part.figure));
  }
}

void write_signatures(dossier::Writer& writer) {
  writer.section(Phrase::signatures, true);
  writer.paragraph(writer.said(Phrase::dossier_signing));
  writer.open(dossier::signatures_table);
  for (Block& row : signature_rows(writer.source(), dossier::signatures_table)) writer.add(std::move(row));
}

}  // namespace

Sheet review_dossier(const PaperSource& source, const dossier::Facts& facts) {
  Sheet sheet = begun_sheet(source, SheetKind::review, source.said(Phrase::review_dossier));
  sheet.tables = dossier_tables(source);
  dossier::Writer writer(source, facts, sheet);
  write_front(writer);
  write_findings(writer);
  write_rules(writer);
  write_registers(writer);
  write_map(writer);
  write_kit(writer);
  write_sources(writer);
  write_chart(writer);
  write_slips(writer);
  write_signatures(writer);
  write_failure_modes(writer);
  sheet.blocks = writer.take();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
