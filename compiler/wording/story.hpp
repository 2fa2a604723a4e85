#pragma once
// Findings of the walk in ward words: what a report is about, and the clauses of the story that leads there.
//
// Each reason for a change (`effects::Cause`) has one way of being said; a unit test holds that none lacks it. A clause
// is made to follow what happened: "wearer takes off the plastic apron: hands (outer gloves) meet the neck band, may
// carry". It therefore speaks of things that the line before the colon already named as "it" or by their part alone.
// Surfaces are named as declared, never numbered; rules are not named in stories at all, since the finding names them.
//
// Whose a thing is stands only where it is not the acting person's.

#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "effects/system.hpp"
#include "model/protocol.hpp"

namespace stepward::wording {

/// "plastic apron", "helper's inner gloves", "fresh inner gloves", "bare hands", "bench": without an article, as in
/// headlines.
std::string bearer_name(const model::Protocol& protocol, const effects::Bearer& bearer);
/// "hands (inner gloves)", "bare hands", "helper's hands (outer gloves)": what a person touches with.
std::string hand_name(const model::Protocol& protocol, const effects::Bearer& layer);
std::string person_name(const model::Protocol& protocol, model::RoleId role);
/// "clean", "may carry", "soiled".
std::string level_name(std::uint32_t level);

/// The arguments of a report's sentences, in the order that messages.def documents for its code.
std::vector<std::string> report_args(const model::Protocol& protocol, const effects::Report& report);

/// What changed and why.
struct ChangeInWords {
  effects::FieldMeaning field;
  std::uint32_t before = 0, after = 0;
  effects::Cause cause;
};

/// One change as a clause: "hands (outer gloves) meet the neck band, may carry". `named`: what the line has named
/// already. Empty for what no reader needs to hear, such as the order in which two layers lie.
std::string change_sentence(const model::Protocol& protocol, const ChangeInWords& change,
                            const std::vector<effects::Bearer>& named = {});

/// Of a disinfection that soil withstood.
inline constexpr std::string_view nothing_clean_under_soil = "under the soil nothing gets clean";
/// Of a note or declaration that is left out, where a finding hangs on it.
inline constexpr std::string_view not_gone_by = "what hangs on it is not done";

/// True if the line itself says this change: an apron taken off is off.
bool goes_without_saying(effects::Cause::What what);

/// How many words a reader counts in a sentence.
std::size_t count_words(std::string_view sentence);

}  // namespace stepward::wording
