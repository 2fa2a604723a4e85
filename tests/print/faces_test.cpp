// Every face of every paper of the example: control block, margins, nothing on top of anything else.
#include <doctest/doctest.h>

#include <cstdlib>
#include <sstream>
#include <string>
#include <vector>

#include "emit/document/check_words.hpp"
#include "example_papers.hpp"
#include "model/variants.hpp"

using namespace stepward;
using emit::pdf::Paper;

namespace {

struct Word {
  double left, top, right, bottom;
  std::string text;
};
struct Page {
  double width, height;
  std::vector<Word> words;
};

double number_after(const std::string& line, const std::string& key) {
  const std::size_t at = line.find(key + "=\"");
  return at == std::string::npos ? 0 : std::strtod(line.c_str() + at + key.size() + 2, nullptr);
}

/// Where each word stands, as poppler finds it.
std::vector<Page> words_of(const test::PrintedFile& file) {
  std::istringstream lines(file.told_by("pdftotext -bbox % -"));
  std::vector<Page> pages;
  for (std::string line; std::getline(lines, line);) {
    if (line.find("<page ") != std::string::npos)
      pages.push_back({number_after(line, "width"), number_after(line, "height"), {}});
    const std::size_t word = line.find("<word "), text = line.find('>'), end = line.rfind("</word>");
    if (word == std::string::npos || end == std::string::npos) continue;
    pages.back().words.push_back({number_after(line, "xMin"), number_after(line, "yMin"), number_after(line, "xMax"),
                                  number_after(line, "yMax"), line.substr(text + 1, end - text - 1)});
  }
  return pages;
}

/// The box of a word counts ascenders and descenders of the whole font; letters themselves are in its middle.
bool collide(const Word& a, const Word& b) {
  const auto slim = [](const Word& w) {
    const double air = (w.bottom - w.top) * 0.22;
    return Word{w.left + 0.4, w.top + air, w.right - 0.4, w.bottom - air, {}};
  };
  const Word x = slim(a), y = slim(b);
  return x.left < y.right && y.left < x.right && x.top < y.bottom && y.top < x.bottom;
}

void look_at(const emit::Sheet& sheet, Paper paper) {
  const test::PrintedFile file(sheet, paper);
  const auto pages = words_of(file);
  REQUIRE(static_cast<int>(pages.size()) == file.faces());
  const double margin = 10 * 72 / 25.4 - 0.6;
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const Page& page = pages[i];
    std::string text;
    for (const Word& word : page.words) {
      text += word.text + ' ';
      CHECK_MESSAGE((word.left >= margin && word.right <= page.width - margin && word.top >= margin - 4 &&
                     word.bottom <= page.height - margin + 4),
                    "face " << i + 1 << ": “" << word.text << "” is too near the edge");
    }
    for (std::size_t a = 0; a < page.words.size(); ++a) {
      for (std::size_t b = a + 1; b < page.words.size(); ++b) {
        if (collide(page.words[a], page.words[b])) {
          FAIL_CHECK("face " << i + 1 << ": “" << page.words[a].text << "” and “" << page.words[b].text
                             << "” stand on top of each other");
        }
      }
    }
    const std::string squeezed = test::squeezed(text);
    const auto& control = sheet.control;
    for (const std::string& part :
         {control.number, control.version, control.title, control.variant, control.caution, control.check_words,
          control.owner, control.approver, std::string("review due"), std::string("in force"), control.status,
          std::to_string(i + 1) + " / " + std::to_string(pages.size())}) {
      CHECK_MESSAGE(squeezed.find(test::squeezed(part)) != std::string::npos,
                    "face " << i + 1 << " lacks “" << part << "”");
    }
  }
}

}  // namespace

