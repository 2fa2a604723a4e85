#include "driver/papers.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "driver/verdict_text.hpp"
#include "emit/card/card.hpp"
#include "emit/script/script.hpp"
#include "graph/numbering.hpp"
#include "translation/apply.hpp"
#include "wording/phrases.hpp"

namespace stepward::driver {
namespace {

using emit::Sheet;
using translation::Dictionary;
using translation::Translated;
using translation::Unsaid;

const std::vector<std::string> all_kinds = {"card", "script"};

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
  facts.verdict = verdict_for_paper(made, spoken.tongue);
  facts.has_errors = diagnostics::count(made.findings).errors > 0;
  return facts;
}

Sheet sheet_of(const std::string& what, const model::Protocol& spoken, const model::Variant& variant, const graph::Course& course,
               const emit::WalkFacts& facts, const model::Protocol& written) {
  return what == "card" ? emit::wearers_card(spoken, variant, course, facts, written)
                        : emit::observers_script(spoken, variant, course, facts, written);
}

/// Everything that a reader of a sheet can see.
std::string all_words(const Sheet& sheet) {
  const emit::Captions& c = sheet.captions;
  std::string words = plain_text(sheet) + sheet.control.verdict + sheet.control.caution;
  for (const std::string* caption : {&c.critical, &c.say, &c.hear, &c.act, &c.clock, &c.look_for, &c.if_not, &c.box, &c.breach, &c.for_variant, &c.version,
                                     &c.continued, &c.page, &c.in_force, &c.review_due, &c.owner, &c.approved_by, &c.date, &c.check_words, &c.not_given, &c.draft_mark}) {
    words += *caption;
  }
  for (const std::string& month : c.months) words += month;
  return words;
}

/// The numbers of what one variant's papers leave unsaid, paper by paper.
std::vector<std::vector<std::size_t>> unsaid_on(const Compilation& made, const check::VariantWalk& walk, const graph::Course& course,
                                                const std::vector<std::string>& what, const Translated& numbered) {
  std::vector<std::vector<std::size_t>> unsaid;
  const emit::WalkFacts facts = facts_of(made, walk, numbered.protocol);
  for (const std::string& each : what) {
    unsaid.push_back(translation::marks_in(all_words(sheet_of(each, numbered.protocol, walk.variant, course, facts, *made.protocol))));
  }
  return unsaid;
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

std::vector<Paper> papers_of(const Compilation& made, const check::VariantWalk& walk, const std::vector<std::string>& what, const Dictionary* words) {
  const graph::Course course = graph::number_steps(*made.protocol, walk.variant);
  std::vector<Paper> papers;
  if (!words) {
    const emit::WalkFacts facts = facts_of(made, walk, *made.protocol);
    for (const std::string& each : what) papers.push_back({each, sheet_of(each, *made.protocol, walk.variant, course, facts, *made.protocol)});
    return papers;
  }
  const auto unsaid = unsaid_on(made, walk, course, what, translate(*made.protocol, *words, translation::Marks::with_number));
  const Translated spoken = translate(*made.protocol, *words, translation::Marks::with_text);
  emit::WalkFacts facts = facts_of(made, walk, spoken.protocol);
  for (std::size_t i = 0; i < what.size(); ++i) {
    facts.half_said = !unsaid[i].empty();
    papers.push_back({what[i], sheet_of(what[i], spoken.protocol, walk.variant, course, facts, *made.protocol), unsaid[i].size()});
  }
  return papers;
}

Coverage cover(const Compilation& made, const Dictionary& words) {
  Coverage coverage{words.language, 0, 0, {}};
  const Translated numbered = translate(*made.protocol, words, translation::Marks::with_number);
  std::set<std::size_t> missing;
  for (const check::VariantWalk& walk : made.verdict.walks) {
    const graph::Course course = graph::number_steps(*made.protocol, walk.variant);
    for (const auto& unsaid : unsaid_on(made, walk, course, all_kinds, numbered)) {
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

void cover_all(Compilation& made) {
  for (const Dictionary& words : made.words) {
    made.covered.push_back(cover(made, words));
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
