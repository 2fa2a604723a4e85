#pragma once
// Which way a language is read. A paper in a language that is read from right to left is laid out the other way round as a whole:
// numbers and boxes to tick stand at the right, the binding margin too.

#include <string_view>

namespace stepward::emit {

/// By BCP 47 tag: Arabic, Hebrew, Persian, Urdu and what else is written in those scripts and Syriac's and Thaana's.
bool reads_right_to_left(std::string_view tag);

}  // namespace stepward::emit
