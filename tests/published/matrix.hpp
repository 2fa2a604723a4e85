#pragma once
// A published order under rules: which of them it keeps, breaks, or never comes to.
//
// A cell is what the published matrix prints:
//   ok  the rule holds            NO  it is broken, at the removals in `at`
//   =   it is broken by one movement that takes off both things the rule wants apart
//   –   the order never comes to it, or does without a thing that it speaks of
//
// "Does without" is read off the rule itself: every moment it names must be open to this outfit, that is, the wearer
// starts with something that it is about. Worked example: "eye cover before mask" in an outfit with a powered hood
// alone. No run takes off an eye cover, and the outfit has none: –, where "the mask came off without it" would be NO.

#include <string>
#include <string_view>
#include <vector>

#include "orders.hpp"

namespace stepward::published {

struct Cell {
  std::string_view sign;
  std::vector<std::string> at;          ///< removals that break it, in the order of the text: "off:gown+single gloves"
};

/// The matrix as published: its columns, and the sign at a row ("B1") and a column. Empty: it has no such cell.
const std::vector<std::string_view>& matrix_columns();
std::string_view published_cell(std::string_view row, std::string_view column);

/// The rule with this number in an order that was checked with it alone.
Cell cell_of(const Checked& checked, std::string_view number);

/// Numbers of all rules that the order breaks, in the order of their numbers.
std::vector<std::string> broken_rules(const Checked& checked);

}  // namespace stepward::published
