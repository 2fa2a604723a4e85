#pragma once
// The words of one line, with the blanks between them as they should be.
//
// What is a blank is known to the grammar; here it is whatever stands between two tokens of a line that was read
// without errors. Heads, ends and the first line consist of letters, digits and commas of plain ASCII, so there a blank
// is any other byte.

#include <string>
#include <string_view>

#include "syntax/tree.hpp"

namespace stepward::tidy {

/// The head and the phrase of a statement.
std::string statement_words(const syntax::Node& node, std::string_view text);

/// `end` and what it closes. Words behind it, which have no meaning, are kept as written.
std::string end_words(const syntax::Node& node, std::string_view text);

/// Words of plain ASCII, one space between them whatever blanks were there; those in front and behind are dropped.
std::string plain_words(std::string_view written);

/// The blanks between a line and the remark behind it; `before` ends where the remark begins. Two spaces at least.
std::string gap_before_remark(std::string_view before);

std::string without_blanks_behind(std::string_view line);

}  // namespace stepward::tidy
