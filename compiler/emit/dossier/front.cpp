// The first section: the verdict, what it rests on, and exactly what was checked.

#include <algorithm>

#include "emit/dossier/writer.hpp"
#include "model/variants.hpp"

namespace stepward::emit::dossier {

using wording::Phrase;

namespace {

class Front {
 public:
  explicit Front(Writer& writer) : writer_(writer), facts_(writer.facts()) {}

  void write() {
    writer_.section(Phrase::dossier_verdict);
    verdict();
    writer_.heading(Phrase::dossier_assumptions);
    assumptions();
    writer_.heading(Phrase::what_was_checked);
    checked();
    variants();
    write_start(writer_);
    files();
  }

 private:
  const model::Protocol& protocol() const { return writer_.protocol(); }
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return writer_.said(which, gaps); }

  void verdict() {
    const std::string counted = said(Phrase::findings_counted, {{"errors", std::to_string(facts_.counts.errors)},
                                                                 {"warnings", std::to_string(facts_.counts.warnings)},
                                                                 {"notes", std::to_string(facts_.counts.notes)}});
    const std::string text = with_whole_figures(wording::capitalised(facts_.verdict)) + ". " + wording::capitalised(counted) + ".";
    if (facts_.counts.errors > 0 || !facts_.complete) writer_.warning(text);
    else writer_.paragraph(text, true);
    writer_.paragraph(said(Phrase::dossier_run_is) + " " + said(facts_.counts.errors > 0 ? Phrase::dossier_says_mend : facts_.complete ? Phrase::dossier_says_this : Phrase::dossier_says_little));
  }

  void assume(const std::string& text) { writer_.row(list_table, {{{text, false, ""}}}); }

  /// That nobody slips, what was tried beside it, and on which page that is scored by hand.
  void assume_no_slips() {
    const std::string text = said(Phrase::dossier_no_slips) + " " + slips_beside();
    if (!facts_.slips) return assume(text);
    const std::string table = said(Phrase::dossier_modes_stand, {{"section", wording::capitalised(said(Phrase::dossier_failure_modes))}});
    writer_.row(list_table, {{{text + " ", false, ""}, {table, false, failure_modes_label}, {".", false, ""}}});
  }

  void assumptions() {
    writer_.open(list_table);
    assume(said(protocol().reading == model::HandReading::ordinary ? Phrase::dossier_ordinary_hands : Phrase::dossier_perfect_hands));
    assume(said(Phrase::dossier_truthful));
    assume_no_slips();
    assume(said(Phrase::dossier_declared_only));
    assume(interruptions());
    assume(facts_.nobody_looked > 0 ? said(Phrase::dossier_nobody_looked, {{"count", std::to_string(facts_.nobody_looked)}}) : said(Phrase::dossier_looked));
    assume(said(Phrase::dossier_soil_is_one));
    assume(said(Phrase::dossier_time_declared));
    if (!protocol().set_aside.empty() || !protocol().local_changes.empty()) assume(said(Phrase::dossier_exceptions_count));
  }

  /// The section on slips speaks of them, so page one says how both are true.
  std::string slips_beside() const {
    if (!facts_.slips) return said(Phrase::dossier_slips_not_tried);
    const auto& rows = facts_.slips->rows;
    const auto harm = std::count_if(rows.begin(), rows.end(), [](const slips::Row& row) { return row.outcome == slips::Outcome::harm; });
    const auto answered = std::count_if(rows.begin(), rows.end(), [&](const slips::Row& row) { return facts_.slips->is_answered(row); });
    const std::string beside = said(Phrase::dossier_slips_beside, {{"count", std::to_string(rows.size())}, {"harm", std::to_string(harm)}, {"section", wording::capitalised(said(Phrase::dossier_slips))}});
    if (answered == 0) return beside;
    return beside + " " + said(Phrase::dossier_answered_beside, {{"count", std::to_string(answered)}, {"section", wording::capitalised(said(Phrase::dossier_registers))}});
  }

  std::string interruptions() const {
    if (protocol().interruptions.empty()) return said(Phrase::dossier_nothing_interrupts);
    std::vector<std::string> names;
    for (const model::Interruption& each : protocol().interruptions) names.push_back(each.name);
    return said(Phrase::dossier_interrupts, {{"interruptions", wording::all_of(protocol().tongue, names)}});
  }

