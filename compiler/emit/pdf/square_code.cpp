#include "emit/pdf/square_code.hpp"

#include "emit/document/square_code.hpp"

namespace stepward::emit::pdf {

bool add_square_code(Galley& galley, const std::string& text, double x, double y, double side) {
  const SquareCode code = square_code(text);
  if (code.width == 0) return false;
  const double module = side / code.width, dark = side - 2 * SquareCode::quiet * module;
  const cairo_rectangle_t extents{0, 0, dark, dark};
  // Every face shows it; as a picture its two hundred runs are written once, and not once a face.
  const Picture picture(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extents), cairo_surface_destroy);
  cairo_t* c = cairo_create(picture.get());
  for (const DarkRun& run : code.runs) {
    cairo_rectangle(c, (run.column - SquareCode::quiet) * module, (run.row - SquareCode::quiet) * module, run.length * module, module);
    cairo_fill(c);
  }
  cairo_destroy(c);
  galley.picture(x, y, dark, dark, picture);
  return true;
}

}  // namespace stepward::emit::pdf
