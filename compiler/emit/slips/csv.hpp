#pragma once
// A row of comma-separated values (RFC 4180): what holds a comma, a quote or a line's end is quoted, and lines end with CR LF.

#include <string>
#include <vector>

namespace stepward::emit {

std::string csv_row(const std::vector<std::string>& cells);

}  // namespace stepward::emit
