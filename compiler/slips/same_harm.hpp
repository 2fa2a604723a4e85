#pragma once
// Rows that say one weak point twice.
//
// Goggles that come off before the rub in front of them, a rub that is left out and one whose time is not kept bring the same dirt to the same eyes.
// Whoever reads the table wants to know of it once. The row of the line that is left out says it; where that one is held back, the row of the time that is
// not kept. Two rows are the same only where, in each variant of the one, both come to the same harm at the same line.

#include <string>
#include <vector>

#include "slips/table.hpp"

namespace stepward::slips {

/// Sets `same_as` of rows that come to harm. A row that is answered is not the same as one that is open.
void join_same_harm(const model::Protocol& protocol, Table& table);

/// "wearer takes off the goggles or face shield" of two sentences that differ in the middle; one sentence as it is, none as "".
std::string one_sentence(const std::vector<std::string>& alternatives);

}  // namespace stepward::slips
