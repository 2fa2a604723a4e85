#pragma once
// What a slip is called, in the words of those who make it and in those of a hazard study.

#include <string>
#include <string_view>
#include <vector>

#include "graph/slip_ways.hpp"
#include "wording/phrases.hpp"

namespace stepward::wording {

/// "left out", "too early", "time not kept": what stands before the line in a story and in a table.
std::string_view slip_name(graph::SlipKind kind);
/// "left out, clumsy" as authors write it; "every slip" where there are none.
std::string slips_said(const std::vector<graph::SlipKind>& kinds);
/// A slip on papers, in any language.
Phrase slip_phrase(graph::SlipKind kind);
/// `slips_said` on papers.
std::string slips_in_words(const model::Tongue& tongue, const std::vector<graph::SlipKind>& kinds);
/// "no", "before", "less": the guide word of IEC 61882 that the slip stands for (from memory).
std::string_view guide_word(graph::SlipKind kind);

}  // namespace stepward::wording
