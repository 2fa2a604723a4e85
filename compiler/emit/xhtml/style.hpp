#pragma once
// How a page looks: the styles that stand in every file, and those of its printed faces.
//
// Black on white, one sans family, and sizes in `rem`, so that a reader who has set larger letters gets them; on paper
// a rem is 12 points, so body text is 14. Nothing is told by colour: the red edge of a breach card, the only colour
// there is, is dark in grey and the word BREACH stands in every head. The styles hold none of the signs that XML and
// HTML read differently inside of `style`.

#include <string>

#include "emit/document/document.hpp"

namespace stepward::emit::xhtml {

/// Everything between `<style>` and `</style>`. `paper` as in Options; `mark`: DRAFT or the like, for the margins.
std::string styles(const Sheet& sheet, const std::string& paper, const std::string& mark);

/// The part that is the same in all pages: what the tests of contrast read.
const char* common_styles();

/// The class of a table, which its widths hang on. `table`: position in `Sheet::tables`.
std::string class_of_table(std::size_t table);

/// A text as a string of CSS, with its quotes; every sign but plain letters, figures and blanks is escaped, so it stays
/// inside of its quotes whatever it is.
std::string css_string(const std::string& text);

}  // namespace stepward::emit::xhtml
