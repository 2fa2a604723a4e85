#pragma once
// What a slip is called, in the words of those who make it and in those of a hazard study.

#include <string_view>

#include "graph/slip_ways.hpp"

namespace stepward::wording {

/// "left out", "too early", "time not kept": what stands before the line in a story and in a table.
std::string_view slip_name(graph::SlipKind kind);
/// "no", "before", "less": the guide word of IEC 61882 that the slip stands for (from memory).
std::string_view guide_word(graph::SlipKind kind);

}  // namespace stepward::wording
