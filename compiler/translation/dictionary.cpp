#include "translation/dictionary.hpp"

#include <algorithm>
#include <set>

#include "base/text.hpp"
#include "resolve/name_table.hpp"
#include "translation/names.hpp"
#include "translation/source_texts.hpp"
#include "wording/heard.hpp"
#include "wording/phrases.hpp"

namespace stepward::translation {
namespace {

using diagnostics::Code;

/// All runs of digits of a text, sorted: 2 minutes stay 2 minutes in every language.
std::vector<std::string> digits_in(std::string_view text) {
  std::vector<std::string> numbers;
  for (std::size_t at = 0; at < text.size();) {
    std::string number;
    for (; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at) number += text[at];
    if (number.empty()) ++at;
    else numbers.push_back(number);
  }
  std::sort(numbers.begin(), numbers.end());
  return numbers;
}

std::string listed(const std::vector<std::string>& parts) {
  std::string list;
  for (const std::string& part : parts) list += (list.empty() ? "" : ", ") + part;
  return list.empty() ? "none" : list;
}

std::string in_brackets(const std::vector<std::string>& gaps) {
  std::string list;
  for (const std::string& gap : gaps) list += (list.empty() ? "[" : ", [") + gap + "]";
  return list.empty() ? "none" : list;
}

/// A text as it stands in a message: its beginning.
std::string shortened(const std::string& text) {
  if (text::count_characters(text) <= 60) return text;
  std::string start = text.substr(0, text.find(' ', 45));
  return start + " …";
}

/// The numbers of the files for which words are made here: the protocol's and those of everything it uses.
const resolve::LoadedFile* file_of_number(const resolve::Loaded& loaded, const std::string& number) {
  for (const resolve::LoadedFile& file : loaded.files) {
    if (file.tree.file_kind != "words" && resolve::number_of(file.tree) == number) return &file;
  }
  return nullptr;
}

class Matcher {
 public:
  Matcher(const resolve::Loaded& loaded, const model::Protocol& protocol, const source::Files& files, diagnostics::Sink& sink)
      : loaded_(loaded), files_(files), sink_(sink), texts_(source_texts(loaded)) {
    for (const std::string& place : places_of_texts(loaded)) places_.insert(place);
    for (const std::string& name : names_in(protocol)) names_.insert(name);
  }

  std::vector<Dictionary> run() {
    const std::size_t unread = sink_.size();
    std::vector<WordsFile> words = read_words(loaded_, files_, sink_);
    const bool all_read = sink_.size() == unread;
    // What belongs to one document is said first, and then stands.
    std::stable_sort(words.begin(), words.end(), [](const WordsFile& a, const WordsFile& b) { return a.is_general() < b.is_general(); });
    for (const WordsFile& file : words) {
      if (file.language.empty()) continue;
      Dictionary& dictionary = dictionary_for(file);
      const std::size_t before = sink_.size();
      if (fits(file)) add(file, dictionary);
      dictionary.has_mistakes = dictionary.has_mistakes || !all_read || sink_.size() > before;
    }
    return std::move(dictionaries_);
  }

 private:
  Dictionary& dictionary_for(const WordsFile& file) {
    for (Dictionary& known : dictionaries_) {
      if (known.language == file.language) return known;
    }
    dictionaries_.push_back({file.language, file.heading, {}, {}, {}, {}, false});
    return dictionaries_.back();
  }

  diagnostics::Diagnostic& report(Code code, source::Span at, std::vector<std::string> args) {
    sink_.push_back(diagnostics::make(code, at, std::move(args)));
    return sink_.back();
  }

  bool fits(const WordsFile& file) {
    if (file.is_general()) return true;
    const resolve::LoadedFile* of = file_of_number(loaded_, file.of_number);
    if (!of) {
      report(Code::X401, file.heading, {file.of_number});
      return false;
    }
    const std::string version = resolve::version_of(of->tree);
    if (file.of_version.empty() || version.empty() || version == file.of_version) return true;
    report(Code::X402, file.heading, {file.of_number, version, file.of_version});
    return true;  // what still fits is printed; what changed is told text by text
  }

