#include "emit/sign_off/sign_off_page.hpp"

#include <algorithm>

#include "emit/document/check_words.hpp"
#include "wording/slips.hpp"

namespace stepward::emit {

using wording::Phrase;

namespace {

enum : std::size_t { facts_table, papers_table, signatures_table };

std::vector<Table> sign_off_tables(const PaperSource& source) {
  using What = Column::What;
  const auto column = [&](What what, Phrase caption, double share) { return Column{what, source.said(caption), share}; };
  return {{{What::words, "", 1}, {What::words, "", 3}},
          // On the smallest sheet the widest check words have one line.
          {column(What::words, Phrase::paper_column, 1), column(What::words, Phrase::check_words_column, 3.3)},
          signature_table(source)};
}

Block sign_row(const PaperSource& source, std::size_t table, Phrase role, const model::Signature& signature) {
  Text text{{wording::capitalised(source.said(role)), true, ""}};
  for (const std::string* each : {&signature.name, &signature.office})
    if (!each->empty()) text.push_back({"\n" + *each, false, ""});
  return TableRow{table, "", false, {text}};
}

class SignOffPrinter {
 public:
  SignOffPrinter(const PaperSource& source, const SignOffFacts& facts, const Sheet& sheet)
      : source_(source), facts_(facts), control_(sheet.control), captions_(sheet.captions) {}

  std::vector<Block> print() {
    document();
    checked();
    papers();
    signatures();
    return std::move(blocks_);
  }

 private:
  const model::Protocol& protocol() const { return source_.protocol; }
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return source_.said(which, gaps); }

  void open(Phrase heading, std::size_t table) {
    blocks_.push_back(Heading{said(heading), true});
    blocks_.push_back(TableHead{table});
  }

  void fact(Phrase name, const std::string& value) {
    if (!value.empty()) blocks_.push_back(TableRow{facts_table, "", false, {{{said(name), true, ""}}, {{value, false, ""}}}});
  }

  // ---- the document

  std::string person(const model::Signature& signature) const {
    const std::string who = signature.office.empty() ? signature.name : signature.name + ", " + signature.office;
    return signature.date.empty() ? who : said(Phrase::person_on_day, {{"person", who}, {"day", date_words(signature.date, captions_)}});
  }

  std::string persons(const std::vector<model::Signature>& signatures) const {
    std::string text;
    for (const model::Signature& each : signatures) text += (text.empty() ? "" : "\n") + person(each);
    return text.empty() ? said(Phrase::nobody_yet) : text;
  }

  std::string day(const std::string& iso) const { return iso.empty() ? said(Phrase::not_given) : date_words(iso, captions_); }

  /// By their names, as they are written; in another language by their tags, which are the same everywhere.
  std::string languages() const {
    const bool as_written = protocol().tongue.language == "English";
    std::vector<std::string> names;
    for (const std::string& name : protocol().document.languages) names.emplace_back(as_written ? name : wording::language_tag(name));
    return wording::all_of(protocol().tongue, names);
  }

  void document() {
    const model::DocumentControl& document = protocol().document;
    open(Phrase::the_document, facts_table);
    fact(Phrase::status_field, control_.status);
    fact(Phrase::replaces_field, document.replaces);
    fact(Phrase::applies_to_field, document.applies_to);
    fact(Phrase::languages_field, languages());
    fact(Phrase::written_by_field, persons(document.written_by));
    fact(Phrase::reviewed_by_field, persons(document.reviewed_by));
    fact(Phrase::approved_by_field, persons(document.approved_by));
    fact(Phrase::in_force_field, day(document.in_force_from));
    fact(Phrase::review_due_field, day(document.review_due));
  }

  // ---- what was checked

  void checked() {
    blocks_.push_back(Heading{said(Phrase::what_was_checked), true});
    blocks_.push_back(Paragraph{{{control_.verdict + ".", true, ""}}, false});
    blocks_.push_back(TableHead{facts_table});
    fact(Phrase::findings_field, said(Phrase::findings_counted, {{"errors", std::to_string(facts_.findings.errors)},
                                                                  {"warnings", std::to_string(facts_.findings.warnings)},
                                                                  {"notes", std::to_string(facts_.findings.notes)}}));
    fact(Phrase::rules_field, rules());
    fact(Phrase::variants_field, variants());
    for (const model::Exclusion& exclusion : protocol().exclusions) fact(Phrase::never_together_field, excluded(exclusion));
    for (const model::SetAside& aside : protocol().set_aside)
      fact(Phrase::set_aside_field, agreed(said(Phrase::rule_number, {{"rule", aside.number}}), aside.agreement));
    for (const model::LocalChange& change : protocol().local_changes)
      fact(Phrase::changed_locally_field, agreed(said(Phrase::step_of_routine, {{"routine", protocol()[change.routine].name}, {"step", change.at}}), change.agreement));
    for (const model::AnsweredSlip& answer : protocol().answered_slips) fact(Phrase::answered_slip_field, agreed(answer_in_words(source_, answer), answer.agreement));
  }

