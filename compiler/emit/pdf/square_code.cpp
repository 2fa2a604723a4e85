#include "emit/pdf/square_code.hpp"

#include <qrencode.h>

#include <memory>

namespace stepward::emit::pdf {

namespace {

constexpr int quiet_modules = 4;  // the standard asks for four light modules all round

}  // namespace

bool add_square_code(Galley& galley, const std::string& text, double x, double y, double side) {
  const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());
  const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
      QRcode_encodeData(static_cast<int>(text.size()), bytes, 0, QR_ECLEVEL_M), QRcode_free);
  if (!code) return false;
  const double module = side / (code->width + 2 * quiet_modules);
  for (int row = 0; row < code->width; ++row) {
    // Neighbouring dark modules are drawn as one run, so that no printer leaves a seam between them.
    for (int column = 0; column < code->width;) {
      int end = column;
      while (end < code->width && (code->data[row * code->width + end] & 1)) ++end;
      if (end > column) {
        galley.rule(x + (column + quiet_modules) * module, y + (row + quiet_modules) * module, (end - column) * module,
                    module);
      }
      column = std::max(end, column + 1);
    }
  }
  return true;
}

}  // namespace stepward::emit::pdf
