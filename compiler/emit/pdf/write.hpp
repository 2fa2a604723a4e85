#pragma once
// Writes a sheet as PDF: exact paper size, embedded fonts, tags, outline, title and language; the same bytes every
// time.

#include <optional>
#include <string>

#include "emit/document/document.hpp"
#include "emit/pdf/fault.hpp"
#include "emit/pdf/paper.hpp"

namespace stepward::emit::pdf {

struct Options {
  Paper paper = Paper::a4;
  std::string date = "2000-01-01";  ///< ISO 8601; stands in the file as its date, so the clock never does
  bool watermark_draft = false;     ///< DRAFT across every face, whatever the sheet says of itself
  std::optional<Paper> up = {};     ///< several faces on each sheet of this size, with marks to cut along
};

struct Pdf {
  std::string bytes;  ///< empty when there are faults
  int faces = 0;
  Faults faults;
};

Pdf write(const Sheet& sheet, const Options& options);

}  // namespace stepward::emit::pdf
