// The catalogue of phrases: each has one English, its gaps are filled in any order, words are drawn together.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string>

#include "base/text.hpp"
#include "wording/phrases.hpp"

using namespace stepward;
using wording::Phrase;

namespace {

/// A language in which one phrase is said so.
model::Tongue tongue_with(Phrase which, const std::string& said) {
  model::Tongue tongue{"Spanish", "es", {}, {{"de el", "del"}}};
  for (std::size_t i = 0; i < wording::phrase_count; ++i) tongue.phrases.emplace_back(wording::english_phrase(i));
  tongue.phrases[static_cast<std::size_t>(which)] = said;
  return tongue;
}

}  // namespace

TEST_CASE("phrases: no two have the same English, none is empty, every gap is closed") {
  std::set<std::string_view> seen;
  CHECK(wording::phrase_count > 150);
  for (std::size_t i = 0; i < wording::phrase_count; ++i) {
    const std::string_view english = wording::english_phrase(i);
    CAPTURE(english);
    CHECK_FALSE(english.empty());
    CHECK(seen.insert(english).second);
    CHECK(std::count(english.begin(), english.end(), '[') == std::count(english.begin(), english.end(), ']'));
    CHECK(wording::phrase_saying(english) == i);
  }
  CHECK_FALSE(wording::phrase_saying("no paper says this").has_value());
}

TEST_CASE("phrases: gaps are filled by name, wherever they stand") {
  CHECK(wording::phrase({}, Phrase::go_on_at, {{"step", "12"}}) == "go on at 12");
  CHECK(wording::phrase({}, Phrase::hands_with_layer, {{"layer", "inner gloves"}, {"hands", "your hands"}}) == "your hands (inner gloves)");
  const model::Tongue turned = tongue_with(Phrase::hands_with_layer, "([layer]) [hands]");
  CHECK(wording::phrase(turned, Phrase::hands_with_layer, {{"hands", "las manos"}, {"layer", "guantes"}}) == "(guantes) las manos");
}

TEST_CASE("phrases: what fills a gap is not filled again") {
  CHECK(wording::phrase({}, Phrase::both, {{"first", "[last]"}, {"last", "b"}}) == "[last] and b");
}

TEST_CASE("phrases: words are drawn together where they meet as whole words") {
  const model::Tongue tongue = tongue_with(Phrase::thing_of_person, "[thing] de [person]");
  CHECK(wording::phrase(tongue, Phrase::thing_of_person, {{"thing", "el peto"}, {"person", "el delantal"}}) == "el peto del delantal");
  CHECK(wording::phrase(tongue, Phrase::thing_of_person, {{"thing", "sede"}, {"person", "ellas"}}) == "sede de ellas");
}

TEST_CASE("phrases: gaps of a text, each as often as it stands there") {
  CHECK(wording::gaps_of("[b] and [a] and [b]") == std::vector<std::string>{"a", "b", "b"});
  CHECK(wording::gaps_of("none ] here [").empty());
}

TEST_CASE("letters: capitals and small letters of any script") {
  CHECK(text::upper("quítese el mono") == "QUÍTESE EL MONO");
  CHECK(text::lower("QUÍTESE") == "quítese");
  CHECK(text::upper("снимите") == "СНИМИТЕ");
  CHECK(text::capitalised("ábrala") == "Ábrala");
  CHECK(text::capitalised("¿está ahí?") == "¿Está ahí?");
  CHECK(text::capitalised("“eso”") == "“Eso”");
  CHECK(text::capitalised("") == "");
  CHECK(text::capitalised("3 guantes") == "3 guantes");
}
