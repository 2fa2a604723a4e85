#pragma once
// A key that two blocks share when a reader would be told to do the same things in both.
//
// Routine calls are resolved where they stand, so one routine called twice is two blocks with lines of their own. The
// numbering prints such blocks once, as a box, if nothing a reader could see tells them apart. The key is made from
// everything a line carries but its place in the source.

#include <string>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::graph {

/// The key of a block in one variant; lines and blocks that the variant leaves out do not count. Things in `named` (the
/// arguments of a routine's call) count as "it": one box serves all calls whose lines then read the same.
std::string block_key(const model::Protocol& protocol, const model::Variant& variant, model::BlockId block,
                      const std::vector<model::Thing>& named);

}  // namespace stepward::graph
