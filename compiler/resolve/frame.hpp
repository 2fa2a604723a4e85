#pragma once
// A frame: the shape of a line, written as text and compiled into a small automaton.
//
// Why text: the shapes are the language, and somebody who maintains it should be able to read them beside
// docs/language/reference.md. Why an automaton: `cutting` has to consider *every* way to cut a phrase, which is a walk
// over (state, position) and never backtracks.
//
//   word            that word                     {label=word}     the same, remembered under a label
//   is/are          either word
//   <label:item,site>  a declared name of one of these classes; <label> alone: the class of that name
//   <label:TEXT>    quoted text; likewise NUMBER, DATE, RATIO
//   <label:WORDS>   one to six words that need not be declared and hold no joining word; <label:ANY> may hold some
//   ,               a comma
//   ( a | b )       either       [ a ]  or nothing       ( a )*  any number of times (a must take at least one token)
//   $shape          a shape that was named before; $shape(x) puts x before each of its labels
//
// A frame owns its text; the labels of readings point into it, so it must outlive them. Frames are made once a run.

#include <map>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "resolve/name_table.hpp"

namespace stepward::resolve {

enum class EdgeKind : std::uint8_t { nothing, word, name, text, number, date, ratio, comma, words, any_words };

struct Edge {
  EdgeKind kind = EdgeKind::nothing;
  std::uint16_t to = 0;
  WordId word = unknown_word;
  Classes classes = 0;
  std::string_view label;  ///< empty: not remembered
  std::string_view shown;  ///< the word as it is written in the frame
};

/// Named pieces that several frames share, by name without the `$`.
using Shapes = std::map<std::string, std::string, std::less<>>;

class Frame {
 public:
  Frame() = default;
  /// Compiles `text`. The text is part of the program: a mistake in it is a mistake of the program and ends it.
  Frame(NameTable& table, const Shapes& shapes, std::string_view text);

  std::size_t size() const { return ends_.size(); }
  std::span<const Edge> edges(std::size_t state) const { return {edges_.data() + (state == 0 ? 0 : ends_[state - 1]), edges_.data() + ends_[state]}; }
  std::uint16_t start() const { return start_; }
  std::uint16_t accept() const { return accept_; }

 private:
  friend class FrameCompiler;
  std::shared_ptr<const std::string> text_;
  std::vector<Edge> edges_;           ///< of all states: frames stay as long as the program runs, so they are kept close
  std::vector<std::uint32_t> ends_;   ///< those of state s end at ends_[s]
  std::uint16_t start_ = 0, accept_ = 0;
};

}  // namespace stepward::resolve
