#pragma once
// Mends in words: what was found, the lines to write and where, what they cost, and what that rests on.
//
// The lines stand as they would be typed, between the lines that are there, with the numbers of the file on disk. Nothing
// here recommends: it says what was walked, and that somebody else decides.

#include <string>

#include "mend/search.hpp"

namespace stepward::driver {

std::string mends_as_text(const mend::Result& result, const std::string& file, std::size_t limit);
std::string mends_as_json(const mend::Result& result, const std::string& file, std::size_t limit);

}  // namespace stepward::driver
