#pragma once
// The files of the standard library with what their first lines say, for commands that list or copy them.

#include <string>
#include <vector>

#include "syntax/tree.hpp"

namespace stepward::driver {

struct StandardSource {
  std::string name;     ///< as `use … standard "name"` says it
  std::string path;     ///< relative to the library's folder
  std::string text;
  std::string title, number, version;
  syntax::Tree tree;
};

/// All of them, ordered by path.
std::vector<StandardSource> standard_sources();

}  // namespace stepward::driver
