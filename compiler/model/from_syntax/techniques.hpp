#pragma once
// Whether a technique is for what a line does with it.

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {

/// Reports items of `things` for which `technique` is no way to `use` them, in any variant that meets `where`; warns
/// where it handles a surface that the item does not have. Several things are one set.
void check_technique(Context& context, TechniqueId technique, TechniqueUse use, const std::vector<Thing>& things,
                     const VariantCondition& where, source::Span at);

/// The usual technique of all these items, where it is one and the same; reports items that come off and have none.
/// None where the values of a choice differ: `technique_of` tells it for each variant.
TechniqueId usual_technique(Context& context, TechniqueUse use, const std::vector<Thing>& things,
                            const VariantCondition& where, source::Span at);

/// Reports a usual technique that is not for its own item.
void check_usual(Context& context, ItemId item);

}  // namespace stepward::model::reading
