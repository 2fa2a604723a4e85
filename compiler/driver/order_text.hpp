#pragma once
// Orders in words: which one was taken, how many others the rules allow, and which rule keeps the rest out.
//
// A reason stands in the words of whoever wrote the rule. Nothing here calls an order safe: it says what was walked.

#include <string>

#include "driver/pipeline.hpp"

namespace stepward::driver {

std::string orders_as_text(const Compilation& made);
std::string orders_as_json(const Compilation& made);

}  // namespace stepward::driver