  void add(const WordsFile& file, Dictionary& dictionary) {
    const std::set<std::string> from_others = said_so_far(dictionary);
    for (const Entry& entry : file.contractions) {
      if (!entry.from.empty()) dictionary.contractions.push_back({entry.from, entry.to});
    }
    for (const Entry& entry : file.phrases) add_phrase(entry, dictionary);
    for (const Entry& entry : file.names) add_name(file, entry, dictionary, from_others);
    for (const Passage& passage : file.passages) {
      for (const Entry& entry : passage.texts) add_text(file, passage, entry, dictionary, from_others);
    }
  }

  /// What files before this one have said, which this one therefore does not say again: it is no contradiction.
  static std::set<std::string> said_so_far(const Dictionary& dictionary) {
    std::set<std::string> said;
    for (const auto& [text, to] : dictionary.texts) said.insert("text " + text);
    for (const auto& [name, to] : dictionary.names) said.insert("name " + name);
    return said;
  }

  void add_phrase(const Entry& entry, Dictionary& dictionary) {
    const auto which = wording::phrase_saying(entry.from);
    if (!which) {
      report(Code::X406, entry.from_span, {entry.from});
    } else if (!entry.to.empty() && keeps_gaps(entry) && keeps_figures(entry)) {
      keep(dictionary.phrases, *which, entry.to, entry);
    }
  }

  void add_name(const WordsFile& file, const Entry& entry, Dictionary& dictionary, const std::set<std::string>& from_others) {
    const std::string name = text::fold(entry.from);
    if (names_.count(name) == 0) {
      if (!file.is_general()) report_unknown_name(entry);
      return;
    }
    if (entry.to.empty() || from_others.count("name " + name) > 0) return;
    const auto [known, is_new] = dictionary.names.insert({name, {entry.to, entry.called}});
    if (!is_new && (known->second.name != entry.to || known->second.called != entry.called)) {
      report(Code::X409, entry.span, {entry.from, known->second.name, entry.to});
    }
  }

  void report_unknown_name(const Entry& entry) {
    diagnostics::Diagnostic& finding = report(Code::X405, entry.from_span, {entry.from});
    const std::vector<std::string> names(names_.begin(), names_.end());
    if (const auto near = resolve::nearest_of(names, text::fold(entry.from))) finding.fix = *near;
  }

  void add_text(const WordsFile& file, const Passage& passage, const Entry& entry, Dictionary& dictionary, const std::set<std::string>& from_others) {
    const bool has_place = places_.count(passage.place) > 0;
    if (!has_place && !file.is_general()) return report_unknown_place(passage);
    if (!has_place) return;
    const bool is_there = std::any_of(texts_.begin(), texts_.end(), [&](const SourceText& text) { return text.text == entry.from && is_at(text, passage.place); });
    if (!is_there) return report_changed(passage, entry);
    if (entry.to.empty() || from_others.count("text " + entry.from) > 0 || !keeps_gaps(entry) || !keeps_figures(entry)) return;
    keep(dictionary.texts, entry.from, entry.to, entry);
  }

  static bool is_at(const SourceText& text, const std::string& place) {
    return std::find(text.places.begin(), text.places.end(), place) != text.places.end();
  }

  void report_unknown_place(const Passage& passage) {
    if (!reported_places_.insert(passage.place_span.begin).second) return;
    diagnostics::Diagnostic& finding = report(Code::X403, passage.place_span, {passage.place});
    const std::vector<std::string> places(places_.begin(), places_.end());
    if (const auto near = resolve::nearest_of(places, passage.place)) finding.fix = "text for " + *near;
  }

