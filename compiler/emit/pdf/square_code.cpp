#include "emit/pdf/square_code.hpp"

#include <qrencode.h>

#include <memory>

namespace stepward::emit::pdf {

namespace {

constexpr int quiet_modules = 4;  // the standard asks for four light modules all round

/// Neighbouring dark modules of a row are one run, so that no printer leaves a seam between them.
void draw_runs(cairo_t* c, const QRcode& code, double module) {
  const auto is_dark = [&](int row, int column) { return column < code.width && (code.data[row * code.width + column] & 1) != 0; };
  for (int row = 0; row < code.width; ++row) {
    for (int column = 0; column < code.width;) {
      int end = column;
      while (is_dark(row, end)) ++end;
      if (end > column) {
        cairo_rectangle(c, (column + quiet_modules) * module, (row + quiet_modules) * module, (end - column) * module, module);
        cairo_fill(c);
      }
      column = std::max(end, column + 1);
    }
  }
}

}  // namespace

bool add_square_code(Galley& galley, const std::string& text, double x, double y, double side) {
  const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());
  const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
      QRcode_encodeData(static_cast<int>(text.size()), bytes, 0, QR_ECLEVEL_M), QRcode_free);
  if (!code) return false;
  const cairo_rectangle_t extents{0, 0, side, side};
  // Every face shows it; as a picture its two hundred runs are written once, and not once a face.
  const Picture picture(cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, &extents), cairo_surface_destroy);
  cairo_t* c = cairo_create(picture.get());
  draw_runs(c, *code, side / (code->width + 2 * quiet_modules));
  cairo_destroy(c);
  galley.picture(x, y, side, side, picture);
  return true;
}

}  // namespace stepward::emit::pdf
