#pragma once
// Check words: four plain words made from what a sheet says, so that two copies can be compared by voice.
//
// They are a comparison, not a seal: one byte of the content's SHA-256 each, so a changed sheet keeps all four by
// chance once in four thousand million. The paper's size and fonts do not count; every printed word does.

#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "emit/document/digest.hpp"
#include "emit/document/document.hpp"

namespace stepward::emit {

/// The word that stands for one byte.
std::string_view check_word(std::uint8_t number);

/// "maple – anchor – violet – drum", from the first four bytes.
std::string check_words(const Digest& digest);

/// Where four check words stand in a text, from the first letter to behind the last, in bytes. They are read out and compared as one: no
/// line may end within them.
std::vector<std::pair<std::size_t, std::size_t>> check_words_in(std::string_view text);

/// Fills `check_words` and `code` of a finished sheet. Call it last.
void stamp(Sheet& sheet);

}  // namespace stepward::emit
