#pragma once
// From one path to every file it uses, each read and parsed once.
//
// `use library "x.ward"` names a file in the folder of the file that says so, or below it; `standard "x"` names one of
// the embedded files, with or without its ending. A file outside the folder is never read: a protocol is a folder that
// can be handed on whole. Files that use each other in a circle are refused with both ends named, since neither could
// be read first. What cannot be read is reported once and left out; what else was read is still returned, so that one
// run reports all mistakes.

#include <string>
#include <vector>

#include "base/file_access.hpp"
#include "diagnostics/diagnostic.hpp"
#include "source/files.hpp"
#include "syntax/tree.hpp"

namespace stepward::resolve {

struct LoadedFile {
  syntax::Tree tree;
  std::string path;       ///< as read; for an embedded file: standard/NAME.ward
  bool standard = false;  ///< from the embedded library
};

/// files[0] is the file asked for; the others follow in the order in which they were first named.
struct Loaded {
  std::vector<LoadedFile> files;
  std::vector<std::uint32_t> order;  ///< all files, each behind those that it uses
};

/// Reads `path` and everything it uses. No file at all means that `path` itself could not be read (reported).
Loaded load(const std::string& path, const FileAccess& access, source::Files& files, diagnostics::Sink& sink);

/// The version that a file's document block states, as written; empty: none.
std::string version_of(const syntax::Tree& tree);

/// The number that a file's document block states; empty: none.
std::string number_of(const syntax::Tree& tree);
/// Where a file says in which languages it is.
source::Span languages_span(const syntax::Tree& tree);

/// The path that `named` stands for in a file at `from`, or nothing if it leads out of that file's folder.
std::optional<std::string> path_inside(const std::string& from, const std::string& named);

}  // namespace stepward::resolve
