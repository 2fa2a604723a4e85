#pragma once
// Findings of the walk in ward words: what a report is about, and the numbered story that leads there.
//
// Each change of a level has exactly one sentence, keyed by why it changed (`effects::Cause`). A story line names who,
// what and which item in at most fourteen words, and no surface or rule by number. At most twelve lines: steps in the
// middle of a long story are folded.

#include "diagnostics/diagnostic.hpp"
#include "effects/system.hpp"
#include "model/protocol.hpp"

namespace stepward::wording {

/// "hands (inner gloves)", "the neck band of the plastic apron", "the face of the wearer".
std::string bearer_name(const model::Protocol& protocol, const effects::Bearer& bearer);
std::string surface_name(const model::Protocol& protocol, const effects::Bearer& bearer, std::uint8_t part);
std::string person_name(const model::Protocol& protocol, model::RoleId role);
/// "clean", "may carry", "soiled".
std::string level_name(std::uint32_t level);

/// The arguments of a report's sentences, in the order that messages.def documents for its code.
std::vector<std::string> report_args(const model::Protocol& protocol, const effects::Report& report);

/// One change as a clause: "hands (outer gloves) meet the neck band, may carry".
std::string change_sentence(const model::Protocol& protocol, const effects::System& system, const effects::FieldMeaning& field,
                            std::uint32_t before, std::uint32_t after, const effects::Cause& cause);

}  // namespace stepward::wording
