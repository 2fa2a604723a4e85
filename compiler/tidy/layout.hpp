#pragma once
// The tidy form of a tree that was read without errors. What it looks like is told in `tidy.hpp`.

#include <string>
#include <string_view>

#include "syntax/tree.hpp"

namespace stepward::tidy {

/// `text` is what `tree` was read from.
std::string lay_out(const syntax::Tree& tree, std::string_view text);

}  // namespace stepward::tidy
