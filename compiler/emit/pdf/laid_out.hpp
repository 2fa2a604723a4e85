#pragma once
// A sheet as it lies on its faces: which words and shapes stand where, in which type. What the layout rules are held against.
//
// Told from the same composition that the PDF is drawn from; nothing is read back from a picture. All measures are points, from the top
// left corner of the face. Owned by whoever asked; it outlives sheet and composition.

#include <string>
#include <vector>

#include "emit/document/document.hpp"
#include "emit/pdf/fault.hpp"
#include "emit/pdf/paper.hpp"

namespace stepward::emit::pdf {

struct Rectangle {
  double left = 0, top = 0, right = 0, bottom = 0;

  double width() const { return right - left; }
  double height() const { return bottom - top; }
};

/// One text that was set in one piece, of one or more lines.
struct LaidText {
  std::string words;
  Rectangle where;                    ///< as wide as its longest line, from the top of the first line to the foot of the last
  double size = 0;                    ///< of the type
  int lines = 0;
  std::vector<std::string> by_line;   ///< the words as lines part them
  double pitch = 0;                   ///< from one line's foot to the next one's; a single line has its height
  std::vector<std::string> families;  ///< of the fonts that its letters come from
  bool white = false;                 ///< on a dark ground
  std::string tag;                    ///< its structure tag: "H2", "Lbl", "LBody"…
};

enum class Mark : std::uint8_t { rule, frame, round_frame, corner_frame, disc, hatch, square_code };

struct LaidMark {
  Mark what = Mark::rule;
  Rectangle where;
  double line = 0;  ///< thickness of a frame, distance of hatch lines
  double thick = 0; ///< of hatch lines, measured as their distance is: what part of the ground they cover is thick / line
  double shade = 0; ///< 0 black, 1 white
};

enum class Part : std::uint8_t { head, continued, block, foot };

struct LaidPart {
  Part part = Part::block;
  std::size_t block = 0;  ///< position in `Sheet::blocks`, of blocks only
  bool repeated = false;  ///< captions of a table that stood on the face before, too
  Rectangle where;
  std::vector<LaidText> texts;
  std::vector<LaidMark> marks;
};

struct LaidFace { std::vector<LaidPart> parts; };

struct LaidOut {
  Look look{};
  std::vector<LaidFace> faces;
  Faults faults;
};

/// The sheet on a paper. With faults, as far as it could be laid out.
LaidOut lay_out(const Sheet& sheet, Paper paper);

}  // namespace stepward::emit::pdf
