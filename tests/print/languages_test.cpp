// Papers in another language: nothing is left in English, and whatever is no word is the same.
#include <doctest/doctest.h>

#include <algorithm>
#include <regex>
#include <set>

#include "diagnostics/render.hpp"
#include "driver/disk.hpp"
#include "driver/papers.hpp"
#include "driver/standard_files.hpp"
#include "example_papers.hpp"
#include "model/variants.hpp"
#include "translation/apply.hpp"
#include "translation/source_texts.hpp"
#include "wording/phrases.hpp"

using namespace stepward;

namespace {

const std::string folder = std::string(STEPWARD_SOURCE_DIR) + "/examples/";

/// An example, read and walked.
driver::Compilation walked(const std::string& file) {
  driver::Compilation made = driver::read(folder + file, driver::FilesOnDisk(folder + file), "2030-11-01");
  driver::walk(made, {});
  return made;
}

/// Every letter outside of gaps becomes one of another script, and stays a capital if it was one.
std::string disguised(const std::string& text) {
  std::string other;
  bool in_gap = false;
  for (const char c : text) {
    in_gap = c == '[' || (in_gap && c != ']');
    if (!in_gap && c >= 'a' && c <= 'z') other += "ж";
    else if (!in_gap && c >= 'A' && c <= 'Z') other += "Ж";
    else other += c;
  }
  return other;
}

/// A language in which everything that may be said in another language is.
translation::Dictionary disguise(const driver::Compilation& made) {
  translation::Dictionary words;
  words.language = "Disguised";
  for (const auto& source : translation::source_texts(made.loaded)) words.texts[source.text] = disguised(source.text);
  for (const std::string& name : translation::names_in(*made.protocol)) words.names[name] = {disguised(name), disguised("the " + name)};
  for (std::size_t i = 0; i < wording::phrase_count; ++i) words.phrases[i] = disguised(std::string(wording::english_phrase(i)));
  return words;
}

/// Every paper of a variant, and behind them those of the protocol.
std::vector<driver::Paper> all_papers(const driver::Compilation& made, const check::VariantWalk& walk, const translation::Dictionary* words = nullptr) {
  auto papers = driver::papers_of(made, walk, driver::paper_names(), words);
  for (driver::Paper& paper : driver::papers_of_protocol(made, driver::paper_names(), {}, words)) papers.push_back(std::move(paper));
  return papers;
}

/// Words in Latin letters that are no label, unit, tag of a language, name of a person or number of a document.
std::vector<std::string> latin_words(const std::string& text, const model::Protocol& protocol) {
  const model::DocumentControl& document = protocol.document;
  std::string allowed = "min s h v en es|" + document.number;
  for (const model::Pack& pack : protocol.packs) allowed += ' ' + pack.number;
  for (const auto* signatures : {&document.written_by, &document.reviewed_by, &document.approved_by}) {
    for (const model::Signature& signature : *signatures) allowed += ' ' + signature.name;
  }
  std::vector<std::string> found;
  const std::regex word("[A-Za-z]{2,}");
  for (std::sregex_iterator at(text.begin(), text.end(), word), end; at != end; ++at) {
    const bool is_label = std::regex_match(at->str(), std::regex("Q[A-Z]"));
    if (!is_label && allowed.find(at->str()) == std::string::npos) found.push_back(at->str());
  }
  return found;
}

/// Digits of a text in order: what a translation must keep.
std::string figures(const std::string& text) {
  std::string digits;
  for (const char c : text) {
    if (c >= '0' && c <= '9') digits += c;
  }
  std::sort(digits.begin(), digits.end());
  return digits;
}

}  // namespace

TEST_CASE("languages: whatever a paper of the examples says can be said in another language") {
  for (const char* file : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const driver::Compilation made = walked(file);
    REQUIRE_FALSE(made.verdict.walks.empty());
    const translation::Dictionary words = disguise(made);
    CHECK(driver::cover(made, words).unsaid.empty());
    for (const check::VariantWalk& walk : made.verdict.walks) {
      for (const driver::Paper& paper : all_papers(made, walk, &words)) {
        const std::string text = plain_text(paper.sheet) + paper.sheet.control.caution + paper.sheet.control.verdict;
        CAPTURE(paper.what);
        if (paper.what == "recall") continue;  // it names papers and places as they are called where they hang
        for (const std::string& word : latin_words(text, *made.protocol)) FAIL_CHECK(file << ": left in English: " << word);
      }
    }
  }
}

