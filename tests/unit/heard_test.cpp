// What is heard in a text: words, names, figures, actions. The expectations are plain English, read off by hand.
#include <doctest/doctest.h>

#include "wording/heard.hpp"

using namespace stepward;
using namespace stepward::wording;

namespace {

using Words = std::vector<std::string>;

std::string figures(std::string_view text) {
  std::string all;
  for (const Figure& figure : figures_in(text)) {
    if (!all.empty()) all += ", ";
    all += std::to_string(figure.amount.num) + (figure.amount.den == 1 ? "" : "/" + std::to_string(figure.amount.den)) +
           (figure.what == Figure::What::seconds ? " s" : " ppm");
  }
  return all;
}

}  // namespace

TEST_CASE("heard: words without stops, in lower case, with placeholders whole") {
  CHECK(heard_words("Palms. Backs\xE2\x80\x94spread, [suit choice]!") == Words{"palms", "backs", "spread", "[suit choice]"});
  CHECK(heard_words("Don\xE2\x80\x99t") == Words{"don't"});
  CHECK(heard_words("").empty());
  CHECK(heard_words("[open").size() == 1);
}

TEST_CASE("heard: names in singular and plural, with or without an article") {
  const Words words = heard_words("Wipe each rubber boot with care.");
  CHECK(are_heard(words, "rubber boots"));
  CHECK(are_heard(words, "the rubber boots"));
  CHECK(are_heard(words, "boots"));
  CHECK_FALSE(are_heard(words, "boot covers"));
  CHECK_FALSE(are_heard(words, "rubber"  "boots"));
  CHECK_FALSE(are_heard(words, ""));
  CHECK_FALSE(are_heard(heard_words("your dress"), "dre"));
  CHECK(head_word("outer gloves") == "gloves");
}

TEST_CASE("heard: times and strengths in every way of writing them") {
  CHECK(figures("Wet for 2 minutes, then 90s and 1 min.") == "120 s, 90 s, 60 s");
  CHECK(figures("two minutes; half an hour; half a minute; a minute; thirty seconds") == "120 s, 1800 s, 30 s, 60 s, 30 s");
  CHECK(figures("0.5 percent, 0.05%, 5000 ppm, 5,000 ppm, 5\xC2\xA0" "000 ppm, 1000ppm") == "5000 ppm, 500 ppm, 5000 ppm, 5000 ppm, 5000 ppm, 1000 ppm");
  CHECK(figures("one-minute wait") == "60 s");
}

TEST_CASE("heard: numbers without a unit are no figures") {
  CHECK(figures("Step 4 of 12. Ward 3, beds 1 to 4.") == "");
  CHECK(figures("a second time, the second boot, 2nd pair") == "");
  CHECK(figures("1234567890123 minutes") == "");
  CHECK(figures("1.2.3 minutes") == "");
  CHECK(figures("half") == "");
}

TEST_CASE("heard: sentences are counted by their words, a placeholder as two") {
  CHECK(longest_sentence("Palms. Backs. Spread the fingers.") == 3);
  CHECK(longest_sentence("Wipe [item] with 0.5 percent?") == 6);
  CHECK(longest_sentence("") == 0);
}

TEST_CASE("heard: actions of the language, each once") {
  CHECK(actions_in(heard_words("Take off the apron. Remove it slowly. Then disinfect.")) == Words{"take off", "disinfect"});
  CHECK(actions_in(heard_words("Putting it on the bench")).empty());
}

TEST_CASE("heard: misheard words and opposites") {
  CHECK(misheard_word(heard_words("Now don the hood")) == "don");
  CHECK(misheard_word(heard_words("Don't move, London")).empty());
  CHECK(opposite_of(heard_words("The outer pair"), "inner gloves").said == "outer");
  CHECK(opposite_of(heard_words("The outer over the inner pair"), "inner gloves").said.empty());
  CHECK(opposite_of(heard_words("right boot"), "left boot").meant == "left");
  CHECK(opposite_of(heard_words("right down"), "coverall").said.empty());
}
