#include "emit/fresh/told_words.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "emit/document/check_words.hpp"

namespace stepward::emit {

namespace {

constexpr std::size_t word_count = 4;
constexpr std::size_t hash_figures = 12;

/// Hyphens and their longer sisters, commas, blanks of every width.
const std::vector<std::string> between_words = {"-", ",", ";", ".", "·", "\t", "\n", "\xC2\xA0", "\xE2\x80\x90", "\xE2\x80\x91", "\xE2\x80\x92", "–", "—",
                                                "\xE2\x88\x92", "\xE2\x80\xAF", "\xE2\x80\x89", "\"", "“", "”"};

std::vector<std::string> cut_at_blanks(const std::string& text) {
  std::vector<std::string> parts;
  for (std::size_t begin = 0; begin <= text.size();) {
    const std::size_t end = std::min(text.find(' ', begin), text.size());
    if (end > begin) parts.push_back(text.substr(begin, end - begin));
    begin = end + 1;
  }
  return parts;
}

std::vector<std::string> words_between_marks(std::string text) {
  for (const std::string& mark : between_words) {
    for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark, at + 1)) text.replace(at, mark.size(), " ");
  }
  return cut_at_blanks(text::fold(text));
}

bool is_hash(const std::string& text) {
  return text.size() == hash_figures && text.find_first_not_of("0123456789abcdef") == std::string::npos;
}

/// The last two blanks cut a code; a document's number may hold blanks of its own.
std::optional<Told> code_told(const std::string& text) {
  const std::vector<std::string> parts = cut_at_blanks(text);
  if (parts.empty() || !is_hash(text::fold(parts.back()))) return std::nullopt;
  Told told;
  told.hash = text::fold(parts.back());
  if (parts.size() > 1) told.version = parts[parts.size() - 2];
  for (std::size_t i = 0; i + 2 < parts.size(); ++i) told.number += (i > 0 ? " " : "") + parts[i];
  return told;
}

/// Of all check words the only one that is so near; empty: none is, or several are.
std::string nearest_check_word(const std::string& word) {
  std::string best;
  std::size_t least = 3;
  bool several = false;
  for (int number = 0; number < 256; ++number) {
    const std::string known(check_word(static_cast<std::uint8_t>(number)));
    const std::size_t distance = text::edit_distance(word, known);
    if (distance > least || (distance == least && best.empty())) continue;  // three slips are too many
    several = distance == least;
    least = distance;
    best = known;
  }
  return several ? std::string() : best;
}

}  // namespace

std::string in_one_line(const std::vector<std::string>& words) {
  std::string line;
  for (const std::string& word : words) line += (line.empty() ? "" : " – ") + word;
  return line;
}

std::vector<std::string> words_apart(const std::string& check_words) { return words_between_marks(check_words); }

std::optional<Told> told(const std::string& text, std::string& why) {
  if (auto code = code_told(text)) return code;
  Told told;
  std::size_t strange = 0;
  for (const std::string& word : words_between_marks(text)) {
    const std::string meant = nearest_check_word(word);
    if (meant != word) told.slips.push_back({word, meant});
    if (meant.empty() && ++strange > 1) {
      why = fmt::format("\"{}\" are no check words", in_one_line({told.slips.front().heard, word}));
      return std::nullopt;
    }
    told.heard.push_back(word);
    told.words.push_back(meant.empty() ? word : meant);
  }
  if (told.words.size() == word_count) return told;
  why = fmt::format("a face has four check words; {} {} given", told.words.size(), told.words.size() == 1 ? "was" : "were");
  return std::nullopt;
}

}  // namespace stepward::emit
