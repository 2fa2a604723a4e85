#pragma once
// Reads a course from top to bottom and lays its blocks down; card and script say how one step looks.
//
// The order on paper: the trunk, phase by phase; under each question its frame, then its branches, each opened by its
// answer and closed by where to go on; at the end of a phase the boxes that were asked for first there, so that they
// are near and yet do not tear the trunk apart; after the trunk the breaches. Branches that are only an ending or a box
// stand in the frame's row and nowhere else.

#include <string>
#include <vector>

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
  void run(graph::RunId id, Level level);
  /// `last_words`: an ending follows, which says by itself what comes then.
  void entry(const graph::Entry& entry, Level level, bool last_words);
  void question(const graph::Entry& entry, Level level);
  void repeat_asks(const graph::Entry& entry, Level level);
  void branch(const graph::Entry& entry, std::size_t fork, Level level);
  void want_box(const graph::Entry& entry);
  bool wanted_boxes();
  void breach(const graph::Breach& breach);
  void closing(const graph::Target& target, Level level);

  std::vector<Block> blocks_;
  model::ZoneId zone_;  ///< where the trunk is
  std::vector<graph::BoxId> wanted_;
  std::vector<bool> placed_;
};

}  // namespace stepward::emit
