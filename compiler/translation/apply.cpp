#include "translation/apply.hpp"

#include <algorithm>
#include <cstdlib>
#include <map>

#include "base/text.hpp"
#include "translation/names.hpp"
#include "wording/phrases.hpp"

namespace stepward::translation {
namespace {

constexpr std::string_view opening = "⟦", closing = "⟧";

class Translator {
 public:
  Translator(const model::Protocol& protocol, const Dictionary& dictionary, Marks marks) : dictionary_(dictionary), marks_(marks) {
    made_.protocol = protocol;
  }

  Translated run() {
    model::Protocol& protocol = made_.protocol;
    protocol.tongue.language = dictionary_.language;
    protocol.tongue.tag = std::string(wording::language_tag(dictionary_.language));
    protocol.tongue.contractions = dictionary_.contractions;
    say_phrases(protocol.tongue);
    for (model::Item& item : protocol.items) {
      for (model::Surface& surface : item.surfaces) surface.called = surface.name;
    }
    visit_names(protocol, {[this](model::Named& named) { say_named(named); }, [this](std::string& name) { say_plain(name); }, [this](std::string& part) { say_part(part); },
                           [this](std::string& unit, std::string& several) { say_unit(unit, several); }});
    visit_texts(protocol, [this](std::string& text) { say_text(text); });
    return std::move(made_);
  }

 private:
  std::string marked(Unsaid::What what, const std::string& english) {
    // A name is one name in capitals and in small letters.
    const std::string key = what == Unsaid::What::name ? text::fold(english) : english;
    const auto [known, is_new] = numbers_.insert({{what, key}, made_.unsaid.size()});
    if (is_new) made_.unsaid.push_back({what, english});
    if (marks_ == Marks::with_text) return std::string(opening) + english + std::string(closing);
    // What fills its gaps is printed as well, and has to be said too.
    std::string mark = std::string(opening) + std::to_string(known->second) + std::string(closing);
    for (const std::string& gap : wording::gaps_of(english)) mark += " [" + gap + "]";
    return mark;
  }

  void say_phrases(model::Tongue& tongue) {
    for (std::size_t which = 0; which < wording::phrase_count; ++which) {
      const auto said = dictionary_.phrases.find(which);
      tongue.phrases.push_back(said != dictionary_.phrases.end() ? said->second : marked(Unsaid::What::phrase, std::string(wording::english_phrase(which))));
    }
  }

  /// A heading begins with a capital letter in every language, though it is found like the thing of that name.
  static std::string like(const std::string& english, const std::string& said) {
    const bool capital = !english.empty() && english[0] >= 'A' && english[0] <= 'Z';
    return capital ? text::capitalised(said) : said;
  }

  void say_named(model::Named& named) {
    const TranslatedName* said = dictionary_.name(named.name);
    const bool has_phrase = !named.called.empty();
    named.in_source = has_phrase ? named.called : named.name;
    if (!said) {
      named.name = marked(Unsaid::What::name, named.name);
      if (has_phrase) named.called = named.name;
      return;
    }
    named.name = like(named.name, said->name);
    named.called = said->called.empty() && has_phrase ? said->name : said->called;
  }

  void say_plain(std::string& name) {
    if (name.empty()) return;
    const TranslatedName* said = dictionary_.name(name);
    name = said ? like(name, said->name) : marked(Unsaid::What::name, name);
  }

  /// A surface stands in "[part] of [thing]", with its article where the language has one.
  void say_part(std::string& part) {
    const TranslatedName* said = dictionary_.name(part);
    if (said && !said->called.empty()) part = said->called;
    else say_plain(part);
  }

  void say_unit(std::string& unit, std::string& several) {
    if (unit.empty() || unit == "each") return;
    several = unit + "s";
    say_plain(several);
    say_plain(unit);
  }

  void say_text(std::string& text) {
    if (text.empty()) return;
    const std::string* said = dictionary_.text(text);
    text = said ? *said : marked(Unsaid::What::text, text);
  }

  const Dictionary& dictionary_;
  Marks marks_;
  Translated made_;
  std::map<std::pair<Unsaid::What, std::string>, std::size_t> numbers_;
};

}  // namespace

Translated translate(const model::Protocol& protocol, const Dictionary& dictionary, Marks marks) {
  return Translator(protocol, dictionary, marks).run();
}

std::vector<std::size_t> marks_in(const std::string& text) {
  std::vector<std::size_t> numbers;
  for (std::size_t at = text.find(opening); at != std::string::npos; at = text.find(opening, at + opening.size())) {
    const std::size_t number = std::strtoul(text.c_str() + at + opening.size(), nullptr, 10);
    if (std::find(numbers.begin(), numbers.end(), number) == numbers.end()) numbers.push_back(number);
  }
  return numbers;
}

}  // namespace stepward::translation
