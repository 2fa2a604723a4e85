#pragma once
// The disk: reading sources, and writing outputs so that nobody ever sees half of one.
//
// Outputs of one run are written under temporary names first and moved into place only when all of them are complete.
// Whatever goes wrong before that, the files that stood there stay as they were.

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/file_access.hpp"

namespace stepward::driver {

/// Reads plain files from the disk; with a `folder` given, nothing that lies outside of it, links included.
class FilesOnDisk final : public FileAccess {
 public:
  explicit FilesOnDisk(const std::string& first_file);

  std::optional<std::string> read(std::string_view path, std::string& why) const override;

 private:
  bool lies_inside(const std::string& path) const;

  std::string first_file_;
  std::string folder_;        ///< of the first file, links followed
};

struct Output {
  std::string path;
  std::string bytes;
};

/// Puts all outputs in place, or none: then the answer says why. A file that already holds the same bytes is left alone;
/// one that is replaced keeps who may read and write it, and a link keeps leading to it.
std::string write_all(const std::vector<Output>& outputs);

/// True if something stands there by that name.
bool disk_holds(const std::string& path);

/// Everything that comes through standard input, or why not.
std::optional<std::string> read_standard_input(std::string& why);

/// Makes a folder and those above it. Empty, or why it cannot be.
std::string make_folder(const std::string& path);

}  // namespace stepward::driver
