#pragma once
// The sources of a protocol as lines that remember where they came from.
//
// A mutation takes a copy, moves and changes lines, and hands the text to the compiler. What the compiler then says of
// line 57 is said of the line that the author wrote as line 52: `Copies` knows which one that was, so an operator can say
// where its mistake has to be found in terms of the unedited text. The language has one statement a line, so whole lines
// are all that has to be moved.
//
// Files of the standard library are copied beside the others (a `use … standard "x"` becomes a `use … "x.ward"`), so
// that their lines can be edited like any other.

#include <compare>
#include <cstdint>
#include <string>
#include <vector>

#include "base/file_access.hpp"

namespace stepward::mutations {

/// A line of the unedited text: which file of `Copies`, and the line's number from 1. Number 0: a line that was put in.
struct Origin {
  std::uint32_t file = 0, line = 0;
  friend auto operator<=>(const Origin&, const Origin&) = default;
};

/// Lines [first, last] of one file, as numbered before any edit.
struct Range {
  std::uint32_t file = 0, first = 0, last = 0;
  bool holds(Origin o) const { return o.file == file && o.line >= first && o.line <= last; }
};

struct TextLine { std::string text; Origin origin; };

class Copies {
 public:
  /// The lines of a range as they are now.
  std::vector<TextLine> lines(const Range& range) const;
  void erase(const Range& range);
  /// Takes a range out and gives it back.
  std::vector<TextLine> cut(const Range& range);
  /// Puts lines in before or behind an original line, which must still be there.
  void put_before(Origin at, const std::vector<TextLine>& lines);
  void put_after(Origin at, const std::vector<TextLine>& lines);
  void put_at_end(std::uint32_t file, const std::vector<TextLine>& lines);
  /// Replaces a part of an original line; `column` counts bytes from 0.
  void replace(Origin at, std::size_t column, std::size_t length, const std::string& with);
  std::string& text_of(Origin at);

  /// Where a line of the edited text came from; `line` counts from 1.
  Origin origin(const std::string& path, std::uint32_t line) const;
  FilesInMemory as_files() const;
  /// The same into files that may hold others.
  void put_into(FilesInMemory& files) const;

  void add(std::string path, const std::string& text);
  const std::string& path(std::uint32_t file) const { return files_[file].path; }
  std::size_t size() const { return files_.size(); }
  std::vector<TextLine>& file(std::uint32_t at) { return files_[at].lines; }
  const std::vector<TextLine>& file(std::uint32_t at) const { return files_[at].lines; }

 private:
  struct File { std::string path; std::vector<TextLine> lines; };
  std::size_t index(Origin at) const;
  std::vector<File> files_;
};

/// The same lines as lines that were put in.
std::vector<TextLine> as_new(std::vector<TextLine> lines);
/// One new line.
TextLine new_line(std::string text);

}  // namespace stepward::mutations
