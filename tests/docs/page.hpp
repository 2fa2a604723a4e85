#pragma once
// A page of docs/findings/, taken apart.
//
// A page holds fenced blocks. A ```ward block is a source file; the words behind `ward` name it (`gloves.ward`), and
// without a name it is the file that is checked, `example.ward`. Blocks before the heading "## Mended" make up the
// failing example, those after it the mended one. The first ```text block is what the tool prints for the failing one.
// In a block marked `escaped`, \x41 stands for that byte, so that a page can show what is no text at all.
// "Checked on 2031-05-01" on a line of its own gives the example a day; "Asked with --witness AH1" asks what a rule does.

#include <map>
#include <string>

namespace stepward::test {

using SourceFiles = std::map<std::string, std::string>;

struct Page {
  SourceFiles failing, mended;
  std::string printed;                             ///< the text block as it stands on the page
  std::size_t printed_begin = 0, printed_end = 0;  ///< where it stands, to write it anew
  std::string today;
  std::string witness;
  bool has_printed = false;
};

Page take_apart(const std::string& text);

/// The bytes of a file; empty if it is not there.
std::string read_file(const std::string& path);

}  // namespace stepward::test
