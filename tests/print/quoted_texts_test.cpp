// Nothing that the author wrote is dropped: every quoted text of a protocol is on its card or its script.
#include <doctest/doctest.h>

#include <fstream>
#include <string>
#include <vector>

#include "example_papers.hpp"
#include "graph/quiet_path.hpp"
#include "model/variants.hpp"
#include "wording/step_text.hpp"

using namespace stepward;
using emit::pdf::Paper;

namespace {

std::string card_and_script(const model::Protocol& protocol, const model::Variant& variant) {
  std::string text;
  for (const emit::Sheet& sheet : test::papers(protocol, variant)) {
    text += test::squeezed(test::PrintedFile(sheet, Paper::a4).told_by("pdftotext -raw % -"));
  }
  return text;
}

struct Quoted {
  std::size_t line;
  std::string text;
};

/// The quoted texts of a source from its first interruption or phase on.
/// Not looked for: the document block and variants' reasons (sign-off page, ruled_papers_test), endings and stock: what stands
/// before the lines is no text of a line. Nor the register of copies: it is on the recall list (tests/cli/copies.sh).
std::vector<Quoted> quoted_texts(const std::string& file) {
  std::ifstream in(std::string(STEPWARD_SOURCE_DIR) + "/examples/" + file);
  std::vector<Quoted> all;
  bool among_lines = false;
  std::string line;
  for (std::size_t number = 1; std::getline(in, line); ++number) {
    const std::size_t start = line.find_first_not_of(' ');
    if (start == std::string::npos || line[start] == '#') continue;
    if (line.compare(start, 8, "any time") == 0 || line.compare(start, 5, "phase") == 0 ||
        line.compare(start, 7, "routine") == 0)
      among_lines = true;
    if (line == "copies") among_lines = false;
    const std::size_t open = line.find('"'), close = line.rfind('"');
    if (among_lines && open != std::string::npos && close > open)
      all.push_back({number, line.substr(open + 1, close - open - 1)});
  }
  return all;
}

/// A sentence's stop is not printed where the text is an act, and an act's verb is in capitals.
bool is_printed(const std::string& paper, std::string text) {
  text = test::squeezed(text);
  if (paper.find(text) != std::string::npos) return true;
  if (!text.empty() && text.back() == '.') text.pop_back();
  // The verb is one or two words; what follows them has to stand there as it was written.
  for (std::size_t cut = 0; cut <= 12 && cut < text.size(); ++cut) {
    std::string act = text;
    for (std::size_t i = 0; i < cut; ++i) act[i] = static_cast<char>(std::toupper(static_cast<unsigned char>(act[i])));
    if (paper.find(act) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("papers: every quoted text of the source is on a card or a script") {
  for (const char* file : {"aldermoss-exit.ward", "aldermoss-entry.ward"}) {
    const model::Protocol& protocol = test::example(file);
    std::string all;
    for (const auto& variant : model::all_variants(protocol)) all += card_and_script(protocol, variant);
    const auto texts = quoted_texts(file);
    CHECK(texts.size() > 30);
    for (const Quoted& quoted : texts)
      CHECK_MESSAGE(is_printed(all, quoted.text), file << ":" << quoted.line << " “" << quoted.text << "”");
  }
}

TEST_CASE("papers: every line of a variant has its texts, the library's included, on that variant's papers") {
  const model::Protocol& protocol = test::example("aldermoss-exit.ward");
  const auto variants = model::all_variants(protocol);
  for (const std::size_t which : {std::size_t{0}, variants.size() - 1}) {
    const std::string paper = card_and_script(protocol, variants[which]);
    std::size_t texts = 0;
    for (const auto id : graph::lines_of(protocol, variants[which])) {
      const model::Line& line = protocol[id];
      // In a box that serves several calls the thing is "it"; watch and warning of such lines name no thing.
      const wording::StepText words = wording::step_text(protocol, variants[which], line, {});
      for (const std::string& text : {words.watch, words.if_not, words.warning, line.details.note, line.details.because,
                                      line.details.critical_because, line.details.say}) {
        if (text.empty() || text.find('[') != std::string::npos) continue;
        ++texts;
        CHECK_MESSAGE(is_printed(paper, text), line.id << ": “" << text << "”");
      }
    }
    CHECK(texts > 100);
  }
}
