#include "driver/papers.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "driver/copies.hpp"
#include "driver/dossier_charts.hpp"
#include "driver/dossiers.hpp"
#include "driver/verdict_text.hpp"
#include "emit/badge/badge_card.hpp"
#include "emit/card/card.hpp"
#include "emit/competency/competency_sheet.hpp"
#include "emit/dilution/dilution_card.hpp"
#include "emit/dossier/dossier.hpp"
#include "emit/kit/kit_list.hpp"
#include "emit/poster/poster.hpp"
#include "emit/recall/recall_list.hpp"
#include "emit/script/script.hpp"
#include "graph/numbering.hpp"
#include "model/variants.hpp"
#include "translation/apply.hpp"
#include "wording/phrases.hpp"

namespace stepward::driver {
namespace {

using emit::Sheet;
using emit::SheetKind;
using translation::Dictionary;
using translation::Translated;
using translation::Unsaid;

/// A paper that is made for every variant; some variants have nothing to put on it.
struct VariantPaper {
  const char* name;
  emit::SheetKind kind;
  std::optional<Sheet> (*make)(const emit::PaperSource& source);
};

constexpr VariantPaper variant_papers[] = {
    {"card", SheetKind::card, [](const emit::PaperSource& s) { return std::optional(emit::wearers_card(s.protocol, s.variant, s.course, s.facts, s.written)); }},
    {"script", SheetKind::script, [](const emit::PaperSource& s) { return std::optional(emit::observers_script(s.protocol, s.variant, s.course, s.facts, s.written)); }},
    {"poster", SheetKind::poster, emit::poster},
    {"breach", SheetKind::breach, emit::breach_card},
    {"badge", SheetKind::badge, emit::badge_card},
    {"kit", SheetKind::table, [](const emit::PaperSource& s) { return std::optional(emit::kit_list(s)); }},
    {"competency", SheetKind::table, [](const emit::PaperSource& s) { return std::optional(emit::competency_sheet(s)); }}};

constexpr const char* dilution = "dilution";
constexpr const char* recall = "recall";
constexpr const char* sign_off = "sign-off";

/// Days of ISO 8601 stand in their order as letters do. What is withdrawn waits for no review.
bool is_overdue(const Compilation& made) {
  const model::DocumentControl& document = made.protocol->document;
  return document.status != "withdrawn" && !document.review_due.empty() && !made.today.empty() && document.review_due < made.today;
}

std::vector<emit::HandLayer> listed(const std::set<model::ItemId>& layers) { return {layers.begin(), layers.end()}; }

/// A routine that is called in several places may stand on paper once, for all its calls: so by where a line stands.
void note_exceptions(const model::Protocol& protocol, const check::VariantWalk& walk, emit::WalkFacts& facts) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, std::set<std::uint32_t>> by_place;
  const auto place_of = [&](const model::Line& line) { return std::pair{line.span.file.value, line.span.begin}; };
  for (const auto& [line, asides] : walk.set_aside) by_place[place_of(protocol[line])].insert(asides.begin(), asides.end());
  if (by_place.empty()) return;
  for (std::size_t l = 0; l < protocol.lines.size(); ++l) {
    const auto found = by_place.find(place_of(protocol.lines[l]));
    if (found == by_place.end()) continue;
    for (const std::uint32_t i : found->second) {
      const model::SetAside& aside = protocol.set_aside[i];
      const std::string& day = aside.agreement.until;
      const std::string until = day.empty() ? day : " " + wording::phrase(protocol.tongue, wording::Phrase::until_day, {{"day", day}});
      facts.set_aside[model::LineId(l)].push_back({aside.number, aside.agreement.reason + until});
    }
  }
}

emit::WalkFacts facts_of(const Compilation& made, const check::VariantWalk& walk, const model::Protocol& spoken) {
  emit::WalkFacts facts;
  for (const auto& [line, layers] : walk.hands_before) facts.hands_before[line] = listed(layers);
  for (const auto& [line, layers] : walk.hands_after) facts.hands_after[line] = listed(layers);
  note_exceptions(spoken, walk, facts);
  if (const auto found = made.weak_points.find(walk.variant); found != made.weak_points.end()) facts.weak_points = found->second.lines;
  facts.stock = walk.stock;
  facts.stock_known = walk.stock_known;
  facts.verdict = verdict_for_paper(made, spoken.tongue);
  facts.has_errors = diagnostics::count(made.findings).errors > 0;
  facts.is_overdue = is_overdue(made);
  return facts;
}

/// What is known of the whole protocol, and of no variant.
emit::WalkFacts facts_of(const Compilation& made, const model::Protocol& spoken) {
  emit::WalkFacts facts;
  facts.verdict = verdict_for_paper(made, spoken.tongue);
  facts.has_errors = diagnostics::count(made.findings).errors > 0;
  facts.is_overdue = is_overdue(made);
  return facts;
}

using Sheets = std::vector<std::pair<std::string, Sheet>>;

/// The papers of a set in one language. `half_said`: by paper, whether its language leaves something unsaid.
using MakeSheets = std::function<Sheets(const model::Protocol& spoken, const std::vector<bool>& half_said)>;

Sheets variant_sheets(const Compilation& made, const check::VariantWalk& walk, const graph::Course& course, const std::vector<std::string>& what,
                      const model::Protocol& spoken, const std::vector<bool>& half_said) {
  emit::WalkFacts facts = facts_of(made, walk, spoken);
  const emit::PaperSource source{spoken, *made.protocol, walk.variant, course, facts};
  Sheets sheets;
  for (const VariantPaper& paper : variant_papers) {
    if (!is_among(what, paper.name)) continue;
    facts.half_said = sheets.size() < half_said.size() && half_said[sheets.size()];
    if (auto sheet = paper.make(source)) sheets.emplace_back(paper.name, std::move(*sheet));
  }
  return sheets;
}

Sheets protocol_sheets(const Compilation& made, const std::vector<std::string>& what, const std::vector<emit::SignedPaper>& listed,
                       const model::Protocol& spoken, const std::vector<bool>& half_said) {
  emit::WalkFacts facts = facts_of(made, spoken);
  const model::Variant none;
  const graph::Course nowhere;
  const emit::PaperSource source{spoken, *made.protocol, none, nowhere, facts};
  Sheets sheets;
  const auto note_unsaid = [&] { facts.half_said = sheets.size() < half_said.size() && half_said[sheets.size()]; };
  note_unsaid();
  if (is_among(what, dilution)) {
    if (auto sheet = emit::dilution_card(source)) sheets.emplace_back(dilution, std::move(*sheet));
  }
  note_unsaid();
  if (is_among(what, recall) && !made.protocol->copies.empty()) {
    if (auto sheet = emit::recall_list(source, copy_states(made))) sheets.emplace_back(recall, std::move(*sheet));
  }
  note_unsaid();
  if (is_among(what, sign_off)) {
    std::vector<std::string> variants;
    for (const check::VariantWalk& walk : made.verdict.walks) variants.push_back(model::variant_name(spoken, walk.variant));
    sheets.emplace_back(sign_off, emit::sign_off_page(source, {variants, diagnostics::count(made.findings), listed}));
  }
  return sheets;
}

/// Everything that a reader of a sheet can see.
std::string all_words(const Sheet& sheet) {
  const emit::Captions& c = sheet.captions;
  std::string words = plain_text(sheet) + sheet.control.verdict + sheet.control.caution;
  for (const emit::FaceMark& mark : sheet.control.marks) words += mark.word + mark.why;
  for (const std::string* caption : {&c.critical, &c.say, &c.hear, &c.act, &c.clock, &c.look_for, &c.if_not, &c.box, &c.breach, &c.for_variant, &c.version,
                                     &c.continued, &c.page, &c.in_force, &c.review_due, &c.owner, &c.approved_by, &c.date, &c.check_words, &c.check_words_explained, &c.not_given, &c.draft_mark}) {
    words += *caption;
  }
  for (const std::string& month : c.months) words += month;
  return words;
}

/// The numbers of what the papers of a set leave unsaid, paper by paper. `numbered`: the protocol with numbers in the place of what is not said.
std::vector<std::vector<std::size_t>> unsaid_on(const MakeSheets& make, const Translated& numbered) {
  std::vector<std::vector<std::size_t>> unsaid;
  for (const auto& [name, sheet] : make(numbered.protocol, {})) unsaid.push_back(translation::marks_in(all_words(sheet)));
  return unsaid;
}

std::vector<Paper> in_words(const Compilation& made, const MakeSheets& make, const Dictionary* words) {
  std::vector<Paper> papers;
  if (!words) {
    for (auto& [name, sheet] : make(*made.protocol, {})) papers.push_back({name, std::move(sheet)});
    return papers;
  }
  const auto unsaid = unsaid_on(make, translate(*made.protocol, *words, translation::Marks::with_number));
  std::vector<bool> half_said;
  for (const auto& each : unsaid) half_said.push_back(!each.empty());
  for (auto& [name, sheet] : make(translate(*made.protocol, *words, translation::Marks::with_text).protocol, half_said))
    papers.push_back({name, std::move(sheet), unsaid[papers.size()].size()});
  return papers;
}

MakeSheets of_variant(const Compilation& made, const check::VariantWalk& walk, const std::vector<std::string>& what) {
  return [&made, &walk, what, course = graph::number_steps(*made.protocol, walk.variant)](const model::Protocol& spoken, const std::vector<bool>& half_said) {
    return variant_sheets(made, walk, course, what, spoken, half_said);
  };
}

MakeSheets of_protocol(const Compilation& made, const std::vector<std::string>& what, const std::vector<emit::SignedPaper>& listed) {
  return [&made, what, listed](const model::Protocol& spoken, const std::vector<bool>& half_said) {
    return protocol_sheets(made, what, listed, spoken, half_said);
  };
}

std::string counted_unsaid(const std::vector<Unsaid>& unsaid) {
  std::string list;
  const auto add = [&](Unsaid::What what, const char* one, const char* several) {
    const auto count = std::count_if(unsaid.begin(), unsaid.end(), [&](const Unsaid& each) { return each.what == what; });
    if (count > 0) list += fmt::format("{}{} {}", list.empty() ? "" : ", ", count, count == 1 ? one : several);
  };
  add(Unsaid::What::text, "text", "texts");
  add(Unsaid::What::name, "name", "names");
  add(Unsaid::What::phrase, "phrase", "phrases");
  return list;
}

std::string first_few(const std::vector<Unsaid>& unsaid) {
  std::string list;
  for (std::size_t i = 0; i < std::min<std::size_t>(3, unsaid.size()); ++i) list += (list.empty() ? "\"" : ", \"") + unsaid[i].english + '"';
  return unsaid.size() > 3 ? list + " …" : list;
}

}  // namespace

