#pragma once
// A galley: one block set to the width of the paper, ready to be placed on a face, never to be cut.
//
// It is a list of inks with positions from its own top left corner, so that its height is known before anything is
// drawn, and drawing is nothing but going through the list. Black only; the one shade is the hairline's grey.

#include <memory>
#include <string>
#include <vector>

#include "emit/pdf/typesetter.hpp"

namespace stepward::emit::pdf {

/// Drawn once and shown wherever it is wanted: a PDF holds it a single time.
using Picture = std::shared_ptr<cairo_surface_t>;

struct Ink {
  enum class What : std::uint8_t { text, rule, frame, round_frame, corner_frame, disc, hatch, bar, picture } what = What::text;
  double x = 0, y = 0, width = 0, height = 0;
  double line = 1;        ///< thickness of rules and frames; distance of hatch lines
  double thick = 1;       ///< of hatch lines
  Layout layout;          ///< text
  Picture picture;
  bool white = false;     ///< white text on a disc or bar
  double shade = 0;       ///< 0 black, 1 white
  const char* tag = "P";  ///< PDF structure tag of a text
  bool mirrored = false;  ///< corner_frame: its square corner is the right one
};

struct Galley {
  std::string where;  ///< "step 12", for faults
  std::string label;  ///< what other blocks refer to it by
  double height = 0;
  double above = 0;  ///< space that is dropped at the top of a face
  bool keeps_with_next = false;
  std::string outline;     ///< entry in the table of contents; empty: none
  bool list_item = false;  ///< tagged as an item of a list
  bool table_row = false;  ///< tagged as a row of a table
  std::vector<Ink> inks;

  /// Adds a text at (x, y) and returns its height.
  double text(double x, double y, Layout layout, const char* tag = "P", bool white = false);
  void rule(double x, double y, double wide, double line, double shade = 0);
  void picture(double x, double y, double wide, double high, Picture picture);
  /// Slanting lines of this thickness, so far apart.
  void hatch(double x, double y, double wide, double high, double apart, double thick);
  void shape(Ink::What what, double x, double y, double wide, double high, double line = 1);
};

/// Turns a galley of that width the other way round, as faces in a script from right to left want it; no letter is mirrored.
void mirror(Galley& galley, double width);

/// Draws a galley with its top left corner at (x, y).
void draw(cairo_t* surface, const Galley& galley, double x, double y);

}  // namespace stepward::emit::pdf
