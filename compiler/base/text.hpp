#pragma once
// Text as people see it: characters rather than bytes, widths in terminal cells, words without case.
//
// All text inside the compiler is UTF-8. The functions here are the only ones that look inside its bytes; they never
// fail, and bytes that are no text count as one character each. Unicode facts come from utf8proc.

#include <cstddef>
#include <string>
#include <string_view>

namespace stepward::text {

/// The position of the first byte that cannot stand in UTF-8, or `std::string_view::npos` when all is well.
std::size_t first_bad_byte(std::string_view bytes);

/// How many characters (Unicode code points) `bytes` holds.
std::size_t count_characters(std::string_view bytes);

/// How many cells of a terminal `bytes` takes. A tab counts as one cell. Only approximate for Indic scripts.
std::size_t display_width(std::string_view bytes);

/// The form in which words are compared: lower case, composed characters, the curly apostrophe made plain.
std::string fold(std::string_view word);

/// Letters of any script in capitals, and in small letters.
std::string upper(std::string_view text);
std::string lower(std::string_view text);
/// The first letter in capitals; marks in front of it, such as a quote or "¿", stay.
std::string capitalised(std::string_view text);

/// How many single slips of typing (a letter left out, added, changed, or two swapped) lead from one word to another.
std::size_t edit_distance(std::string_view from, std::string_view to);

}  // namespace stepward::text
