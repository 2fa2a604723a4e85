#include "driver/copies.hpp"

#include <algorithm>
#include <optional>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "base/text.hpp"
#include "driver/papers.hpp"
#include "emit/fresh/told_words.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

using diagnostics::Code;
using emit::CopyState;

/// "breach card" is `breach`, "kit list" is `kit`: a paper is called by its name, with or without what it is.
std::optional<std::string> paper_called(const std::string& words) {
  const std::vector<std::string> known = paper_names();
  const std::string folded = text::fold(words);
  if (is_among(known, folded)) return folded;
  for (const char* what : {" card", " list", " sheet", " page"}) {
    const std::string end = what;
    if (folded.size() <= end.size() || folded.compare(folded.size() - end.size(), end.size(), end) != 0) continue;
    if (const std::string name = folded.substr(0, folded.size() - end.size()); is_among(known, name)) return name;
  }
  return std::nullopt;
}

bool is_made_once(const std::string& paper) { return is_among(protocol_paper_names(), paper); }

std::vector<std::size_t> variants_meant(const model::Protocol& protocol, const model::Copy& copy) {
  const std::vector<model::Variant> all = model::all_variants(protocol);
  std::vector<std::size_t> meant;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (model::holds(copy.variant, all[i])) meant.push_back(i);
  }
  return meant;
}

/// Why it is not clear which variant's paper hangs there; empty: it is.
std::string unclear(const model::Protocol& protocol, const model::Copy& copy, const std::string& paper) {
  if (is_made_once(paper)) return copy.variant.empty() ? "" : "it is made once, and for no variant";
  const std::size_t count = variants_meant(protocol, copy).size();
  if (count == 1 || protocol.choices.empty()) return {};
  if (copy.variant.empty()) return fmt::format("there is one for each of {} variants: say for which", count);
  return count == 0 ? "no variant is like that" : fmt::format("this fits {} variants: name more of their parts", count);
}

bool is_spoken(const Compilation& made, const std::string& language) {
  const auto& languages = made.protocol->document.languages;
  const std::string own = languages.empty() ? "English" : languages.front();
  return language.empty() || text::fold(language) == text::fold(own) || dictionary_of(made, language) != nullptr;
}

void check_copy(Compilation& made, const model::Copy& copy) {
  const auto report = [&](Code code, source::Span at, std::vector<std::string> args) { made.findings.push_back(diagnostics::make(code, at, std::move(args))); };
  const auto paper = paper_called(copy.paper);
  if (!paper) report(Code::D131, copy.paper_span, {copy.paper, fmt::format("{}", fmt::join(paper_names(), ", "))});
  else if (const std::string why = unclear(*made.protocol, copy, *paper); !why.empty()) report(Code::D132, copy.span, {copy.paper, why});
  if (!is_spoken(made, copy.language)) report(Code::D137, copy.language_span, {text::capitalised(copy.language)});
  std::string why;
  if (copy.bearing.empty()) return;
  const auto words = emit::told(copy.bearing, why);
  if (!words || words->is_code() || !words->slips.empty())
    report(Code::D135, copy.bearing_span, {copy.bearing, why.empty() ? "copy the four words from its foot" : why});
}

/// The paper of a copy as it would be printed now; none: there is none like it.
std::optional<Paper> paper_now(const Compilation& made, const model::Copy& copy) {
  const auto name = paper_called(copy.paper);
  if (!name || *name == "recall" || !is_spoken(made, copy.language)) return std::nullopt;
  const translation::Dictionary* words = copy.language.empty() ? nullptr : dictionary_of(made, copy.language);
  std::vector<Paper> papers;
  if (is_made_once(*name)) {
    papers = papers_of_protocol(made, {*name}, {}, words);
  } else {
    const auto meant = variants_meant(*made.protocol, copy);
    if (meant.size() != 1 || meant.front() >= made.verdict.walks.size()) return std::nullopt;
    papers = papers_of(made, made.verdict.walks[meant.front()], {*name}, words);
  }
  if (papers.empty()) return std::nullopt;
  return std::move(papers.front());
}

CopyState state_of(const Compilation& made, const model::Copy& copy) {
  CopyState state;
  state.paper = text::capitalised(copy.paper);
  const auto name = paper_called(copy.paper);
  const auto meant = variants_meant(*made.protocol, copy);
  if (name && !is_made_once(*name) && meant.size() == 1) state.variant = model::variant_name(*made.protocol, model::all_variants(*made.protocol)[meant.front()]);
  const std::optional<Paper> now = paper_now(made, copy);
  // What hangs there is printed no more.
  if (!now) return state.what = CopyState::What::outdated, state;
  const emit::Control& control = now->sheet.control;
  state.paper = control.kind;
  state.variant = control.variant;
  // A sign-off page tells of one run, and bears words of its own in each.
  const bool is_comparable = now->what != "sign-off";
  if (is_comparable) state.words_now = control.check_words;
  std::string why;
  const auto words = copy.bearing.empty() ? std::nullopt : emit::told(copy.bearing, why);
  const bool is_other_version = !copy.version.empty() && copy.version != control.version;
  if (words && is_comparable) state.what = words->words == emit::words_apart(control.check_words) ? CopyState::What::current : CopyState::What::outdated;
  else if (!copy.version.empty()) state.what = is_other_version ? CopyState::What::outdated : CopyState::What::current;
  return state;
}

const char* word_of(CopyState::What what) {
  switch (what) {
    case CopyState::What::current: return "current";
    case CopyState::What::outdated: return "out of date";
    case CopyState::What::not_known: return "not known";
  }
  return "";
}

std::string copy_line(const model::Copy& copy, const CopyState& state) {
  std::string line = fmt::format("  {:11}  {} × {}{}{}, {}", word_of(state.what), copy.count, state.paper, state.variant.empty() ? "" : " for " + state.variant,
                                 copy.language.empty() ? "" : " in " + text::capitalised(copy.language), copy.place);
  if (!copy.version.empty()) line += ", version " + copy.version;
  if (!copy.since.empty()) line += ", since " + copy.since;
  line += '\n';
  if (state.what != CopyState::What::current && !state.words_now.empty()) line += fmt::format("{:15}words now: {}\n", "", state.words_now);
  return line;
}

}  // namespace

void check_copies(Compilation& made) {
  if (!made.is_walkable()) return;
  for (const model::Copy& copy : made.protocol->copies) check_copy(made, copy);
}

std::vector<CopyState> copy_states(const Compilation& made) {
  std::vector<CopyState> states;
  for (const model::Copy& copy : made.protocol->copies) states.push_back(state_of(made, copy));
  return states;
}

std::string copies_text(const Compilation& made, const std::vector<CopyState>& states) {
  const auto& copies = made.protocol->copies;
  std::uint64_t all = 0, outdated = 0;
  std::string text;
  for (const CopyState::What what : {CopyState::What::outdated, CopyState::What::not_known, CopyState::What::current}) {
    for (std::size_t i = 0; i < copies.size(); ++i) {
      if (states[i].what != what) continue;
      all += copies[i].count;
      outdated += what == CopyState::What::outdated ? copies[i].count : 0;
      text += copy_line(copies[i], states[i]);
    }
  }
  return fmt::format("{} {} on the register, {} out of date\n", all, all == 1 ? "copy" : "copies", outdated) + text;
}

}  // namespace stepward::driver
