#include "resolve/name_table.hpp"

#include <algorithm>

namespace stepward::resolve {
namespace {

struct ClassWords {
  NameClass what;
  std::string_view key, called;
};
constexpr std::array<ClassWords, name_class_count> class_words{{
    {NameClass::zone, "zone", "a place"},
    {NameClass::role, "role", "a person"},
    {NameClass::site, "site", "a body site"},
    {NameClass::kind, "kind", "a kind"},
    {NameClass::finding, "finding", "a finding"},
    {NameClass::spot, "spot", "a fixture or surface"},
    {NameClass::supply, "supply", "a supply"},
    {NameClass::item, "item", "an item"},
    {NameClass::agent, "agent", "an agent"},
    {NameClass::technique, "technique", "a technique"},
    {NameClass::choice, "choice", "a choice"},
    {NameClass::value, "value", "a value of a choice"},
    {NameClass::ending, "ending", "an ending"},
    {NameClass::routine, "routine", "a routine"},
    {NameClass::interruption, "interruption", "an interruption"},
    {NameClass::decision, "decision", "a decision"},
    {NameClass::answer, "answer", "an answer"},
    {NameClass::mark, "mark", "something declared"},
    {NameClass::record, "record", "a record"},
    {NameClass::recipient, "recipient", "somebody reported to"},
    {NameClass::timer, "timer", "a timer"},
    {NameClass::parameter, "parameter", "a thing given to the routine"},
    {NameClass::given, "given", "what a routine is given"},
    {NameClass::surface, "surface", "a surface of an item"},
    {NameClass::line, "line", "a line known by name"},
    {NameClass::unit, "unit", "a unit"},
    {NameClass::verb, "verb", "a verb"},
    {NameClass::hands, "hands", "hands"},
}};

constexpr std::string_view joining_words[] = {
#define STEPWARD_JOINER(word) word,
#include "keywords.def"
};

constexpr std::string_view verb_forms[] = {
#define STEPWARD_VERB(id, command, third) command, third,
#include "keywords.def"
};

/// Splits at single spaces and hands each word to `take`.
template <class Take>
void each_word(std::string_view name, Take take) {
  while (!name.empty()) {
    const std::size_t space = name.find(' ');
    take(name.substr(0, space));
    if (space == std::string_view::npos) return;
    name.remove_prefix(space + 1);
  }
}

std::vector<std::string_view> split(std::string_view name) {
  std::vector<std::string_view> words;
  each_word(name, [&](std::string_view word) { words.push_back(word); });
  return words;
}

/// Damerau and Levenshtein's distance (the restricted form: nothing is edited twice) over any two sequences.
template <class Sequence, class Change>
std::size_t edit_distance(const Sequence& a, const Sequence& b, std::size_t add_or_drop, Change change) {
  const std::size_t rows = a.size() + 1, columns = b.size() + 1;
  std::vector<std::size_t> table(rows * columns);
  const auto at = [&](std::size_t i, std::size_t j) -> std::size_t& { return table[i * columns + j]; };
  for (std::size_t i = 0; i < rows; ++i) at(i, 0) = i * add_or_drop;
  for (std::size_t j = 0; j < columns; ++j) at(0, j) = j * add_or_drop;
  for (std::size_t i = 1; i < rows; ++i) {
    for (std::size_t j = 1; j < columns; ++j) {
      at(i, j) = std::min(
          {at(i - 1, j) + add_or_drop, at(i, j - 1) + add_or_drop, at(i - 1, j - 1) + change(a[i - 1], b[j - 1])});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) at(i, j) = std::min(at(i, j), at(i - 2, j - 2) + 1);
    }
  }
  return at(rows - 1, columns - 1);
}

std::size_t letters_apart(std::string_view a, std::string_view b) {
  return edit_distance(a, b, 1, [](char x, char y) { return std::size_t{x == y ? 0u : 1u}; });
}

/// A third of the letters may differ, and never more than four.
bool is_near(std::size_t apart, std::string_view wanted) {
  return apart <= std::min<std::size_t>(4, std::max<std::size_t>(1, wanted.size() / 3));
}

}  // namespace

std::string_view called(NameClass what) { return class_words[static_cast<std::size_t>(what)].called; }

std::optional<NameClass> class_named(std::string_view text) {
  for (const ClassWords& words : class_words) {
    if (words.key == text) return words.what;
  }
  return std::nullopt;
}

NameTable::NameTable() { first_entry_.push_back(-1); }

WordId NameTable::intern(std::string_view word) {
  if (const auto found = words_.find(word); found != words_.end()) return found->second;
  const WordId id = static_cast<WordId>(words_.size());
  words_.emplace(std::string(word), id);
  return id;
}

