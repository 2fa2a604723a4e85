#pragma once
// The files that were read, each with its path and its text.
//
// `Files` owns every byte that a `Span` points into; it lives as long as anything that holds spans. Text is made plain
// when it is added: a byte-order mark is dropped and every line end (CR LF, or CR alone) becomes one LF, so that no
// later phase has to know about them. Lines and columns are counted only here, because only messages need them; the
// table of line starts makes that a search instead of a walk through the file.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "source/span.hpp"

namespace stepward::source {

/// A place in a file as people count it: both start at 1; columns count characters, not bytes.
struct Position {
  std::uint32_t line = 1;
  std::uint32_t column = 1;
};

/// Drops a byte-order mark and turns every line end into a single LF.
std::string plain_text(std::string text);

class Files {
 public:
  /// Takes a file over and gives it the next id. `text` is made plain first.
  FileId add(std::string path, std::string text);

  std::size_t size() const { return files_.size(); }
  /// The path under which the file was added, for messages.
  const std::string& path(FileId file) const { return files_[file.value].path; }
  /// The whole plain text.
  std::string_view text(FileId file) const { return files_[file.value].text; }
  /// The text of a span.
  std::string_view text(Span span) const;

  /// Where the byte at `offset` stands; offsets past the end count as the end.
  Position position(FileId file, std::uint32_t offset) const;
  /// How many lines the file has; a text that ends with a line end has no further empty line.
  std::uint32_t line_count(FileId file) const;
  /// The text of a line, counted from 1, without its line end; empty for a line that is not there.
  std::string_view line_text(FileId file, std::uint32_t line) const;

 private:
  struct File {
    std::string path;
    std::string text;
    std::vector<std::uint32_t> line_starts;  ///< offset of the first byte of each line, rising
  };
  std::vector<File> files_;
};

}  // namespace stepward::source
