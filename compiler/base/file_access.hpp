#pragma once
// Reading files without touching a disk.
//
// The compiler asks a `FileAccess` for text; the driver answers from the disk, tests and other hosts from memory. So
// every folder but the driver can be built and run where there is no file system. Paths use forward slashes and are
// taken as given; who may read what (nothing outside the folder of the first file) is decided by the caller.

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace stepward {

/// Where text comes from.
class FileAccess {
 public:
  virtual ~FileAccess() = default;

  /// The bytes of the file at `path`, or nothing; then `why` holds a plain reason ("there is no such file").
  virtual std::optional<std::string> read(std::string_view path, std::string& why) const = 0;
};

/// Files that were put there by hand: for tests, and for hosts that have text but no disk.
class FilesInMemory final : public FileAccess {
 public:
  /// Adds a file, or replaces the one of the same path.
  void put(std::string path, std::string text) { files_[std::move(path)] = std::move(text); }

  std::optional<std::string> read(std::string_view path, std::string& why) const override {
    const auto found = files_.find(path);
    if (found != files_.end()) return found->second;
    why = "there is no such file";
    return std::nullopt;
  }

 private:
  std::map<std::string, std::string, std::less<>> files_;
};

}  // namespace stepward
