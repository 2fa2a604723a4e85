#pragma once
// What somebody hears who hears a text: its words, the figures in it, the actions it asks for.
//
// Texts are never interpreted for what happens (meaning comes from action lines only); they are held against the line
// that they stand at. This file knows enough English for that and nothing of protocols:
//
//   "Wipe each boot, 2 minutes."     words: wipe each boot 2 minutes    figure: 120 seconds    sentence: 5 words
//
// Words are in lower case without their stops; "boot" and "boots" are the same word, since a text may speak of one of
// a pair. A placeholder such as [item] is one word, with its brackets, and counts as two when length is measured.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/rational.hpp"

namespace stepward::wording {

/// The words of a text, in lower case.
std::vector<std::string> heard_words(std::string_view text);

/// True if the words hold those of `phrase`, one after the other; singular and plural count as the same. An article or
/// "your" in front of the phrase does not count. Never true for an empty phrase.
bool are_heard(const std::vector<std::string>& words, std::string_view phrase);

/// The last word of a name, which says what kind of thing it is: "gloves" of "outer gloves".
std::string head_word(std::string_view name);

/// A time or a strength in a text.
struct Figure {
  enum class What : std::uint8_t { seconds, ppm } what = What::seconds;
  Rational amount;
  std::string said;  ///< "2 minutes"
};
/// All figures of a text that carry a unit: seconds, minutes, hours, ppm, percent. Number words count up to ninety.
std::vector<Figure> figures_in(std::string_view text);

/// How many words the longest sentence has.
std::size_t longest_sentence(std::string_view text);

/// The actions of the language that a text asks for, each once, in order: "put on", "take off", "disinfect", …
std::vector<std::string> actions_in(const std::vector<std::string>& words);

/// The first word that is misheard through a hood ("don" and "doff" sound alike); empty if there is none.
std::string misheard_word(const std::vector<std::string>& words);

/// A word of the text whose opposite stands in `name` while it does not itself: "outer" for "inner gloves".
struct Opposite { std::string said, meant; };
Opposite opposite_of(const std::vector<std::string>& words, std::string_view name);

}  // namespace stepward::wording
