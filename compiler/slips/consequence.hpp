#pragma once
// What a report says of a run on which somebody slipped: harm, something that everybody sees, or neither.
//
// A run that slipped is judged by physics, not by rules: a rule that is broken is what the slip consists of, and is told
// beside it. Two kinds of reports end such a run. Some say that the next line cannot be done, or that a question cannot
// be answered: then the slip has come to light and nobody is worse off. The others are harms; nobody at the bedside sees
// a clean hand become a hand that may carry.

#include "effects/system.hpp"
#include "explore/deviation.hpp"

namespace stepward::slips {

/// Whom or what the harm reaches, the worst first. Own order, not a published scale: common practice puts eyes, nose and
/// mouth before skin, and skin before what can be cleaned.
enum class Consequence : std::uint8_t { face, skin, clean_side, protection, left_open };

/// What a reader calls it: "face", "skin or clothing", "clean side", "protection", "left open".
std::string_view consequence_name(Consequence c);

explore::Weight weight_of(const model::Protocol& protocol, const effects::Report& report);
/// Of a report whose weight is harm.
Consequence consequence_of(const model::Protocol& protocol, const effects::Report& report);

}  // namespace stepward::slips
