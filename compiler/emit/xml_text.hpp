#pragma once
// Text as XML 1.0 (and everything that is read like it) can hold it.

#include <string>
#include <string_view>

namespace stepward::emit {

/// The same text with U+FFFD, the mark for a character that is not shown, in place of each character that XML forbids and
/// of each byte that is no UTF-8; line ends and tabs become spaces. Nothing is left out.
std::string xml_text(std::string_view text);

}  // namespace stepward::emit
