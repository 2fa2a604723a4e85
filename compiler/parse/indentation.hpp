#pragma once
// Warns where the indentation tells a reader something else than the ends do.
//
// Indentation has no meaning, but people read by it. Two lines can be compared when the blanks in front of one are the
// beginning of those in front of the other; otherwise (tabs in one, spaces in the other) nothing can be said. A line
// contradicts its block when it is indented less than the block's first line, or exactly as much while other lines of
// the block are indented more; an `end` contradicts it when it is not indented like the first line. A file without any
// indentation contradicts nothing. One warning a block, at its first such line.

#include <string_view>
#include <vector>

#include "parse/blocks.hpp"
#include "parse/findings.hpp"
#include "parse/lines.hpp"

namespace stepward::parse {

/// `extents` are the blocks of a file whose ends are all in order.
void check_indentation(const std::vector<Line>& lines, const std::vector<Extent>& extents, std::string_view text,
                       Findings& findings);

}  // namespace stepward::parse
