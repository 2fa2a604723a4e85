#include "emit/xml_text.hpp"

#include "base/text.hpp"

namespace stepward::emit {
namespace {

constexpr std::string_view not_shown = "\xEF\xBF\xBD";

/// U+FFFE and U+FFFF are UTF-8, but no characters.
bool is_no_character(std::string_view at) { return at.substr(0, 3) == "\xEF\xBF\xBE" || at.substr(0, 3) == "\xEF\xBF\xBF"; }

std::string with_whole_bytes(std::string_view text) {
  std::string whole;
  while (!text.empty()) {
    const std::size_t bad = text::first_bad_byte(text);
    whole += text.substr(0, bad);
    if (bad == std::string_view::npos) break;
    whole += not_shown;
    text.remove_prefix(bad + 1);
  }
  return whole;
}

}  // namespace

std::string xml_text(std::string_view text) {
  const std::string whole = with_whole_bytes(text);
  std::string shown;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    const auto byte = static_cast<unsigned char>(whole[i]);
    if (byte == '\t' || byte == '\n' || byte == '\r') {
      shown += ' ';
    } else if (byte < 0x20) {
      shown += not_shown;
    } else if (byte == 0xEF && is_no_character(std::string_view(whole).substr(i))) {
      shown += not_shown;
      i += 2;
    } else {
      shown += whole[i];
    }
  }
  return shown;
}

}  // namespace stepward::emit