std::vector<std::string> paper_names() {
  std::vector<std::string> names;
  for (const VariantPaper& paper : variant_papers) names.push_back(paper.name);
  for (const std::string& name : protocol_paper_names()) names.push_back(name);
  return names;
}

SheetKind kind_of_paper(const std::string& name) {
  for (const VariantPaper& paper : variant_papers) {
    if (paper.name == name) return paper.kind;
  }
  return name == dossier_name ? SheetKind::review : SheetKind::table;
}

bool is_among(const std::vector<std::string>& names, const std::string& name) { return std::find(names.begin(), names.end(), name) != names.end(); }

std::vector<std::string> protocol_paper_names() { return {dilution, recall, sign_off}; }

std::vector<Paper> papers_of(const Compilation& made, const check::VariantWalk& walk, const std::vector<std::string>& what, const Dictionary* words) {
  return in_words(made, of_variant(made, walk, what), words);
}

std::vector<Paper> papers_of_protocol(const Compilation& made, const std::vector<std::string>& what, const std::vector<emit::SignedPaper>& listed,
                                      const Dictionary* words) {
  return in_words(made, of_protocol(made, what, listed), words);
}

emit::WalkFacts walk_facts(const Compilation& made, const check::VariantWalk& walk, const model::Protocol& spoken) { return facts_of(made, walk, spoken); }

