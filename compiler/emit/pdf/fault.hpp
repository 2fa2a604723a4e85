#pragma once
// What keeps a sheet from being printed, as data: no file is written while there is one.

#include <cstdint>
#include <string>
#include <vector>

namespace stepward::emit::pdf {

struct Fault {
  enum class What : std::uint8_t {
    no_font,      ///< the font family is not installed
    no_glyph,     ///< the fonts have no sign for some letter
    too_wide,     ///< a word is wider than its column
    too_tall,     ///< a step or frame is taller than a whole face
    cannot_write  ///< the drawing library refused
  } what = What::cannot_write;
  std::string where;    ///< "step 12", "question Q3", "the foot"
  std::string text;     ///< the words that it is about
  std::string package;  ///< the Debian package that would help; empty: none would
  std::string paper;    ///< too_wide, too_tall: what it was set on, "A5"
  std::string fits_on;  ///< too_wide, too_tall: "A4 or Letter"; empty: nothing that the paper is printed on
};

/// "step 12: too long for one face of A5; it fits on A4": one sentence for a terminal.
std::string sentence(const Fault& fault);

using Faults = std::vector<Fault>;

}  // namespace stepward::emit::pdf
