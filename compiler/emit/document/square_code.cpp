#include "emit/document/square_code.hpp"

#include <qrencode.h>

#include <algorithm>
#include <memory>

namespace stepward::emit {

namespace {

constexpr int quiet_modules = SquareCode::quiet;

void add_dark_runs(const QRcode& code, int row, std::vector<DarkRun>& runs) {
  for (int column = 0; column < code.width;) {
    int end = column;
    while (end < code.width && (code.data[row * code.width + end] & 1)) ++end;
    if (end > column) runs.push_back({row + quiet_modules, column + quiet_modules, end - column});
    column = std::max(end, column + 1);
  }
}

}  // namespace

SquareCode square_code(const std::string& text) {
  const auto* bytes = reinterpret_cast<const unsigned char*>(text.data());
  const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
      QRcode_encodeData(static_cast<int>(text.size()), bytes, 0, QR_ECLEVEL_M), QRcode_free);
  SquareCode square;
  if (!code) return square;
  square.width = code->width + 2 * quiet_modules;
  for (int row = 0; row < code->width; ++row) add_dark_runs(*code, row, square.runs);
  return square;
}

}  // namespace stepward::emit
