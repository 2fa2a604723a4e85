#pragma once
// Is this a text at all? Looked at before the grammar reads a single character.
//
// A file may come from a word processor, a scanner, a damaged disk or a wrong button. Each such case gets one finding
// that says what the file is, and nothing else is said about it.

#include <string_view>

#include "parse/findings.hpp"
#include "source/span.hpp"

namespace stepward::parse {

/// Files above this size are refused: sixty-four megabytes, a thousand times the longest protocol.
inline constexpr std::size_t largest_file = std::size_t{64} << 20;

/// True when `text` can be read: not empty, not too large, valid UTF-8 without zero bytes. Otherwise reports why.
bool is_readable_text(source::FileId file, std::string_view text, Findings& findings);

}  // namespace stepward::parse
