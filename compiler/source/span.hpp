#pragma once
// Where something stands in the files that were read.
//
// A span is half open, counted in bytes of the file's text after a byte-order mark was dropped and line ends were
// made plain. Lines and columns are worked out by `source::Files` only when somebody has to read them.

#include <cstdint>

#include "base/id.hpp"

namespace stepward::source {

struct FileTag;
/// One file that was read, in the order of reading.
using FileId = Id<FileTag>;

struct Span {
  FileId file;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;

  friend bool operator==(const Span&, const Span&) = default;
};

}  // namespace stepward::source