TEST_CASE("faces: control block on each, inside the margins, no words on top of others") {
  for (const char* name : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const model::Protocol& protocol = test::example(name);
    const auto variants = model::all_variants(protocol);
    for (const emit::Sheet& sheet : test::papers(protocol, variants.front())) {
      for (const auto paper : {Paper::a4, Paper::a5, Paper::letter}) look_at(sheet, paper);
    }
    for (const emit::Sheet& sheet : test::papers(protocol, variants.back())) look_at(sheet, Paper::a4);
    for (const emit::Sheet& sheet : test::ruled_papers(protocol, variants.back())) {
      for (const auto paper : {Paper::a4, Paper::a5, Paper::letter}) look_at(sheet, paper);
    }
  }
}

TEST_CASE("faces: exact paper sizes") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  const auto sheets = test::papers(protocol, model::all_variants(protocol).front());
  const auto size = [](const emit::Sheet& sheet, Paper paper) {
    const Page page = words_of(test::PrintedFile(sheet, paper)).front();
    return std::pair(page.width, page.height);
  };
  const double mm = 72 / 25.4;
  CHECK(size(sheets[0], Paper::a4).first == doctest::Approx(210 * mm).epsilon(0.0001));
  CHECK(size(sheets[0], Paper::a4).second == doctest::Approx(297 * mm).epsilon(0.0001));
  CHECK(size(sheets[0], Paper::a5).first == doctest::Approx(148 * mm).epsilon(0.0001));
  CHECK(size(sheets[0], Paper::letter).first == doctest::Approx(612));
  CHECK(size(sheets[1], Paper::a5).first == doctest::Approx(210 * mm).epsilon(0.0001));  // the script lies on its side
}

TEST_CASE("faces: sound files, one family of fonts, tags and outline") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  for (const emit::Sheet& sheet : test::papers(protocol, model::all_variants(protocol).front())) {
    const test::PrintedFile file(sheet, Paper::a4);
    CHECK(file.told_by("qpdf --check %").find("No syntax or stream encoding errors found") != std::string::npos);
    std::istringstream fonts(file.told_by("pdffonts %"));
    std::string line;
    std::getline(fonts, line);
    std::getline(fonts, line);
    while (std::getline(fonts, line)) CHECK_MESSAGE(line.find("+NotoSans") != std::string::npos, line);
    const std::string info = file.told_by("pdfinfo %");
    CHECK(info.find(sheet.control.title) != std::string::npos);
    CHECK(info.find("Tagged:          yes") != std::string::npos);
    const std::string tags = file.told_by("pdfinfo -struct %");
    for (const char* tag : {"Document", "Sect", "H1", "H2", "Lbl", "LBody"})
      CHECK_MESSAGE(tags.find(tag) != std::string::npos, tag);
  }
}

TEST_CASE("faces: ruled papers are tagged as tables") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  for (const emit::Sheet& sheet : test::ruled_papers(protocol, model::all_variants(protocol).front())) {
    const test::PrintedFile file(sheet, Paper::a4);
    CHECK(file.told_by("qpdf --check %").find("No syntax or stream encoding errors found") != std::string::npos);
    const std::string tags = file.told_by("pdfinfo -struct %");
    for (const char* tag : {"Table", "TR", "TH", "TD"}) CHECK_MESSAGE(tags.find(tag) != std::string::npos, tag);
  }
}

TEST_CASE("faces: DRAFT lies across each face of a draft") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  const emit::Sheet card = test::papers(protocol, model::all_variants(protocol).front()).front();
  const auto drafts = [&](bool draft) {
    const test::PrintedFile file(card, Paper::a4, draft);
    const std::string text = test::squeezed(file.told_by("pdftotext -raw % -"));
    int count = 0;
    for (std::size_t at = text.find("DRAFT"); at != std::string::npos; at = text.find("DRAFT", at + 1)) ++count;
    return std::pair(count, file.faces());
  };
  const auto [marks, faces] = drafts(true);
  CHECK(marks == faces);
  CHECK(drafts(false).first == 0);
}
