#pragma once
// Whether two texts say the same: the same statements in the same blocks, the same words, texts and remarks.

#include <string_view>

#include "syntax/tree.hpp"

namespace stepward::tidy {

/// Each tree with the text that it was read from. Where things stand does not count, nor which quote marks enclose a text.
bool same_reading(const syntax::Tree& a, std::string_view text_a, const syntax::Tree& b, std::string_view text_b);

}  // namespace stepward::tidy
