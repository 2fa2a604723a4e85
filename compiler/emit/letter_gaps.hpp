#pragma once
// Letters of boxes that a paper does not use. They are the same on all papers of a variant, B is kept for breaches, and some look like figures:
// whoever misses one is told that it is not here, and looks for it no longer.

#include <string>

#include "emit/paper_parts.hpp"

namespace stepward::emit {

class LetterGaps {
 public:
  /// "Letters not used on this paper: B and C.", in front of the box of this label; empty: none is missing since the box before, or the
  /// label is none of a box. Boxes are asked for in their order.
  std::string before(const PaperSource& source, const std::string& label);

 private:
  char next_ = 'A';
};

}  // namespace stepward::emit
