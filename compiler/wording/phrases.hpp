#pragma once
// The phrases that papers are made of, in one catalogue.
//
// Cards and scripts say much that no author wrote: "go on at 12", "WARNING before step 3.", "hands: inner gloves". All of
// it stands in `phrases.def`, so that a file of words can say it in another language and a reader of the catalogue sees
// that nothing is left out. A phrase has gaps in square brackets, by name, as texts in the library do; a translation may
// put them in another order.
//
//   STEPWARD_PHRASE(go_on_at, "go on at [step]")
//   phrase(tongue, Phrase::go_on_at, {{"step", "12"}})   in English "go on at 12", in Spanish "siga en 12"

#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/tongue.hpp"

namespace stepward::wording {

enum class Phrase : std::uint16_t {
#define STEPWARD_PHRASE(id, english) id,
#include "wording/phrases.def"
};

/// How many phrases the catalogue has.
extern const std::size_t phrase_count;

struct Gap { std::string_view name, value; };

/// A phrase in a language, with its gaps filled. Brackets inside of a value are left as they are.
std::string phrase(const model::Tongue& tongue, Phrase which, std::initializer_list<Gap> gaps = {});
/// The same with its gaps left open.
std::string_view unfilled(const model::Tongue& tongue, Phrase which);
/// A text with the contractions of its language, where whole words meet.
std::string contracted(const model::Tongue& tongue, std::string text);
/// The English of a phrase, by position.
std::string_view english_phrase(std::size_t which);
/// The position of the phrase that says this in English; none: no phrase does.
std::optional<std::size_t> phrase_saying(std::string_view english);

/// A phrase cut at its gaps: plain pieces and the names of gaps, in order.
struct PhrasePiece { std::string_view text; bool is_gap = false; };
std::vector<PhrasePiece> pieces_of(std::string_view unfilled_phrase);
/// The names of the gaps of a phrase or a library text, in alphabetic order, each as often as it stands there.
std::vector<std::string> gaps_of(std::string_view text);

/// The BCP 47 tag of a language by its English name, "und" for one that is not in the list.
std::string_view language_tag(std::string_view language);

}  // namespace stepward::wording
