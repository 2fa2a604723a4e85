#pragma once
// The failure-mode table in the forms of HFMEA and of IEC 60812 (columns of the latter from memory).

#include <string>
#include <vector>

#include "slips/failure_modes.hpp"

namespace stepward::emit {

enum class FailureForm : std::uint8_t { hfmea, iec_60812 };

std::string failure_modes_as_text(const slips::Table& table, const std::vector<slips::FailureMode>& modes, FailureForm form);
std::string failure_modes_as_csv(const slips::Table& table, const std::vector<slips::FailureMode>& modes, FailureForm form);
std::string failure_modes_as_json(const slips::Table& table, const std::vector<slips::FailureMode>& modes, FailureForm form);

}  // namespace stepward::emit
