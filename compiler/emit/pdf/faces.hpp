#pragma once
// Faces: which galley stands on which side of paper, and how far down.
//
// Filled from the top, never cutting a galley. What keeps with its successor (a phase's name, a step and its question)
// moves to the next face together, as long as the group fits on one. A box or breach that fits on a face is
// never torn. A face that starts in the middle of something begins with a line that says of what.
// A poster has about as much on each of its faces: one that hangs beside the other with a single act is taken for a leftover.

#include <functional>
#include <string>
#include <vector>

#include "emit/document/document.hpp"
#include "emit/pdf/fault.hpp"
#include "emit/pdf/galley.hpp"

namespace stepward::emit::pdf {

struct Placed {
  std::size_t block = 0;
  double y = 0;
  bool repeated = false;  ///< captions that stood on the face before, too
};

struct Face {
  std::vector<Placed> placed;
  bool goes_on = false;   ///< of a badge card: its breach goes on on the next face
  std::string continued;  ///< "EXIT AREA · Apron"; empty: the face begins with something new
};

struct Room {
  double first = 0;      ///< height for galleys on the first face
  double next = 0;       ///< and on the others
  double continued = 0;  ///< of which a continuation line of one line takes this much, where there is one
  std::function<double(const std::string&)> continued_by;  ///< and with these words this much
};

std::vector<Face> fill_faces(const Sheet& sheet, const std::vector<Galley>& galleys, const Room& room,
                             Faults& faults);

}  // namespace stepward::emit::pdf
