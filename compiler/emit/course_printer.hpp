#pragma once
// Reads a course from top to bottom and lays its blocks down; card and script say how one step looks.
//
// The order on paper: the trunk, phase by phase; under each question its frame, then its branches, each opened by its
// answer and closed by where to go on; after the trunk the breaches; last of all the boxes, by their letters. Nobody
// comes to a box by reading on, and who is sent to one finds it as in a dictionary. Branches that are only an ending or
// a box stand in the frame's row and nowhere else.
//
// Who has come to an ending reads STOP HERE and must not be led on by what stands below it. So the line behind a branch
// that ends says whose it is ("Q5: YES. Go on here."), and where every answer has said already where it leads to, no
// further line says it again.

#include <string>
#include <vector>

#include "emit/letter_gaps.hpp"
#include "emit/paper_parts.hpp"

namespace stepward::emit {

class CoursePrinter {
 public:
  explicit CoursePrinter(const PaperSource& source);
  virtual ~CoursePrinter() = default;

  /// All blocks, in reading order.
  std::vector<Block> print();
  /// Only what may strike at any time, and behind all of it every box that it sends to.
  std::vector<Block> print_breaches();

 protected:
  /// One action line.
  virtual Block step(const model::Line& line, const graph::Entry& entry, Level level) = 0;
  /// How a box is sent to by a step of its own.
  virtual wording::Phrase box_phrase() const = 0;
  /// "do box C, then go on at 12", as a step of its own.
  virtual Block box_step(const Text& text, const graph::Entry& entry, Level level) = 0;

  const PaperSource& source_;

 private:
  /// `is_closed`: a line stands behind it that says where to go on.
  void run(graph::RunId id, Level level, bool is_closed = false);
  /// `last_words`: an ending follows, which says by itself what comes then.
  void entry(const graph::Entry& entry, Level level, bool last_words);
  void question(const graph::Entry& entry, Level level);
  void repeat_asks(const graph::Entry& entry, Level level);
  void branch(const graph::Entry& entry, std::size_t fork, Level level);
  bool has_branch(const graph::Fork& fork) const;
  bool ends_in_branch(const graph::Entry& entry) const;
  void who_goes_on(const std::vector<graph::Entry>& entries, std::size_t at, Level level, bool is_closed);
  void boxes();
  void box(const graph::Box& box);
  void breach(const graph::Breach& breach);
  void closing(const graph::Target& target, Level level);

  std::vector<Block> blocks_;
  std::vector<bool> wanted_;  ///< boxes that something printed sends to
  LetterGaps letters_;
};

}  // namespace stepward::emit
