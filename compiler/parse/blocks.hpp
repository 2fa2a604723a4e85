#pragma once
// Pairs heads with their ends and hangs every line where it belongs.
//
// A walk over the lines with a list of the blocks that are open. What makes it long is not the pairing but the slips:
//  - an `end` that names a block further out shows that the blocks inside it were not closed;
//  - a head that only stands at the level of a file shows that the block around it was not closed, unless that block
//    is closed properly later on, in which case the head is in the wrong place;
//  - an `end` that names nothing that is open is a wrong word if the innermost block would stay open without it, else
//    a stray line.
// Each slip is reported once, at the line to mend, and the walk goes on as if it were mended. Indentation decides
// nothing here; `indentation.hpp` compares it with the result.

#include <string_view>
#include <vector>

#include "parse/findings.hpp"
#include "parse/lines.hpp"
#include "syntax/tree.hpp"

namespace stepward::parse {

/// How many blocks may stand inside each other.
inline constexpr std::size_t deepest_nesting = 64;

/// A block by the places of its first and last line in the list of lines.
struct Extent {
  std::size_t opening = 0;
  std::size_t ending = 0;
};

/// What the walk found out besides the tree.
struct Pairing {
  std::vector<Extent> extents;  ///< every block that its own `end` closes, inner ones before outer ones
  bool balanced = true;         ///< no end is missing, stray or wrong
  bool too_deep = false;        ///< reading stopped at a block beyond the deepest nesting
};

/// Adds the lines from `first` on to `tree`, whose only node is the file. Takes the phrases out of `lines`.
Pairing fold_blocks(std::vector<Line>& lines, std::size_t first, std::string_view text, syntax::Tree& tree,
                    Findings& findings);

}  // namespace stepward::parse
