#pragma once
// A change to a source, as lines: what somebody would write, and where.
//
// A mend is shown to a person who then edits the file, so it is made of whole lines of text and not of a changed model:
// what is re-checked is exactly what would be typed. One shape serves all of them:
//
//     insert   write `lines` in front of line `before`
//     move     take the lines `first`…`last` out of their place, and write them in front of line `before`
//     branch   put a question around lines, or make one question into two: `lines` stand in place of `first`…`last`
//
// No change loses a line: what is taken out of its place is among `lines`, a little further in or out at most, and what a
// divided question no longer says ("otherwise if") it says as "end if" and "if". `Text` remembers for every line which
// line of the file on disk it was, so that findings of the changed text can be held against those of the text before.

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace stepward::mend {

struct Change {
  enum class Kind : std::uint8_t { insert, move, branch } kind = Kind::insert;
  std::string path;
  std::uint32_t before = 0;           ///< counted from 1, in the text that is changed
  std::vector<std::string> lines;     ///< with their margins
  std::uint32_t first = 0, last = 0;  ///< move, branch: the lines that leave their place; 0: none
  std::uint32_t written = 0;          ///< how many lines somebody has to type
  friend bool operator==(const Change&, const Change&) = default;
};

/// One line, and the number it has in the file on disk; 0: it is not there.
struct TextLine {
  std::string text;
  std::uint32_t origin = 0;
};
using Text = std::vector<TextLine>;

Text text_of(std::string_view plain);
std::string joined(const Text& text);
/// The text with the change made.
Text changed(const Text& text, const Change& change);

/// The margin of a line, and what follows it without blanks at its end.
std::string margin_of(std::string_view line);
std::string without_margin(std::string_view line);

/// All texts that differ from the disk, by path.
using Texts = std::map<std::string, Text>;

}  // namespace stepward::mend
