#pragma once
// The dilution card of a protocol: what stands on the wall where mixtures are made.
//
// One part for each disinfectant that some step of some variant uses: how it is made, in the proportion of the protocol and in buckets,
// how strong that is, what it is for and never for, how long things stay wet, how long it keeps, and blanks for who made it when. What
// is used as it comes stands there too, so that nobody dilutes it. The arithmetic is mixture/recipe.hpp, as for `stepward mix`.

#include <optional>

#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// A finished card with its check words; none: no step uses anything that is mixed. `source.variant` and `source.course` are not asked.
std::optional<Sheet> dilution_card(const PaperSource& source);

}  // namespace stepward::emit
