#include "story_lint.hpp"

#include <algorithm>
#include <cctype>

#include "wording/messages.hpp"
#include "wording/story.hpp"

namespace stepward::test {
namespace {

constexpr std::size_t most_events = 9, most_lines = 12, most_words = 14, most_headline_words = 12;

/// Words of the program's own parts, and of blame, that no ward story holds.
const char* const unfit[] = {"field",   "guard",    "state",   "node",    "edge",    "monitor",
                             "scratch", "surface ", "suspect", "error",   "invalid", "illegal",
                             "violat",  "fail",     "wrong",   "mistake", "fault",   "forgot"};

bool is_fold(const diagnostics::StoryLine& line) { return line.text.rfind("…", 0) == 0; }

/// Something like "P401" or "R07" or "#3".
bool holds_code(const std::string& text) {
  for (std::size_t i = 0; i + 2 < text.size(); ++i) {
    const bool starts = i == 0 || !std::isalnum(static_cast<unsigned char>(text[i - 1]));
    const bool letter = std::isupper(static_cast<unsigned char>(text[i])) || text[i] == '#';
    if (starts && letter && std::isdigit(static_cast<unsigned char>(text[i + 1])) &&
        std::isdigit(static_cast<unsigned char>(text[i + 2])))
      return true;
  }
  return false;
}

void lint_line(const diagnostics::StoryLine& line, std::vector<std::string>& out) {
  const auto complain = [&](const std::string& what) { out.push_back(what + ": " + line.text); };
  if (line.text.empty()) complain("an empty line");
  if (line.text.find("  ") != std::string::npos || line.text.find(" ,") != std::string::npos ||
      line.text.find("()") != std::string::npos)
    complain("a gap that nothing filled");
  if (!line.text.empty() && (line.text.back() == ' ' || line.text.back() == '.' || line.text.back() == ':'))
    complain("an end that is none");
  if (line.here) return;  // the headline, linted with the finding
  if (wording::count_words(line.text) > most_words) complain("more than fourteen words");
  if (holds_code(line.text)) complain("a code");
  for (const char* word : unfit)
    if (line.text.find(word) != std::string::npos) complain(std::string("an unfit word, ") + word);
}

}  // namespace

std::vector<std::string> lint_story(const diagnostics::Diagnostic& finding) {
  std::vector<std::string> out;
  const std::string headline = wording::headline(finding.code, finding.args);
  if (wording::count_words(headline) > most_headline_words)
    out.push_back("a headline of more than twelve words: " + headline);
  if (headline.find("…") != std::string::npos) out.push_back("a headline with an empty gap: " + headline);
  if (headline.find("  ") != std::string::npos) out.push_back("a headline with a gap that nothing filled: " + headline);
  if (finding.story.empty()) return out;
  const auto events = static_cast<std::size_t>(
      std::count_if(finding.story.begin(), finding.story.end(), [](const auto& l) { return !l.here && !is_fold(l); }));
  if (events > most_events) out.push_back("more than nine events: " + headline);
  if (finding.story.size() > most_lines) out.push_back("more than twelve lines: " + headline);
  if (!finding.story.back().here) out.push_back("a story whose last line is not the finding: " + headline);
  if (std::count_if(finding.story.begin(), finding.story.end(), [](const auto& l) { return l.here; }) != 1)
    out.push_back("a story that is not marked once: " + headline);
  for (std::size_t i = 1; i < finding.story.size(); ++i)
    if (finding.story[i].text == finding.story[i - 1].text)
      out.push_back("a line said twice: " + finding.story[i].text);
  for (const diagnostics::StoryLine& line : finding.story) lint_line(line, out);
  return out;
}

}  // namespace stepward::test