std::vector<Paper> papers_of_dossier(const Compilation& made, const emit::dossier::Facts& facts, const Dictionary* words) {
  const auto make = [&](const model::Protocol& spoken, const std::vector<bool>& half_said) {
    emit::WalkFacts walked = facts_of(made, spoken);
    walked.half_said = !half_said.empty() && half_said.front();
    const model::Variant none;
    const graph::Course nowhere;
    emit::dossier::Facts told = facts;
    told.verdict = walked.verdict;
    std::string why_none;
    BandPlacer placer;
    if (words && !told.charts.empty()) told.charts = dossier_charts(spoken, made, NeverTaken::is_told, placer, why_none).value_or(std::move(told.charts));
    Sheets sheets;
    sheets.emplace_back(dossier_name, emit::review_dossier({spoken, *made.protocol, none, nowhere, walked}, told));
    return sheets;
  };
  return in_words(made, make, words);
}

Coverage cover(const Compilation& made, const Dictionary& words, unsigned workers) {
  Coverage coverage{words.language, 0, 0, {}};
  const Translated numbered = translate(*made.protocol, words, translation::Marks::with_number);
  const auto& walks = made.verdict.walks;
  // By variant, and behind them the papers that are made once.
  std::vector<std::vector<std::vector<std::size_t>>> unsaid_by_set(walks.size() + 1);
  side_by_side(unsaid_by_set.size(), workers, [&](std::size_t i) {
    unsaid_by_set[i] = unsaid_on(i < walks.size() ? of_variant(made, walks[i], paper_names()) : of_protocol(made, paper_names(), {}), numbered);
  });
  std::set<std::size_t> missing;
  for (const auto& papers : unsaid_by_set) {
    for (const auto& unsaid : papers) {
      ++coverage.papers;
      if (unsaid.empty()) ++coverage.complete;
      missing.insert(unsaid.begin(), unsaid.end());
    }
  }
  for (const std::size_t number : missing) {
    if (number < numbered.unsaid.size()) coverage.unsaid.push_back(numbered.unsaid[number]);
  }
  return coverage;
}

void cover_all(Compilation& made, unsigned workers) {
  for (const Dictionary& words : made.words) {
    made.covered.push_back(cover(made, words, workers));
    const Coverage& coverage = made.covered.back();
    if (coverage.unsaid.empty() || words.has_mistakes) continue;
    made.findings.push_back(diagnostics::make(diagnostics::Code::X410, words.heading,
                                              {counted_unsaid(coverage.unsaid), coverage.language, first_few(coverage.unsaid), made.loaded.files.front().path}));
  }
}

const Dictionary* dictionary_of(const Compilation& made, const std::string& language) {
  const auto found = std::find_if(made.words.begin(), made.words.end(), [&](const Dictionary& d) { return text::fold(d.language) == text::fold(language); });
  return found == made.words.end() ? nullptr : &*found;
}

}  // namespace stepward::driver
