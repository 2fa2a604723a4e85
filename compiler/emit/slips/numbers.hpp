#pragma once
// What the weak points weigh against each other, as text and as json. Bands of one figure, never points, with the sentence that they
// compare drafts; every figure that was used stands below with its source and mark.

#include <string>

#include "slips/numbers.hpp"

namespace stepward::emit {

/// `before`: the numbers of an older draft, reckoned in the same way; null: none.
std::string numbers_as_text(const slips::Table& table, const slips::NumbersRequest& request, const slips::Numbers& numbers, const slips::Numbers* before);
std::string numbers_as_json(const slips::Table& table, const slips::NumbersRequest& request, const slips::Numbers& numbers, const slips::Numbers* before);
/// Why nothing was reckoned, in one sentence.
std::string refusal_in_words(const reliability::Refusal& refusal);

}  // namespace stepward::emit