  void checked() {
    const model::DocumentControl& document = protocol().document;
    writer_.open(fields_table);
    writer_.field(Phrase::dossier_document, said(Phrase::dossier_document_is, {{"title", document.title}, {"number", document.number}, {"version", document.version}}));
    for (const PairFacts& pair : facts_.pairs) writer_.field(Phrase::dossier_pairs_with, paired(pair));
    writer_.field(Phrase::dossier_made_by, said(Phrase::dossier_made_on, {{"tool", facts_.tool}, {"day", writer_.day(facts_.day)}}));
    writer_.field(Phrase::rules_field, rules());
    writer_.field(Phrase::dossier_situations, said(Phrase::dossier_situations_are, {{"states", facts_.states}, {"transitions", facts_.transitions}}));
    writer_.field(Phrase::dossier_runs, said(Phrase::dossier_runs_are, {{"paths", facts_.paths_are_rounded ? said(Phrase::dossier_about, {{"count", facts_.paths}}) : facts_.paths}, {"steps", facts_.longest}}));
    writer_.field(Phrase::dossier_limit, said(facts_.complete ? Phrase::dossier_limit_kept : Phrase::dossier_limit_reached, {{"states", facts_.limit}}));
  }

  std::string paired(const PairFacts& pair) const {
    const std::string document = pair.title.empty() ? pair.file : said(Phrase::dossier_document_is, {{"title", pair.title}, {"number", pair.number}, {"version", pair.version}});
    if (pair.compared == 0) return said(Phrase::dossier_pair_unread, {{"document", document}});
    const std::string compared = said(Phrase::dossier_pair_compared, {{"document", document}, {"count", std::to_string(pair.compared)}});
    return pair.moved_since ? said(Phrase::dossier_pair_moved, {{"pair", compared}}) : compared;
  }

  /// One pack a line; the first is the protocol's own.
  std::string rules() const {
    std::string text;
    for (std::uint32_t pack = 0; pack < protocol().packs.size(); ++pack) {
      const auto count = std::count_if(protocol().rules.begin(), protocol().rules.end(), [&](const model::Rule& rule) { return rule.pack == pack; });
      if (count == 0) continue;
      const std::string counted = counted_rules(static_cast<std::size_t>(count));
      const model::Pack& from = protocol().packs[pack];
      text += (text.empty() ? "" : "\n") + (pack == 0 ? said(Phrase::own_rules, {{"rules", counted}})
                                                      : said(Phrase::rules_of_pack, {{"number", from.number}, {"version", from.version}, {"rules", counted}}));
    }
    return text.empty() ? counted_rules(0) : text;
  }

  std::string counted_rules(std::size_t count) const {
    return count == 1 ? said(Phrase::one_rule) : said(Phrase::rules, {{"count", std::to_string(count)}});
  }

  void variants() {
    if (!writer_.has_variants()) return;
    writer_.heading(Phrase::dossier_variants);
    writer_.paragraph(said(Phrase::dossier_variants_numbered));
    writer_.open(fields_table);
    for (std::size_t v = 0; v < facts_.variants.size(); ++v)
      writer_.row(fields_table, {{{std::to_string(v + 1), true, ""}}, {{model::variant_name(protocol(), facts_.variants[v].variant), false, ""}}});
    for (const model::Exclusion& exclusion : protocol().exclusions) writer_.field(Phrase::never_together_field, excluded(exclusion));
  }

  std::string excluded(const model::Exclusion& exclusion) const {
    std::vector<std::string> names;
    for (const model::ChoiceValue& value : exclusion.together) names.push_back(protocol()[value.choice].values[value.value].name);
    const std::string all = wording::all_of(protocol().tongue, names);
    return exclusion.because.empty() ? all : said(Phrase::because_of, {{"what", all}, {"reason", exclusion.because}});
  }

  void files() {
    writer_.heading(Phrase::dossier_files);
    writer_.paragraph(said(Phrase::dossier_files_how));
    writer_.open(list_table);
    for (const ReadFile& file : facts_.files) {
      const std::string size = said(Phrase::dossier_bytes, {{"count", whole_figure(file.bytes)}});
      writer_.row(list_table, {{{file.path, true, ""}, {", " + size + "\n" + file.sha256, false, ""}}});
    }
  }

  Writer& writer_;
  const Facts& facts_;
};

}  // namespace

void write_front(Writer& writer) { Front(writer).write(); }

}  // namespace stepward::emit::dossier
