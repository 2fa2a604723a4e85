#pragma once
// A band as drawn pieces: one if it fits, several if it is higher than the sheet.
//
// A piece is what stands in a band's frame, as marks, with the words of its head; the frame itself is drawn when it is known how
// wide the column is (`framed`). Where a band is cut, no shape is: the cut lies where the fewest ways cross, and each way that is
// cut ends in a letter in a circle; the next piece begins with the same letter. A phase leads on to the next in the same
// manner, unless both stand below each other on one sheet, where whoever puts the pieces together joins them by a line.
//
//     ┌ Apron ─────┐          ┌ Apron, continued ┐
//     │   …        │          │   (c)            │
//     │  ⟨soil?⟩   │          │    │             │
//     │    │       │          │  14 TAKE OFF …   │
//     │   (c)      │          │    …             │
//     └────────────┘          └──────────────────┘

#include <string>
#include <vector>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/picture.hpp"

namespace stepward::emit::flow_chart {

/// Letters for ways that are cut: a, b … z, aa, ab …
class CutLetters {
 public:
  std::string next();

 private:
  std::size_t count_ = 0;
};

struct Piece {
  Band::What what = Band::What::phase;
  std::string title;
  std::vector<std::string> hint;  ///< in lines, below the title
  double width = 0, height = 0;   ///< of what stands in the frame
  double main_way = 0;            ///< how far from the left it runs
  bool is_led_to = false;         ///< a phase that another leads on to, at `in`
  bool leads_on = false;          ///< to the next phase, at `out`
  Point in, out;
  std::vector<Mark> marks;        ///< from the left upper corner of what stands in the frame

  double framed_width() const;
  double framed_height() const;
};

/// All bands of a chart in their order, none higher than `highest` with its frame, unless something in it cannot be cut. Ids of
/// shapes begin with `prefix`.
std::vector<Piece> pieces_of(const PlacedChart& placed, double highest, const std::string& prefix, CutLetters& letters);

/// A letter in a circle at the way out of one piece and at the way in of another.
void join_by_letter(Piece& from, Piece& to, const std::string& letter);

/// The piece in a frame of this width, `shift` to the right in it, with its left upper corner there.
std::vector<Mark> framed(const Piece& piece, Point corner, double width, double shift);

/// Where in the frame the place of a piece lies.
Point in_frame(const Piece& piece, Point place, double shift);

}  // namespace stepward::emit::flow_chart
