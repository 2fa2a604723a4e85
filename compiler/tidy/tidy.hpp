#pragma once
// A source in tidy form: the same lines, laid out by what the ends say.
//
// Indentation has no meaning in a source, so people may be misled by it; this sets it from the tree. The tree alone
// says how deep a line stands: two blanks for every block around it, for an entry of `endings`, and for the line that
// a detail belongs to; lines that divide a block (`otherwise`, `until`, `if still not`) and its `end` stand at its own
// depth. A remark on a line of its own stands as deep as the line below it, above an `end` or a dividing line as deep
// as the lines inside. What is left of the margin, tabs or a pasted bullet, goes.
//
// Inside a line little is touched, since people align columns by hand and nothing should undo that:
//
//     •⇥title⇥“Leaving”   # as on the door        becomes        title "Leaving"   # as on the door
//
// runs of plain spaces stay as they are; any other blanks become one space; a comma stands behind its word and in
// front of a space; quote marks are straight ones, and the text between them is kept byte for byte. At most one empty
// line stands in a row, none at the beginning and the end.
//
// The result does not depend on the margins of the input, and tidying twice changes nothing further. Whoever changes
// somebody's protocol has to show that it still says the same: the result is parsed again and held against the tree of
// the input, and is not handed out if anything differs.

#include <cstdint>
#include <string>
#include <string_view>

#include "diagnostics/diagnostic.hpp"
#include "source/span.hpp"

namespace stepward::tidy {

enum class Outcome : std::uint8_t {
  tidy,         ///< `text` is the tidy form
  not_read,     ///< the source has errors of layout, which are in the sink: nobody knows what its lines mean
  would_differ  ///< the tidy form would say something else, which is a fault of this folder
};

struct Tidied {
  Outcome outcome = Outcome::tidy;
  std::string text;
};

/// `text` is plain text as `source::Files` holds it. Findings of reading it go to `sink`, warnings included.
Tidied tidy(source::FileId file, std::string_view text, diagnostics::Sink& sink);

}  // namespace stepward::tidy
