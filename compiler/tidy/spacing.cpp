#include "tidy/spacing.hpp"

#include <algorithm>

#include "base/text.hpp"
#include "parse/placement.hpp"

namespace stepward::tidy {
namespace {

using syntax::Token;
using syntax::TokenKind;

/// Blanks between two words: plain spaces stay, since they may align a column; anything else is one space.
std::string gap(std::string_view blanks) {
  if (blanks.empty()) return {};
  const bool plain = std::all_of(blanks.begin(), blanks.end(), [](char c) { return c == ' '; });
  return plain ? std::string(blanks) : std::string(" ");
}

std::string written(const Token& token) {
  return token.kind == TokenKind::quoted ? '"' + token.text + '"' : token.written;
}

bool is_plain_letter(char c) { return c > ' ' && c < 0x7F; }

/// What stands in front of a token of a line that has begun with `so_far`.
std::string in_front_of(const Token& token, bool after_comma, bool after_head, std::string_view blanks) {
  if (token.kind == TokenKind::comma) return {};
  const bool needs_one = blanks.empty() && (after_comma || after_head);
  return needs_one ? std::string(" ") : gap(blanks);
}

}  // namespace

std::string statement_words(const syntax::Node& node, std::string_view text) {
  std::string words = plain_words(text.substr(node.head.begin, node.head.end - node.head.begin));
  std::uint32_t done = node.head.end;
  bool after_comma = false;
  for (const Token& token : node.phrase) {
    const bool after_head = done == node.head.end && !words.empty();
    words += in_front_of(token, after_comma, after_head, text.substr(done, token.span.begin - done)) + written(token);
    after_comma = token.kind == TokenKind::comma;
    done = token.span.end;
  }
  return words;
}

std::string end_words(const syntax::Node& node, std::string_view text) {
  const std::string_view as_written = text.substr(node.closed_by.begin, node.closed_by.end - node.closed_by.begin);
  const std::string words = plain_words(as_written);
  const bool nothing_behind = text::fold(words) == "end " + std::string(parse::closes_of(node.kind));
  return nothing_behind ? words : std::string(as_written);
}

std::string plain_words(std::string_view as_written) {
  std::string words;
  for (std::size_t at = 0; at < as_written.size();) {
    const auto* begin = as_written.begin() + at;
    const auto* next = std::find_if(begin, as_written.end(), is_plain_letter);
    if (next == as_written.end()) break;
    if (!words.empty() && next != begin) words += ' ';
    words += *next;
    at = static_cast<std::size_t>(next - as_written.begin()) + 1;
  }
  return words;
}

std::string gap_before_remark(std::string_view before) {
  std::size_t spaces = 0;
  while (spaces < before.size() && before[before.size() - 1 - spaces] == ' ') ++spaces;
  return std::string(std::max<std::size_t>(spaces, 2), ' ');
}

std::string without_blanks_behind(std::string_view line) {
  const std::size_t last = line.find_last_not_of(" \t");
  return std::string(line.substr(0, last == std::string_view::npos ? 0 : last + 1));
}

}  // namespace stepward::tidy
