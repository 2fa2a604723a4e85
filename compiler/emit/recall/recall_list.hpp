#pragma once
// The recall list: every copy of the register, where it hangs, and whether it is the paper that would be printed now.
//
// Somebody goes round with it, takes down what is out of date, ticks it, and writes down who hung the new one. What hangs where is known
// from the protocol's own register (`copies`); what is current, from the check words of the papers as they are now. The list is
// no paper of the ward's work: nothing that it says stands on any other paper.

#include <optional>
#include <string>
#include <vector>

#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// What is known of a copy of the register, in the order of `Protocol::copies`.
struct CopyState {
  enum class What : std::uint8_t { current, outdated, not_known } what = What::not_known;
  std::string paper;      ///< "Breach card"
  std::string variant;    ///< empty: it is made once, or there are no choices
  std::string words_now;  ///< check words of the paper as it is now; empty: there is none
};

/// Nothing if the protocol has no register. `source.variant` and `source.course` are not asked.
std::optional<Sheet> recall_list(const PaperSource& source, const std::vector<CopyState>& states);

}  // namespace stepward::emit
