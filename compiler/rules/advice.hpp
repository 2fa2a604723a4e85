#pragma once
// A protocol whose rules are advice: a walk then sees behind the place where one is broken, instead of ending there.

#include "model/protocol.hpp"

namespace stepward::rules {

/// `protocol` with every rule as advice.
model::Protocol with_rules_as_advice(const model::Protocol& protocol);

}  // namespace stepward::rules
