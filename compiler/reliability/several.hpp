#pragma once
// Several independent chances at once: at least one slip, or more than a given number.
//
// A walk with up to k slips is complete up to k and says nothing about more. "More than k" is what bounds the rest: with it, a
// chance of harm lies between what was found with up to k slips and that plus `more_than(k, …)`. Worked example: 30 lines, each left
// out with 0.003: at least one 0.0862, more than one 0.0037, so a figure from single slips alone misses at most 0.0037.

#include <vector>

#include "reliability/answer.hpp"

namespace stepward::reliability {

/// 1 - product of (1 - chance), exact to the last digits for small chances too.
Answer<double> at_least_one(const std::vector<double>& chances);

/// That more than `limit` of them happen.
Answer<double> more_than(std::size_t limit, const std::vector<double>& chances);

}  // namespace stepward::reliability
