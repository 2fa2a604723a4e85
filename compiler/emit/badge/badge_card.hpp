#pragma once
// The badge card: the first three acts of everything that may strike at any time, to be carried behind a name badge.
//
// Made from the breach card, with its numbers and its words, and as correct as that one: an act that is done only after some answer
// says so in front of it ("Is the wearer in the care room? YES: GO to the exit area": observer and helper carry the card as well). Where a question cannot be said so, because an answer
// leads somewhere else than to the next act or asks again, the card stops: answers would stand on other faces than their question. What is
// left out is told: the number at which the breach card goes on. Two faces are one card; when there is more to say
// than two faces hold, faces 3 and 4 are a second card, and nothing is dropped.

#include <optional>

#include "emit/document/document.hpp"
#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// So many acts of each breach stand on the badge card.
constexpr int acts_on_badge = 3;

/// None where nothing strikes.
std::optional<Sheet> badge_card(const PaperSource& source);

}  // namespace stepward::emit
