#pragma once
// The smallest set of rules that no order keeps together, where each smaller one can be kept.
//
// What is asked without a rule is asked always: nobody can take off what lies under something else to keep a rule. The walk goes on behind
// broken rules, so of every order all the rules are known that it breaks, and a set is tried by asking for these rules only:
//
//     order 1 breaks {3.1}, order 2 breaks {3.2, 4}, order 3 breaks {3.2}:    3.1 and 3.2 collide; 4 has no part in it

#include <vector>

#include "order/open_walk.hpp"

namespace stepward::order {

/// `advised`: a walk with rules as advice. Empty: what needs no rule is broken in every order, or every rule can be kept.
std::vector<Breach> smallest_collision(const Orders& advised);

}  // namespace stepward::order
