#pragma once
// The lines of a file, as the grammar read them and before blocks are paired.
//
// Owned by `parse`; nobody outside this folder sees it. A line that holds only blanks or a remark is left out. The
// words of heads and ends are views into the keyword list, which lives as long as the program.

#include <cstdint>
#include <string_view>
#include <vector>

#include "parse/findings.hpp"
#include "source/span.hpp"
#include "syntax/tree.hpp"

namespace stepward::parse {

enum class LineForm : std::uint8_t {
  first,      ///< `stepward 1 protocol`
  statement,  ///< a head and its phrase; `plain` when no head opens it
  ending,     ///< `end` and what it closes
};

struct Line {
  LineForm form = LineForm::statement;
  syntax::NodeKind head = syntax::NodeKind::plain;
  std::string_view closes;  ///< the words that `end` names; empty for a line that opens no block, or an unknown end
  source::Span span;        ///< from the first word to the last token
  source::Span head_span;   ///< the keyword words; empty for a plain line
  source::Span margin;      ///< the blanks in front, without a bullet
  std::vector<syntax::Token> phrase;
};

struct Lines {
  std::vector<Line> lines;
  std::vector<source::Span> remarks;
};

/// Reads `text`, which must be valid UTF-8. Reports the slips inside lines: open quotes, characters without meaning.
Lines read_lines(source::FileId file, std::string_view text, Findings& findings);

}  // namespace stepward::parse
