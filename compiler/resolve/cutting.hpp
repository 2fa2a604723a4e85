#pragma once
// Cutting a phrase into names: all ways that fit a frame, by dynamic programming.
//
// The grammar hands over a flat phrase, since a name may hold joining words ("gather from behind") and only the whole
// table of names can tell where one ends. A *reading* cuts the phrase completely into the pieces of a frame. Positions
// are met from left to right; at each, the set of states that some cut reaches is kept, with how it was reached. Going
// back from the end gives every reading and never a dead end. Nothing is greedy.
//
//   take off front of hood using peel     pieces: front | of | hood | using | peel
//   if "front of hood" were a name too:           front of hood | using | peel
//
// The second has the same cut points but for a name that takes more words in the same place, so it wins. Two readings
// of which neither is such a coarser form of the other stay, and the line is refused as readable in two ways.

#include <optional>
#include <string>
#include <vector>

#include "resolve/frame.hpp"
#include "resolve/name_table.hpp"
#include "syntax/tree.hpp"

namespace stepward::resolve {

/// One piece of a reading: tokens [begin, end).
struct Segment {
  std::string_view label;  ///< of the frame; empty for words that only join
  EdgeKind kind = EdgeKind::word;
  std::uint32_t begin = 0, end = 0;
  Meaning meaning;  ///< for names
  friend bool operator==(const Segment&, const Segment&) = default;
};

struct Reading {
  std::vector<Segment> segments;  ///< in the order of the line

  const Segment* find(std::string_view label) const;
  bool has(std::string_view label) const { return find(label) != nullptr; }
};

/// What could have stood where no cut went on.
struct Stop {
  std::size_t position = 0;             ///< the first token that no cut can pass; the phrase's length: it ends early
  Classes classes = 0;                  ///< names that would do there
  std::vector<std::string_view> words;  ///< words that would do there
  std::vector<EdgeKind> others;         ///< quoted text, numbers, dates that would do there
};

struct Cut {
  std::vector<Reading> readings;  ///< after the coarser ones have won: none, one, or several that differ
  Stop stop;                      ///< filled when there is no reading
};

/// A phrase with its words looked up once; frames may be tried on it from any token on.
struct Phrase {
  const std::vector<syntax::Token>* tokens = nullptr;
  std::vector<WordId> words;  ///< `unknown_word` for what is no word, or never seen in a name or frame
  Phrase(const NameTable& table, const std::vector<syntax::Token>& tokens_in);
};

/// Reusable working memory of the walk; one for a run.
class Cutter {
 public:
  explicit Cutter(const NameTable& table) : table_(table) {}

  /// Cuts tokens [from, end of phrase) by `frame`. Names that are parameters count only if `parameters` lists them.
  Cut cut(const Phrase& phrase, std::size_t from, const Frame& frame,
          const std::vector<std::uint32_t>& parameters = {});

 private:
  struct Back {
    std::uint32_t from_node;
    const Edge* edge;
    std::int32_t entry;
    std::int32_t next;
  };

  void walk(const Phrase& phrase, std::size_t from, const Frame& frame, const std::vector<std::uint32_t>& parameters);
  void follow(const Phrase& phrase, std::size_t position, std::uint32_t node, const Edge& edge,
              const std::vector<std::uint32_t>& parameters);
  void reach(std::uint32_t from_node, std::uint32_t to_node, const Edge& edge, std::int32_t entry);
  std::vector<Reading> readings(std::size_t from, const Frame& frame, std::size_t length);
  Stop stop(const Phrase& phrase, std::size_t from, const Frame& frame) const;

  const NameTable& table_;
  std::size_t states_ = 0, start_ = 0;
  std::vector<std::int32_t> first_back_;  ///< per (position, state)
  std::vector<Back> backs_;
  std::vector<std::vector<std::uint32_t>> open_;  ///< states reached at a position
  std::vector<NameTable::Match> matches_;
};

/// The reading with its pieces divided by " | ", for the reader.
std::string shown_with_bars(const Reading& reading, const std::vector<syntax::Token>& phrase);

}  // namespace stepward::resolve