TEST_CASE("languages: a card in Spanish has the same steps, labels and figures as the one in English") {
  const driver::Compilation made = walked("aldermoss-exit.ward");
  const translation::Dictionary* spanish = driver::dictionary_of(made, "spanish");
  REQUIRE(spanish != nullptr);
  for (const check::VariantWalk& walk : made.verdict.walks) {
    const auto english = all_papers(made, walk), other = all_papers(made, walk, spanish);
    REQUIRE(english.size() == 10);
    for (std::size_t p = 0; p < english.size(); ++p) {
      CHECK(other[p].unsaid == 0);
      CHECK(other[p].sheet.control.language == "es");
      CHECK(other[p].sheet.control.check_words != english[p].sheet.control.check_words);
      const auto &a = english[p].sheet.blocks, &b = other[p].sheet.blocks;
      REQUIRE(a.size() == b.size());
      for (std::size_t i = 0; i < a.size(); ++i) {
        emit::Sheet one, two;
        one.tables = english[p].sheet.tables;
        two.tables = other[p].sheet.tables;
        one.blocks = {a[i]};
        two.blocks = {b[i]};
        CAPTURE(plain_text(one));
        CAPTURE(plain_text(two));
        CHECK(a[i].index() == b[i].index());
        CHECK(emit::label_of(a[i]) == emit::label_of(b[i]));
        CHECK(emit::level_of(a[i]) == emit::level_of(b[i]));
        CHECK(figures(plain_text(one)) == figures(plain_text(two)));
      }
    }
  }
}

/// A library that uses one file of the standard library, and Spanish.
driver::Compilation alone_with_spanish(const std::string& name) {
  FilesInMemory access;
  access.put("one.ward", "stepward 1 library\ndocument\n  title \"One\"\n  number ONE-1\n  version 1.0\nend document\nuse library standard \"" + name +
                             "\"\nuse words standard \"spanish\"\n");
  return driver::read("one.ward", access, "2030-11-01");
}

TEST_CASE("languages: the Spanish of the standard library has every phrase, and nothing that the library does not say") {
  std::set<std::string> texts, names;
  for (const driver::StandardSource& file : driver::standard_sources()) {
    if (file.tree.file_kind != "library") continue;
    CAPTURE(file.name);
    const driver::Compilation made = alone_with_spanish(file.name);
    CAPTURE(diagnostics::as_text(made.findings, made.files));
    REQUIRE(made.protocol.has_value());
    REQUIRE(made.words.size() == 1);
    const translation::Dictionary& spanish = made.words[0];
    CHECK(spanish.phrases.size() == wording::phrase_count);
    for (const auto& source : translation::source_texts(made.loaded)) {
      CAPTURE(source.text);
      CHECK(spanish.text(source.text) != nullptr);
      texts.insert(source.text);
    }
    for (const std::string& name : translation::names_in(*made.protocol)) names.insert(name);
  }
  REQUIRE(texts.size() > 100);
  const translation::Dictionary spanish = alone_with_spanish("body").words.at(0);
  for (const auto& [text, said] : spanish.texts) CHECK_MESSAGE(texts.count(text) == 1, text);
  for (const auto& [name, said] : spanish.names) CHECK_MESSAGE(names.count(name) == 1, name);
}

TEST_CASE("languages: what is not said stands in brackets on a paper that is a draft") {
  driver::Compilation made = walked("aldermoss-exit.ward");
  translation::Dictionary half = *driver::dictionary_of(made, "Spanish");
  half.texts.erase("Hold the green card to the glass.");
  const auto papers = driver::papers_of(made, made.verdict.walks.front(), {"card", "script"}, &half);
  for (const driver::Paper& paper : papers) {
    CHECK(paper.unsaid == 1);
    CHECK(paper.sheet.control.watermark == "BORRADOR");
    CHECK(plain_text(paper.sheet).find("⟧") != std::string::npos);
  }
  const driver::Coverage coverage = driver::cover(made, half);
  REQUIRE(coverage.unsaid.size() == 1);
  CHECK(coverage.unsaid[0].english == "Hold the green card to the glass.");
  CHECK(coverage.complete < coverage.papers);
}
