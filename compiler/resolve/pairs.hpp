#pragma once
// `pairs with "entry.ward" version 2.0`: which protocol somebody came in by who leaves by this one.
//
// The line stands in the exit and names the entry. The entry is a protocol of its own with names of its own, so it is
// not read into this file as a library is; whoever compares the two reads it beside this one. Here only the line is
// read and its path is settled, under the same law as `use`: in the folder of the file that says so, or below it.

#include <string>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "resolve/imports.hpp"

namespace stepward::resolve {

/// One `pairs with` line.
struct PairsWith {
  std::string named;        ///< as written
  std::string path;         ///< to be read
  std::string version;      ///< empty: any
  bool moved_since = false; ///< `, moved since`: the person went elsewhere in between
  source::Span span, name_span;
};

/// The `pairs with` lines of the file asked for, those that name a file inside its folder. What is wrong is reported.
std::vector<PairsWith> pairs_of(const Loaded& loaded, diagnostics::Sink& sink);

/// Reports what of a partner's own first lines does not fit what was said of it: its kind, its version, or that it names
/// this file as its entry in turn. False: there is nothing to compare.
bool fits_as_entry(const PairsWith& said, const Loaded& exit, const Loaded& entry, diagnostics::Sink& sink);

}  // namespace stepward::resolve
