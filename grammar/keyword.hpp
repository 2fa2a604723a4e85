#pragma once
// How a keyword is read: the words of a text, in any case, with any blanks between them, ending at a word boundary.
//
// Keywords are words of trade English ("before starting, have"), so one rule reads them all: `keyword<"body site">`.
// It is a rule of its own and not a sequence of letters because a hundred and fifty heads are tried on every line of a
// file, and because the words stand in `keywords.def` as plain text. PEG picks the first head that fits, so a head must
// stand in front of every head that is only its beginning; `keeps_longest_first` lets the grammar state that as a fact.

#include <array>
#include <cstddef>
#include <string_view>

#include <tao/pegtl.hpp>
#include <tao/pegtl/contrib/analyze.hpp>

namespace stepward::grammar {

/// A text that can be the argument of a rule.
template <std::size_t Size>
struct FixedText {
  char text[Size]{};
  // NOLINTNEXTLINE(google-explicit-constructor): a literal is meant to become one by itself
  constexpr FixedText(const char (&literal)[Size]) {
    for (std::size_t i = 0; i < Size; ++i) text[i] = literal[i];
  }
  constexpr std::string_view view() const { return {text, Size - 1}; }
};

/// How many bytes at the front of `bytes` are one blank: a space, a tab, a form feed, a carriage return, or one of the
/// blanks that word processors paste (no-break, thin and other spaces, zero-width marks). 0 when there is none.
constexpr std::size_t blank_length(std::string_view bytes) {
  if (bytes.empty()) return 0;
  const auto byte = [bytes](std::size_t i) {
    return i < bytes.size() ? static_cast<unsigned char>(bytes[i]) : static_cast<unsigned char>(0);
  };
  const unsigned char first = byte(0);
  if (first == ' ' || first == '\t' || first == '\f' || first == '\v' || first == '\r') return 1;
  if (first == 0xC2) return byte(1) == 0xA0 || byte(1) == 0xAD ? 2 : 0;             // U+00A0, U+00AD
  if (first == 0xE2 && byte(1) == 0x80) {
    const unsigned char third = byte(2);
    return (third >= 0x80 && third <= 0x8B) || third == 0xAF ? 3 : 0;                // U+2000 to U+200B, U+202F
  }
  if (first == 0xE3) return byte(1) == 0x80 && byte(2) == 0x80 ? 3 : 0;              // U+3000
  if (first == 0xEF) return byte(1) == 0xBB && byte(2) == 0xBF ? 3 : 0;              // U+FEFF inside a file
  return 0;
}

/// True when a word could go on with the bytes at the front, so that a keyword does not end here.
constexpr bool continues_word(std::string_view bytes) {
  if (bytes.empty()) return false;
  const char c = bytes.front();
  if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '\'') return true;
  if (static_cast<unsigned char>(c) < 0x80 || blank_length(bytes) > 0) return false;
  const bool general_punctuation = bytes.substr(0, 2) == "\xE2\x80";
  return !general_punctuation || bytes.substr(0, 3) == "\xE2\x80\x99";               // U+2019, the curly apostrophe
}

/// How many bytes at the front of `bytes` read as the keyword `words`; 0 when they do not, or when `words` is empty.
constexpr std::size_t keyword_length(std::string_view words, std::string_view bytes) {
  std::size_t at = 0;
  for (const char wanted : words) {
    if (wanted == ' ') {
      std::size_t blank = blank_length(bytes.substr(at));
      if (blank == 0) return 0;
      for (; blank > 0; blank = blank_length(bytes.substr(at))) at += blank;
      continue;
    }
    if (at == bytes.size()) return 0;
    const char c = bytes[at];
    const char lower = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    if (lower != wanted) return 0;
    ++at;
  }
  return continues_word(bytes.substr(at)) ? 0 : at;
}

/// Reads the words of `Words`. Never matches when there are none.
template <FixedText Words>
struct keyword {
  using rule_t = keyword;
  using subs_t = tao::pegtl::empty_list;

  template <typename Input>
  static bool match(Input& in) {
    const std::string_view rest(in.current(), static_cast<std::size_t>(in.end() - in.current()));
    const std::size_t length = keyword_length(Words.view(), rest);
    if (length > 0) in.bump(length);
    return length > 0;
  }
};

/// True when no keyword is the beginning of a later one, which could then never be read.
template <std::size_t Count>
constexpr bool keeps_longest_first(const std::array<std::string_view, Count>& keywords) {
  for (std::size_t i = 0; i < Count; ++i) {
    for (std::size_t j = i + 1; j < Count; ++j) {
      if (keyword_length(keywords[i], keywords[j]) > 0) return false;
    }
  }
  return true;
}

}  // namespace stepward::grammar

namespace TAO_PEGTL_NAMESPACE {

// For the analysis of the grammar a keyword is what it is: something that takes at least one byte.
template <typename Name, stepward::grammar::FixedText Words>
struct analyze_traits<Name, stepward::grammar::keyword<Words>> : analyze_any_traits<> {};

}  // namespace TAO_PEGTL_NAMESPACE
