#pragma once
// Sources as a finding names them. How far a source was checked is said with it, so that nobody takes what was recalled
// for what was read.

#include <string>
#include <vector>

#include "model/things.hpp"

namespace stepward::wording {

/// "WHO 2014, annex G", "as another tells it: …", "only from memory: …", "only common practice", "decided here: …".
std::string source_phrase(const model::Source& source);

/// The best that a statement rests on: what was read before what another tells, that before memory, common practice and what
/// was decided locally. Empty where there is none.
std::string best_source_phrase(const std::vector<model::Source>& sources);

}  // namespace stepward::wording