  /// The place is there and the text is not: it was made from an older one. Shows the text that is most like it.
  void report_changed(const Passage& passage, const Entry& entry) {
    const SourceText* nearest = nullptr;
    std::size_t least = 0;
    for (const SourceText& text : texts_) {
      if (!is_at(text, passage.place)) continue;
      const std::size_t distance = text::edit_distance(text.text, entry.from);
      if (nearest && distance >= least) continue;
      nearest = &text;
      least = distance;
    }
    diagnostics::Diagnostic& finding = report(Code::X404, entry.from_span, {passage.place, shortened(entry.from)});
    if (!nearest) return;
    finding.places.push_back({nearest->span, "the text as it is now"});
    finding.fix = "from \"" + nearest->text + "\"";
  }

  bool keeps_gaps(const Entry& entry) {
    const auto before = wording::gaps_of(entry.from), after = wording::gaps_of(entry.to);
    if (before == after) return true;
    report(Code::X407, entry.to_span, {in_brackets(after), in_brackets(before)});
    return false;
  }

  bool keeps_figures(const Entry& entry) {
    const auto before = digits_in(entry.from), after = digits_in(entry.to);
    if (before == after) return true;
    report(Code::X408, entry.to_span, {listed(after), listed(before)});
    return false;
  }

  template <class Key>
  void keep(std::map<Key, std::string>& said, const Key& key, const std::string& to, const Entry& entry) {
    const auto [known, is_new] = said.insert({key, to});
    if (!is_new && known->second != to) report(Code::X409, entry.span, {shortened(entry.from), shortened(known->second), shortened(to)});
  }

  const resolve::Loaded& loaded_;
  const source::Files& files_;
  diagnostics::Sink& sink_;
  std::vector<SourceText> texts_;
  std::set<std::string> places_, names_;
  std::set<std::uint32_t> reported_places_;
  std::vector<Dictionary> dictionaries_;
};

/// A language that the document promises, and one that it does not know of.
void check_languages(const resolve::Loaded& loaded, const model::Protocol& protocol, const std::vector<Dictionary>& dictionaries, diagnostics::Sink& sink) {
  const auto& languages = protocol.document.languages;
  for (std::size_t i = 1; i < languages.size(); ++i) {
    const bool has_words = std::any_of(dictionaries.begin(), dictionaries.end(), [&](const Dictionary& d) { return d.language == languages[i]; });
    if (!has_words) sink.push_back(diagnostics::make(Code::X413, resolve::languages_span(loaded.files.front().tree), {languages[i]}));
  }
  for (const Dictionary& dictionary : dictionaries) {
    const bool is_listed = std::find(languages.begin(), languages.end(), dictionary.language) != languages.end();
    if (!is_listed) sink.push_back(diagnostics::make(Code::X414, dictionary.heading, {dictionary.language}));
  }
}

}  // namespace

const std::string* Dictionary::text(const std::string& english) const {
  const auto found = texts.find(english);
  return found == texts.end() ? nullptr : &found->second;
}

const TranslatedName* Dictionary::name(const std::string& english) const {
  const auto found = names.find(text::fold(english));
  return found == names.end() ? nullptr : &found->second;
}

std::vector<std::string> names_in(const model::Protocol& protocol) {
  std::vector<std::string> names;
  const auto add = [&](const std::string& name) {
    if (!name.empty()) names.push_back(text::fold(name));
  };
  model::Protocol copy = protocol;
  for (model::Item& item : copy.items) {
    for (model::Surface& surface : item.surfaces) surface.called = surface.name;
  }
  visit_names(copy, {[&](model::Named& named) { add(named.name); }, add, add,
                     [&](const std::string& unit, const std::string&) {
                       add(unit);
                       if (!unit.empty()) add(unit + "s");
                     }});
  return names;
}

std::vector<Dictionary> dictionaries(const resolve::Loaded& loaded, const model::Protocol& protocol, const source::Files& files,
                                     diagnostics::Sink& sink) {
  std::vector<Dictionary> made = Matcher(loaded, protocol, files, sink).run();
  if (loaded.files.front().tree.file_kind == "protocol") check_languages(loaded, protocol, made, sink);
  return made;
}

}  // namespace stepward::translation
