#pragma once
// A protocol in another language: the same, with other texts, names and phrases.
//
// Nothing of what happens is touched: no id, no order, no condition. Who walks it would find the same; nobody does, it is
// made for papers only. What the dictionary does not say is marked in ⟦such brackets⟧, so that nobody takes a card that is
// half in English for a finished one. For counting, the mark is a number instead of the text: papers cut and
// capitalise texts, and a number survives that.

#include <string>
#include <vector>

#include "model/protocol.hpp"
#include "translation/dictionary.hpp"

namespace stepward::translation {

/// Something that is not said yet in the other language.
struct Unsaid {
  enum class What : std::uint8_t { phrase, name, text } what = What::text;
  std::string english;
};

struct Translated {
  model::Protocol protocol;
  std::vector<Unsaid> unsaid;  ///< by the number in the marks, whether a paper prints it or not
};

enum class Marks : std::uint8_t { with_text, with_number };

Translated translate(const model::Protocol& protocol, const Dictionary& dictionary, Marks marks);

/// The numbers of all marks in a text, each once.
std::vector<std::size_t> marks_in(const std::string& text);

}  // namespace stepward::translation