WordId NameTable::look_up(std::string_view word) const {
  const auto found = words_.find(word);
  return found == words_.end() ? unknown_word : found->second;
}

std::int32_t NameTable::step(std::int32_t node, WordId word) const {
  const auto found = edges_.find(std::uint64_t{static_cast<std::uint32_t>(node)} << 32 | word);
  return found == edges_.end() ? -1 : found->second;
}

void NameTable::add(std::string_view name, Meaning meaning, source::Span span) {
  std::int32_t node = 0;
  each_word(name, [&](std::string_view word) {
    const std::uint64_t key = std::uint64_t{static_cast<std::uint32_t>(node)} << 32 | intern(word);
    const auto [edge, is_new] = edges_.try_emplace(key, static_cast<std::int32_t>(first_entry_.size()));
    if (is_new) first_entry_.push_back(-1);
    node = edge->second;
  });
  std::int32_t* link = &first_entry_[static_cast<std::size_t>(node)];
  while (*link >= 0) link = &entries_[static_cast<std::size_t>(*link)].next;
  *link = static_cast<std::int32_t>(entries_.size());
  entries_.push_back({meaning, span, std::string(name), -1});
}

std::int32_t NameTable::node_of(std::string_view name) const {
  std::int32_t node = 0;
  each_word(name, [&](std::string_view word) {
    if (node >= 0) node = step(node, look_up(word));
  });
  return node;
}

const NameTable::Entry* NameTable::find(std::string_view name, Classes classes) const {
  const std::int32_t node = node_of(name);
  if (node <= 0) return nullptr;
  for (std::int32_t at = first_entry_[static_cast<std::size_t>(node)]; at >= 0; at = entry(at).next) {
    if (classes & only(entry(at).meaning.what)) return &entry(at);
  }
  return nullptr;
}

void NameTable::matches_at(const std::vector<WordId>& words, std::size_t position, std::vector<Match>& out) const {
  out.clear();
  std::int32_t node = 0;
  for (std::size_t at = position; at < words.size() && at < position + longest_name; ++at) {
    if (words[at] == unknown_word) return;
    node = step(node, words[at]);
    if (node < 0) return;
    for (std::int32_t e = first_entry_[static_cast<std::size_t>(node)]; e >= 0; e = entry(e).next) {
      out.push_back({static_cast<std::uint32_t>(at - position + 1), e});
    }
  }
}

std::string words_of(const std::vector<syntax::Token>& phrase, std::size_t begin, std::size_t end) {
  std::string joined;
  for (std::size_t at = begin; at < end && at < phrase.size(); ++at) {
    if (at > begin && phrase[at].kind != syntax::TokenKind::comma) joined += ' ';
    joined += phrase[at].kind == syntax::TokenKind::comma ? "," : phrase[at].text;
  }
  return joined;
}

bool is_joining_word(std::string_view word) {
  return std::find(std::begin(joining_words), std::end(joining_words), word) != std::end(joining_words);
}

bool begins_with_verb(const std::vector<syntax::Token>& phrase, std::size_t begin, std::size_t end) {
  for (const std::string_view form : verb_forms) {
    const auto words = split(form);
    if (begin + words.size() > end) continue;
    bool same = true;
    for (std::size_t at = 0; at < words.size(); ++at) same = same && phrase[begin + at].text == words[at];
    if (same) return true;
  }
  return false;
}

std::size_t distance(std::string_view a, std::string_view b) {
  const std::size_t letters = letters_apart(a, b);
  const std::size_t words =
      edit_distance(split(a), split(b), 3, [](std::string_view x, std::string_view y) { return letters_apart(x, y); });
  return std::min(letters, words);
}

std::optional<std::string> nearest_name(const NameTable& table, std::string_view words, Classes classes) {
  std::optional<std::string> best;
  std::size_t least = SIZE_MAX;
  for (const NameTable::Entry& entry : table.entries()) {
    if (!(classes & only(entry.meaning.what))) continue;
    const std::size_t apart = distance(words, entry.name);
    if (apart < least && is_near(apart, entry.name)) {
      least = apart;
      best = entry.name;
    }
  }
  return best;
}

std::optional<std::string> nearest_of(const std::vector<std::string>& choices, std::string_view words) {
  std::optional<std::string> best;
  std::size_t least = SIZE_MAX;
  for (const std::string& choice : choices) {
    const std::size_t apart = distance(words, choice);
    if (apart < least && is_near(apart, choice)) {
      least = apart;
      best = choice;
    }
  }
  return best;
}

}  // namespace stepward::resolve
