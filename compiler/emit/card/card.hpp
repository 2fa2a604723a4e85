#pragma once
// The wearer's card: what the person in the equipment does, step by step, for one variant.
//
// The reader is the person who acts. Lines of other people keep their numbers: a look becomes "stand still" with who
// looks at what, other lines are addressed to the person who does them. The card never speaks as the observer.

#include <optional>

#include "emit/document/document.hpp"
#include "emit/paper_parts.hpp"
#include "emit/walk_facts.hpp"
#include "graph/numbering.hpp"
#include "model/protocol.hpp"

namespace stepward::emit {

/// Whose a line is that names nobody; empty where there is nobody else.
std::string no_name_words(const PaperSource& source, wording::Phrase which = wording::Phrase::no_name);

/// What stands on the card, in reading order: other papers that follow the wearer's steps are made from it.
std::vector<Block> card_blocks(const PaperSource& source);

/// The person whom the card is named after, and whom other papers send back to it.
std::string named_after(const model::Protocol& protocol);

/// A finished card with its check words. `written` is the protocol in its author's words, from which `course` must have been
/// made for the same variant; `protocol` is the same, or a translation of it.
Sheet wearers_card(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course,
                   const WalkFacts& facts, const model::Protocol& written);

/// What may strike at any time, on a card by itself with a red edge: the same lines under the same numbers as on the wearer's card.
/// None where nothing strikes.
std::optional<Sheet> breach_card(const PaperSource& source);

}  // namespace stepward::emit
