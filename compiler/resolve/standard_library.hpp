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

/// The last part of a path without its ending: "agents/basic.ward" is also called "basic".
inline std::string_view short_name(std::string_view path) {
  path = path.substr(path.rfind('/') + 1);  // npos + 1 is 0
  return path.substr(0, path.rfind('.'));
}

/// Whether it is a whole protocol, which is begun from and never used.
inline bool is_protocol(const StandardFile& file) { return file.text.substr(0, file.text.find('\n')) == "stepward 1 protocol"; }

/// All embedded files, ordered by path.
std::span<const StandardFile> standard_files();

}  // namespace stepward::resolve
