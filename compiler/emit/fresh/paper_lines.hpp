#pragma once
// A sheet as lines for reading, and what changed from one sheet to another.
//
// A step put in near the top gives every later one another number, and every "go on at 12" another figure. Told as changes, those
// would hide the one that matters. So lines are held against each other without their own number, and a reference counts as what it
// leads to: "go on at 12" and "go on at 13" are the same where both lead to the same step. What then differs in nothing but
// figures is told as such, apart.

#include <string>
#include <vector>

#include "emit/document/document.hpp"

namespace stepward::emit {

struct PaperLine {
  std::string label;  ///< "12", "Q3"; of a fact of the document block its name, "version"
  std::string text;
  std::string sense;  ///< what it is held against others by
  bool is_fact = false;
};

/// The document block first, then block by block as on the paper.
std::vector<PaperLine> lines_of(const Sheet& sheet);

struct PaperChange {
  enum class What : std::uint8_t { added, gone, changed, moved, renumbered } what = What::added;
  PaperLine then, now;  ///< an added one has no then, one that is gone no now
};

/// In the order of the paper as it is now; what is gone stands where it stood. The same words twice: none.
std::vector<PaperChange> changes(const Sheet& then, const Sheet& now);

}  // namespace stepward::emit