  std::string counted_rules(std::size_t count) const {
    return count == 1 ? said(Phrase::one_rule) : said(Phrase::rules, {{"count", std::to_string(count)}});
  }

  /// "STD-RU-02 version 1.0: 17 rules", one pack a line. The first pack is the protocol's own.
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

  std::string variants() const {
    std::string text;
    for (const std::string& name : facts_.variants) text += (text.empty() ? "" : "\n") + name;
    return text;
  }

  std::string excluded(const model::Exclusion& exclusion) const {
    std::vector<std::string> names;
    for (const model::ChoiceValue& value : exclusion.together) names.push_back(protocol()[value.choice].values[value.value].name);
    const std::string all = wording::all_of(protocol().tongue, names);
    return exclusion.because.empty() ? all : said(Phrase::because_of, {{"what", all}, {"reason", exclusion.because}});
  }

  std::string agreed(const std::string& what, const model::Agreement& agreement) const {
    std::string text = agreement.reason.empty() ? what + "." : said(Phrase::because_of, {{"what", what}, {"reason", agreement.reason}});
    text += "\n" + (agreement.until.empty() ? said(Phrase::until_no_day) : said(Phrase::until_day, {{"day", date_words(agreement.until, captions_)}}));
    return text + " " + said(Phrase::agreed_by_person, {{"person", agreement.by.name.empty() ? said(Phrase::nobody_yet) : person(agreement.by)}});
  }

  // ---- papers and signatures

  void papers() {
    if (facts_.papers.empty()) {
      blocks_.push_back(Heading{said(Phrase::papers_signed), true});
      blocks_.push_back(Paragraph{{{said(Phrase::no_other_paper), false, ""}}, false});
      return;
    }
    open(Phrase::papers_signed, papers_table);
    std::string under;
    for (const SignedPaper& paper : facts_.papers) {
      // A variant is named once, above its papers; what is made once stands by itself.
      if (paper.variant != under) blocks_.push_back(Notice{{{paper.variant.empty() ? said(Phrase::for_every_variant) : paper.variant, true, ""}}, 0, {}, true});
      under = paper.variant;
      blocks_.push_back(TableRow{papers_table, "", false, {{{paper.kind, true, ""}}, {{paper.check_words, false, ""}}}});
    }
  }

  void signatures() {
    open(Phrase::signatures, signatures_table);
    for (Block& row : signature_rows(source_, signatures_table)) blocks_.push_back(std::move(row));
  }

  const PaperSource& source_;
  const SignOffFacts& facts_;
  const Control& control_;
  const Captions& captions_;
  std::vector<Block> blocks_;
};

}  // namespace

std::string answer_in_words(const PaperSource& source, const model::AnsweredSlip& answer) {
  return source.said(Phrase::slips_at_step, {{"slips", wording::slips_in_words(source.protocol.tongue, answer.kinds)}, {"step", answer.line}, {"place", answer.place}});
}

Table signature_table(const PaperSource& source) {
  using What = Column::What;
  const auto column = [&](What what, Phrase caption, double share) { return Column{what, source.said(caption), share}; };
  return {column(What::words, Phrase::role_column, 1.5), column(What::pen, Phrase::name_column, 1.4), column(What::pen, Phrase::signature_column, 1.5),
          column(What::pen, Phrase::date_column, 1)};
}

std::vector<Block> signature_rows(const PaperSource& source, std::size_t table) {
  std::vector<Block> rows;
  const auto sign = [&](Phrase role, const std::vector<model::Signature>& signatures) {
    if (signatures.empty()) rows.push_back(sign_row(source, table, role, {}));
    for (const model::Signature& each : signatures) rows.push_back(sign_row(source, table, role, each));
  };
  sign(Phrase::written_by_field, source.protocol.document.written_by);
  sign(Phrase::reviewed_by_field, source.protocol.document.reviewed_by);
  sign(Phrase::approved_by_field, source.protocol.document.approved_by);
  return rows;
}

Sheet sign_off_page(const PaperSource& source, const SignOffFacts& facts) {
  Sheet sheet = begun_sheet(source, SheetKind::table, source.said(Phrase::sign_off_page));
  sheet.tables = sign_off_tables(source);
  sheet.blocks = SignOffPrinter(source, facts, sheet).print();
  stamp(sheet);
  return sheet;
}

}  // namespace stepward::emit
