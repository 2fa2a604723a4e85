#pragma once
// The standard library, inside the program.
//
// The files of stdlib-procedures/ are turned into constants when the project is built, so that `use library standard
// "name"` reads no disk and the same program always means the same library. `base/embed_texts.cmake`
// writes the definition.

#include <span>
#include <string_view>

namespace stepward::resolve {

/// One embedded file. `path` is relative to stdlib-procedures/, with forward slashes: "agents/basic.ward".
struct StandardFile {
  std::string_view path;
  std::string_view text;
};

/// All embedded files, ordered by path.
std::span<const StandardFile> standard_files();

}  // namespace stepward::resolve
