#include "base/text.hpp"

#include <utf8proc.h>

#include <algorithm>
#include <cstdlib>
#include <memory>
#include <vector>

namespace stepward::text {
namespace {

/// One character read from the front of `bytes`; a byte that is no text counts as one character of its own.
struct Character {
  utf8proc_int32_t value = -1;
  std::size_t length = 1;
};

Character read_character(std::string_view bytes) {
  Character read;
  const auto length = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(bytes.data()),
                                       static_cast<utf8proc_ssize_t>(bytes.size()), &read.value);
  if (length <= 0) return {};
  read.length = static_cast<std::size_t>(length);
  return read;
}

bool is_ascii(std::string_view bytes) {
  return std::all_of(bytes.begin(), bytes.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}

std::string lower_ascii(std::string_view word) {
  std::string lower(word);
  for (char& c : lower) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return lower;
}

std::string compose(const std::string& word) {
  const auto* bytes = reinterpret_cast<const utf8proc_uint8_t*>(word.c_str());
  const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> composed(utf8proc_NFC(bytes), &std::free);
  return composed ? std::string(reinterpret_cast<const char*>(composed.get())) : word;
}

void append_character(std::string& out, utf8proc_int32_t value) {
  utf8proc_uint8_t bytes[4];
  const auto length = utf8proc_encode_char(value, bytes);
  out.append(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(length));
}

}  // namespace

std::size_t first_bad_byte(std::string_view bytes) {
  std::size_t at = 0;
  while (at < bytes.size()) {
    if (static_cast<unsigned char>(bytes[at]) < 0x80) {  // most bytes of most files, so they take the short way
      ++at;
      continue;
    }
    const Character next = read_character(bytes.substr(at));
    if (next.value < 0) return at;
    at += next.length;
  }
  return std::string_view::npos;
}

std::size_t count_characters(std::string_view bytes) {
  std::size_t count = 0;
  for (std::size_t at = 0; at < bytes.size(); ++count) at += read_character(bytes.substr(at)).length;
  return count;
}

std::size_t display_width(std::string_view bytes) {
  std::size_t width = 0;
  for (std::size_t at = 0; at < bytes.size();) {
    const Character next = read_character(bytes.substr(at));
    at += next.length;
    if (next.value < 0 || next.value == '\t') {
      ++width;
    } else {
      width += static_cast<std::size_t>(std::max(0, utf8proc_charwidth(next.value)));
    }
  }
  return width;
}

std::string fold(std::string_view word) {
  if (is_ascii(word)) return lower_ascii(word);
  std::string lower;
  for (std::size_t at = 0; at < word.size();) {
    const Character next = read_character(word.substr(at));
    if (next.value < 0) {
      lower += word[at];
    } else {
      append_character(lower, next.value == 0x2019 ? '\'' : utf8proc_tolower(next.value));
    }
    at += next.length;
  }
  return compose(lower);
}

namespace {

using CaseOf = utf8proc_int32_t (*)(utf8proc_int32_t);

std::string with_case(std::string_view text, CaseOf case_of) {
  std::string changed;
  for (std::size_t at = 0; at < text.size();) {
    const Character next = read_character(text.substr(at));
    if (next.value < 0) changed += text[at];
    else append_character(changed, case_of(next.value));
    at += next.length;
  }
  return changed;
}

bool opens_a_sentence(utf8proc_int32_t value) {
  const auto category = utf8proc_category(value);
  return category == UTF8PROC_CATEGORY_PI || category == UTF8PROC_CATEGORY_PS || value == 0xBF || value == 0xA1 || value == '"';
}

}  // namespace

std::string upper(std::string_view text) { return with_case(text, utf8proc_toupper); }

std::string lower(std::string_view text) { return with_case(text, utf8proc_tolower); }

std::string capitalised(std::string_view text) {
  std::size_t at = 0;
  Character next = read_character(text);
  while (at < text.size() && next.value >= 0 && opens_a_sentence(next.value)) {
    at += next.length;
    next = read_character(text.substr(at));
  }
  if (at >= text.size() || next.value < 0) return std::string(text);
  std::string changed(text.substr(0, at));
  append_character(changed, utf8proc_toupper(next.value));
  changed += text.substr(at + next.length);
  return changed;
}

std::size_t edit_distance(std::string_view from, std::string_view to) {
  std::vector<std::size_t> two_up(to.size() + 1), one_up(to.size() + 1), row(to.size() + 1);
  for (std::size_t j = 0; j <= to.size(); ++j) one_up[j] = j;
  for (std::size_t i = 1; i <= from.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= to.size(); ++j) {
      const std::size_t changed = one_up[j - 1] + (from[i - 1] == to[j - 1] ? 0 : 1);
      row[j] = std::min({one_up[j] + 1, row[j - 1] + 1, changed});
      const bool swapped = i > 1 && j > 1 && from[i - 1] == to[j - 2] && from[i - 2] == to[j - 1];
      if (swapped) row[j] = std::min(row[j], two_up[j - 2] + 1);
    }
    two_up.swap(one_up);
    one_up.swap(row);
  }
  return one_up[to.size()];
}

}  // namespace stepward::text
