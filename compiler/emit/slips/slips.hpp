#pragma once
// The table of slips for a reader, for a spreadsheet and for other software.
//
// The text begins with what was tried and under which assumptions, then tells the points of weakness, the worst first,
// each with the shortest run to harm; then what is held back by one check alone; then the rest by what shows it. Nothing is left
// out of csv and json.

#include <string>

#include "slips/table.hpp"
#include "source/files.hpp"

namespace stepward::emit {

std::string slips_as_text(const slips::Table& table, const source::Files& files);
std::string slips_as_csv(const slips::Table& table, const source::Files& files);
std::string slips_as_json(const slips::Table& table, const source::Files& files);

}  // namespace stepward::emit
