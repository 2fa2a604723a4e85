#pragma once
// A band as drawn pieces: one if it fits, several if it is higher than the sheet.
//
// A piece is what stands in a band's frame, as marks, with the words of its head; the frame itself is drawn when it is known how
// wide the column is (`framed`). Where a band is cut, no shape is: the cut lies where the fewest ways cross, and each way that is
// cut ends in a letter in a circle, with the step and the part at which it goes on; the next piece begins with the same letter, and with
// where it comes from; both ends say the answer that opens the way. A phase leads on to the next in the same manner, unless both stand below each other on one sheet, where
// whoever puts the pieces together joins them by a line. Sheets and the figures of a dossier are both made of these pieces.
//
//     ┌ Apron, part 1 / 2 ┐          ┌ Apron, part 2 / 2 ┐
//     │   …               │          │  from Q7: NO      │
//     │  ⟨Q7 soil?⟩       │          │  part 1           │
//     │    │ NO           │          │   (c)             │
//     │   (c)             │          │    │              │
//     │  NO: on at 14     │          │  14 TAKE OFF …    │
//     │  part 2           │          │    …              │
//     └───────────────────┘          └───────────────────┘

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
  std::string comes_from, goes_on;  ///< "from Apron", "on at 14: Gloves"; of phases, where a letter stands for the line
  std::size_t part = 1, parts = 1;  ///< of its band
  std::string part_title;         ///< "part 1 / 2"; empty: the band is whole
  std::vector<Mark> marks;        ///< from the left upper corner of what stands in the frame

  double framed_width() const;
  double framed_height() const;
};

/// All bands of a chart in their order, none higher than `highest` with its frame, unless something in it cannot be cut. Ids of
/// shapes begin with `prefix`.
std::vector<Piece> pieces_of(const PlacedChart& placed, double highest, const std::string& prefix, CutLetters& letters);

/// The pieces of one band, for whoever has a frame of his own: `room` is how high one may be. Ids have no prefix.
std::vector<Piece> pieces_of_band(const PlacedChart& placed, std::size_t band, double room, CutLetters& letters);

/// A letter in a circle at the way out of one piece and at the way in of another, with the words of both.
void join_by_letter(Piece& from, Piece& to, const std::string& letter);

/// The piece in a frame of this width, `shift` to the right in it, with its left upper corner there.
std::vector<Mark> framed(const Piece& piece, Point corner, double width, double shift);

/// Where in the frame the place of a piece lies.
Point in_frame(const Piece& piece, Point place, double shift);

}  // namespace stepward::emit::flow_chart
