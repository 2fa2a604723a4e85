// What the wearer's card tells of a step, the script tells as well, in the same words or from the other side: nothing that the author wrote is
// dropped between the two. Held against every protocol of the standard library and the example, in each of their variants.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "driver/standard_files.hpp"
#include "emit/card/card.hpp"
#include "emit/script/script.hpp"
#include "example_papers.hpp"
#include "laid_papers.hpp"
#include "model/variants.hpp"
#include "wording/heard.hpp"
#include "wording/step_text.hpp"

using namespace stepward;
using namespace stepward::test;

namespace {

using Words = std::set<std::string>;

Words words_in(const std::string& text) {
  const auto list = wording::heard_words(text);
  return {list.begin(), list.end()};
}

/// All words of a row, whoever they are for.
std::string all_of(const emit::SayRow& row) {
  std::string text = row.say + " " + emit::plain_text(row.act) + " " + row.hear + " " + row.look_for + " " + row.if_not + " " + row.clock;
  for (const auto* list : {&row.warnings, &row.remarks})
    for (const emit::Text& each : *list) text += " " + emit::plain_text(each);
  return text;
}

/// The author's words of a line: her own, or those of technique and verb; then note, warning, reason, and the bin.
std::vector<std::string> written_for(const emit::PaperSource& source, const graph::Entry& entry) {
  const model::Line& line = source.protocol[entry.line];
  const wording::StepText text = wording::step_text(source.protocol, source.variant, line, emit::setting_of(source, entry));
  std::vector<std::string> written{text.words, text.warning, text.watch, line.details.note, line.details.critical_because, line.details.because, emit::bin_of(source, line)};
  if (line.verb == model::VerbKind::act) written.push_back(line.text);
  if (line.agent) written.push_back(source.protocol[line.agent].name);
  if (line.without_waiting) written.push_back(source.said(wording::Phrase::do_not_wait));
  // Made to be read aloud in other words: then those count.
  if (text.spoken != text.words) written.front() = text.spoken;
  // What is said of a question's answers stands in its own field.
  if (line.verb == model::VerbKind::decide && !text.says_own) written.front().clear();
  return written;
}

/// Words of `texts` that are in none of `told`.
std::string dropped(const std::vector<std::string>& texts, const std::string& told) {
  const Words there = words_in(told);
  std::string missing;
  for (const std::string& text : texts) {
    for (const std::string& word : wording::heard_words(text)) {
      const bool of_person = word == "your" || word == "own" || word == "the";
      if (!of_person && there.count(word) == 0) missing += " " + word;
    }
  }
  return missing;
}

struct Compared { std::size_t steps = 0; std::vector<std::string> broken; };

const emit::SayRow* row_called(const emit::Sheet& sheet, const std::string& label) {
  for (const emit::Block& block : sheet.blocks) {
    const auto* row = std::get_if<emit::SayRow>(&block);
    if (row && row->label == label) return row;
  }
  return nullptr;
}

void compare(const std::string& name, const model::Protocol& protocol, const model::Variant& variant, Compared& all, const std::string& spoil = {}) {
  Origin origin{name, protocol, variant, {}, {}};
  origin.course = graph::number_steps(origin.protocol, variant);
  const emit::PaperSource source = origin.source();
  const emit::Sheet script = emit::observers_script(origin.protocol, variant, origin.course, origin.facts, origin.protocol);
  for (const graph::Run& run : origin.course.runs) {
    for (const graph::Entry& entry : run.entries) {
      const emit::SayRow* row = entry.what == graph::Entry::What::step ? row_called(script, entry.label) : nullptr;
      if (!row) continue;
      ++all.steps;
      std::string told = all_of(*row);
      for (std::size_t at = spoil.empty() ? std::string::npos : told.find(spoil); at != std::string::npos; at = told.find(spoil)) told.erase(at, spoil.size());
      if (const std::string words = dropped(written_for(source, entry), told); !words.empty()) all.broken.push_back(name + ", step " + entry.label + ":" + words);
    }
  }
}

}  // namespace

TEST_CASE("script: no word that the author wrote of a step is dropped") {
  Compared all;
  const auto compare_all = [&](const std::string& name, const model::Protocol& protocol) {
    for (const model::Variant& variant : model::all_variants(protocol)) compare(name, protocol, variant, all);
  };
  std::size_t protocols = 0;
  for (const driver::StandardSource& file : driver::standard_sources()) {
    if (file.tree.file_kind != "protocol") continue;
    compare_all(file.name, library_protocol(file.name));
    ++protocols;
  }
  for (const char* file : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) compare_all(file, example(file));
  CHECK(protocols >= 20);
  CHECK(all.steps > 1000);
  for (std::size_t i = 0; i < all.broken.size() && i < 20; ++i) FAIL_CHECK(all.broken[i]);
}

TEST_CASE("script: who reads for herself alone is told the bin, and a word less would be found") {
  const model::Protocol protocol = library_protocol("basic-taking-off");
  const model::Variant variant = model::all_variants(protocol).front();
  Compared spoilt;
  compare("basic-taking-off", protocol, variant, spoilt, "drum");
  CHECK(spoilt.broken.size() > 2);
  Origin origin{"basic-taking-off", protocol, variant, {}, {}};
  origin.course = graph::number_steps(origin.protocol, variant);
  const emit::Sheet script = emit::observers_script(origin.protocol, variant, origin.course, {}, origin.protocol);
  const auto takes_off = [](const emit::SayRow& row) { return emit::plain_text(row.act).rfind("TAKE OFF", 0) == 0; };
  std::size_t binned = 0;
  for (const emit::Block& block : script.blocks) {
    const auto* row = std::get_if<emit::SayRow>(&block);
    binned += row && takes_off(*row) && emit::plain_text(row->act).find("Into the waste drum.") != std::string::npos ? 1 : 0;
  }
  CHECK(binned >= 3);
}
