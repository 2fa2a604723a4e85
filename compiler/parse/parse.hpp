#pragma once
// From text to tree.
//
// The steps, each in its own file: is it a text at all (`intake`); the grammar reads lines (`lines`); the first line
// says what the file is; heads are paired with ends and details hung on their lines (`blocks`, by the table in
// `placement`); indentation is compared with the ends (`indentation`). Every step reports into the same sink and hands
// on what it could read, so that one run tells of every slip.

#include <string_view>

#include "diagnostics/diagnostic.hpp"
#include "source/span.hpp"
#include "syntax/tree.hpp"

namespace stepward::parse {

/// Builds the tree of one file. `text` is the file's plain text as `source::Files` holds it; spans count its bytes.
/// Never fails: what cannot be read is reported in `sink` (family L) and left out. Of a file that is no text, is nested
/// too deep or is of a later version's kind, only the root is handed on, without a kind of file.
syntax::Tree parse(source::FileId file, std::string_view text, diagnostics::Sink& sink);

}  // namespace stepward::parse
