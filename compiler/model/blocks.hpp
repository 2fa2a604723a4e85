#pragma once
// Which blocks lie inside others: what a phase or a call holds, with everything that is called in it.

#include <vector>

#include "model/protocol.hpp"

namespace stepward::model {

/// By block: whether it is one of `outer` or lies inside one.
std::vector<bool> blocks_within(const Protocol& protocol, const std::vector<BlockId>& outer);

}  // namespace stepward::model
