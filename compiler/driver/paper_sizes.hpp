#pragma once
// Which sheet each paper of a run is printed on, and which papers of a run no sheet that was asked for can take.

#include <string>
#include <vector>

#include "driver/commands.hpp"
#include "emit/document/document.hpp"
#ifdef STEPWARD_WITH_PDF
#include "emit/pdf/paper.hpp"
#endif

namespace stepward::driver {

/// The sizes that --paper and --up know, as people write them.
std::vector<std::string> paper_size_names();

struct SizesChosen {
  std::vector<std::string> what;  ///< the papers that are made
  std::string left_out;           ///< a line for each that is not, because nobody asked for it by name
  std::string refused;            ///< one that was asked for by name does not go on that sheet; empty: nothing is refused
};

/// Of `what`, those that can be printed as asked. `request.what` says which of them were asked for by name.
SizesChosen choose_sizes(const PrintRequest& request, const std::vector<std::string>& what);

#ifdef STEPWARD_WITH_PDF
/// The sheet of one paper: the one that was asked for, or its own.
emit::pdf::Paper sheet_for(const PrintRequest& request, emit::SheetKind kind);
#endif
/// The same as people write it: "A4", "ID-1".
std::string size_name(const PrintRequest& request, emit::SheetKind kind);

/// "a4", or "id-1-up-a4" where several lie on each sheet: a part of a file's name.
std::string size_part(const PrintRequest& request, emit::SheetKind kind);

}  // namespace stepward::driver
