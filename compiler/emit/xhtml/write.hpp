#pragma once
// Writes a sheet as a web page: one file that holds everything it needs, for screens of any width and for the browser's
// own print.
//
// The page is well-formed XML and at the same time HTML, in a file called .html: a browser that finds it on a disk or in
// a letter opens it by a double click, which not every one does with .xhtml. It asks for no script, no font and nothing
// from a network, and says so in its policy. The same sheet and date give the same bytes.
// A browser breaks pages by its own measures. So the page numbers, the check words and the caution of a printed face
// stand in its margin, a step is not torn where the browser can help it, and nothing refers to a page: for a wall, the
// PDF is what is printed.

#include <string>

#include "emit/document/document.hpp"

namespace stepward::emit::xhtml {

struct Options {
  std::string paper = "A4";      ///< "A5", "letter"…; one that is not known leaves the size to the browser
  std::string date = "2000-01-01";  ///< ISO 8601; stands in the file as its date, so the clock never does
  bool watermark_draft = false;  ///< DRAFT on every face, whatever the sheet says of itself
};

/// The whole file. It never fails: whatever cannot be written is seen on the page as U+FFFD.
std::string write(const Sheet& sheet, const Options& options);

/// The date that a page was written with; empty for anything that `write` did not make.
std::string day_of(const std::string& page);

}  // namespace stepward::emit::xhtml
