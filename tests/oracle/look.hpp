#pragma once
// Questions between lines: section 4, "Questions … are not lines".

#include "step.hpp"

namespace stepward::oracle {

/// Answers a question from what is known, worn, declared, recorded, decided and where people are; says F201 and F202.
bool answer(Step& step, const Condition& condition);

}  // namespace stepward::oracle
