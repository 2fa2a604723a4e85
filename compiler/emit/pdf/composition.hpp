#pragma once
// A sheet composed for one size of paper: which galley stands where on which face, before anything is drawn.
//
// The PDF is drawn from it and the laid-out document (laid_out.hpp) is told from it, both by `standing_on`, so that what is measured
// is what is printed. Page references change the length of lines and so, rarely, where things stand: composing goes on until nothing
// moves any more. Sheet and options must outlive the composition.

#include <map>
#include <string>
#include <vector>

#include "emit/pdf/block_setter.hpp"
#include "emit/pdf/faces.hpp"
#include "emit/pdf/laid_out.hpp"

namespace stepward::emit::pdf {

/// One galley on a face, with its top left corner there.
struct Standing {
  Part part = Part::block;
  std::size_t block = 0;  ///< position in `Sheet::blocks`, of blocks only
  bool repeated = false;  ///< it stood on the face before, too
  double x = 0, y = 0;
  Galley galley;
};

class Composition {
 public:
  /// Faults are appended to `faults`, which must outlive the composition. `paper` must be one that the kind is printed on.
  Composition(const Sheet& sheet, Paper paper, Faults& faults);

  const Look& look() const { return look_; }
  int faces() const { return static_cast<int>(faces_.size()); }
  /// What stands on a face, from 1, in reading order.
  std::vector<Standing> standing_on(int face);
  /// Draws a face with its top left corner at the origin.
  void draw_face(cairo_t* surface, int face, const std::string& watermark);

 private:
  void compose();
  bool place();
  int face_of(const std::string& label) const;
  bool leads_on(int face) const;
  Galley turned(Galley galley) const;

  const Sheet& sheet_;
  Look look_;
  Typesetter type_;
  BlockSetter setter_;
  Galley first_head_, next_head_, foot_;
  std::vector<Galley> galleys_;
  std::vector<Face> faces_;
  std::vector<int> block_faces_;
  std::map<std::string, int> label_faces_;
  Faults too_tall_;
};

}  // namespace stepward::emit::pdf
