#pragma once
// Sets lines of text with Pango, always in the same way: pinned families, no hinting, no rounding of positions.
//
// Fonts are named in order; what Noto Sans lacks comes from its sisters, never from whatever else a machine has. A
// missing family, a missing glyph and a word wider than its column become faults, named by the block being set.
//
// What was set before in the same way is not set again: layouts are shared, within one thread, and nobody changes one.

#include <cairo.h>
#include <pango/pangocairo.h>

#include <memory>
#include <string>

#include "emit/document/document.hpp"
#include "emit/pdf/fault.hpp"

namespace stepward::emit::pdf {

enum class Align : std::uint8_t { start, centre, end };

struct Style {
  double size = 12;
  int weight = 400;  ///< 400 plain, 600 half bold, 700 bold; strong runs are always 700
  Align align = Align::start;
  double tracking = 0;  ///< extra space between letters, for capitals
};

using Layout = std::shared_ptr<PangoLayout>;

struct Extent {
  double width = 0, height = 0;
};

class Typesetter {
 public:
  /// Faults are appended to `faults`, which must outlive the typesetter. `right_to_left`: lines begin at the right, and "start" is there.
  explicit Typesetter(Faults& faults, bool right_to_left = false);

  bool right_to_left() const { return right_to_left_; }

  /// What the next texts belong to, for faults.
  void in(std::string where) { where_ = std::move(where); }
  const std::string& where() const { return where_; }

  /// Sets `text` to `width` points; a width below zero: on one line, however long. The layout is for reading only.
  Layout set(const Text& text, const Style& style, double width);
  Layout set(const std::string& text, const Style& style, double width) {
    return set(Text{{text, false, ""}}, style, width);
  }

  static Extent extent(const Layout& layout);
  /// From the top of a text to the line that its first letters stand on.
  static double baseline(const Layout& layout);

 private:
  void look_at_family();
  PangoAlignment side_of(PangoLayout* layout, Align align) const;
  Layout shape(const Text& text, const Style& style, double width);
  void look_at_glyphs(PangoLayout* layout, const std::string& text);

  Faults& faults_;
  std::string where_;
  bool right_to_left_ = false;
  PangoContext* context_;  ///< of this thread
};

}  // namespace stepward::emit::pdf
