#pragma once
// The register of copies against the papers that there are: what is listed wrongly, and which copies are out of date.
//
// A copy is held against the paper as it would be printed now. Its check words decide, if the register has them; without them its
// version; without either nobody can tell from here, and the words have to be compared where it hangs.

#include <string>
#include <vector>

#include "driver/pipeline.hpp"
#include "emit/recall/recall_list.hpp"

namespace stepward::driver {

/// Reports copies of papers, variants and languages that there are none of.
void check_copies(Compilation& made);

/// Of every copy, in the order of the register. The protocol has to be walked.
std::vector<emit::CopyState> copy_states(const Compilation& made);

/// The register as text, what is out of date first.
std::string copies_text(const Compilation& made, const std::vector<emit::CopyState>& states);

}  // namespace stepward::driver
