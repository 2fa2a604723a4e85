#pragma once
// Which way a language is read. A paper in a language that is read from right to left is laid out the other way round as a whole:
// numbers and boxes to tick stand at the right, the binding margin too.

#include <string_view>

namespace stepward::emit {

/// By its BCP 47 tag, in any letters: by its script where that is named, or else by the script that it is commonly written in.
bool reads_right_to_left(std::string_view tag);

}  // namespace stepward::emit
