#pragma once
// A paper in the formats that were asked for: PDF for the printer, a web page for screens.
//
// The only place that knows whether this program was built with PDF. Without it there are still web pages.

#include <string>
#include <vector>

#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "emit/document/document.hpp"

namespace stepward::driver {

struct SetPaper {
  std::vector<Output> files;        ///< in the order of `paper_formats()`
  std::vector<std::string> faults;  ///< why there is no PDF, one sentence each, beginning with the file's name
  int faces = 0;                    ///< of the PDF; 0: none was asked for
};

/// The names of `--as`.
std::vector<std::string> paper_formats();

/// Empty if this program can write what is asked for, or why it cannot.
std::string why_no_such_format(const PrintRequest& request);

/// The files of one sheet. `stem`: their path without what tells the format. `today` stands in them as their date.
SetPaper set_paper(const emit::Sheet& sheet, const std::string& stem, const PrintRequest& request, const std::string& today);

/// The day that a paper of this program bears as its date, from its bytes; empty when it bears none.
std::string printed_for(const std::string& bytes);

/// "12 faces", "a web page": what a file is, behind its name.
std::string told_of(const Output& file, const SetPaper& paper);

}  // namespace stepward::driver
