#pragma once
// The names in sight of one protocol, as a tree of words.
//
// A name is one to six plain words. Names are looked up from every position of a phrase, many times a line, so they are
// stored as a trie over interned words: from a position one walks word by word and meets every name that begins there.
// One name may carry several meanings only where lines introduce it (a mark and a record may share a name); that
// declarations are unique is decided by whoever adds them, who asks `find` first.
//
// The table owns all words; a `WordId` is stable for its lifetime. It knows no syntax node and no model.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "source/span.hpp"
#include "syntax/tree.hpp"

namespace stepward::resolve {

/// What a name can stand for. `index` of a Meaning counts within the class.
enum class NameClass : std::uint8_t {
  zone,
  role,
  site,
  kind,
  finding,
  spot,
  supply,
  item,
  agent,
  technique,
  choice,
  value,
  ending,
  routine,
  interruption,
  decision,
  answer,
  mark,
  record,
  recipient,
  timer,
  parameter,
  given,
  surface,
  line,
  unit,
  verb,
  hands
};
inline constexpr unsigned name_class_count = 28;

/// A set of classes, one bit each.
using Classes = std::uint32_t;
constexpr Classes only(NameClass what) { return Classes{1} << static_cast<unsigned>(what); }

/// "an item", "a place": how a class is called in a message.
std::string_view called(NameClass what);
/// The class that a frame calls `text`, such as "item"; nothing if there is none.
std::optional<NameClass> class_named(std::string_view text);

/// One meaning of a name.
struct Meaning {
  NameClass what = NameClass::item;
  std::uint32_t index = 0;
  friend bool operator==(const Meaning&, const Meaning&) = default;
};

using WordId = std::uint32_t;
inline constexpr WordId unknown_word = UINT32_MAX;
inline constexpr std::size_t longest_name = 6;

class NameTable {
 public:
  struct Entry {
    Meaning meaning;
    source::Span span;  ///< where it was declared or first used
    std::string name;
    std::int32_t next = -1;
  };
  /// A name that begins at the position asked for: it takes `length` words.
  struct Match {
    std::uint32_t length = 0;
    std::int32_t entry = -1;
  };

  NameTable();

  /// The id of a word, given on first sight.
  WordId intern(std::string_view word);
  /// The id of a word that was seen before, else `unknown_word`.
  WordId look_up(std::string_view word) const;

  /// Adds one more meaning to the name `words` (lower case, single spaces).
  void add(std::string_view name, Meaning meaning, source::Span span);
  /// The first entry of this very name with a meaning among `classes`, else nullptr.
  const Entry* find(std::string_view name, Classes classes = ~Classes{0}) const;
  /// All names that begin at `position` of `words`, shortest first.
  void matches_at(const std::vector<WordId>& words, std::size_t position, std::vector<Match>& out) const;

  const Entry& entry(std::int32_t at) const { return entries_[static_cast<std::size_t>(at)]; }
  const std::vector<Entry>& entries() const { return entries_; }

 private:
  std::int32_t node_of(std::string_view name) const;
  std::int32_t step(std::int32_t node, WordId word) const;

  struct TextHash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
  };
  std::unordered_map<std::string, WordId, TextHash, std::equal_to<>> words_;
  std::unordered_map<std::uint64_t, std::int32_t> edges_;
  std::vector<std::int32_t> first_entry_;  ///< per trie node, -1: no name ends here
  std::vector<Entry> entries_;
};

/// The words of tokens [begin, end) joined by single spaces, in lower case.
std::string words_of(const std::vector<syntax::Token>& phrase, std::size_t begin, std::size_t end);
/// True for words that join names on a line, so that no name may begin with one.
bool is_joining_word(std::string_view word);
/// True if the words from `begin` on open with a verb form.
bool begins_with_verb(const std::vector<syntax::Token>& phrase, std::size_t begin, std::size_t end);

/// How far two names are apart: the least number of letters, or words, to add, drop, change or swap.
std::size_t distance(std::string_view a, std::string_view b);
/// The name in sight nearest to `words`, among `classes`; nothing if none is near.
std::optional<std::string> nearest_name(const NameTable& table, std::string_view words, Classes classes);
/// The nearest of `choices` to `words`; nothing if none is near.
std::optional<std::string> nearest_of(const std::vector<std::string>& choices, std::string_view words);

}  // namespace stepward::resolve
