#pragma once
// Chains in exact fractions of any size, for tests and for whoever wants to see 3/1997 instead of 0.0015.
//
// The fractions are GMP's: the numerators of a chain of a few dozen nodes pass 64 and 128 bits, and an overflow would not be seen.

#include <gmpxx.h>

#include "reliability/chain.hpp"
#include "reliability/decisions.hpp"

namespace stepward::reliability {

using ExactFraction = mpq_class;

/// In lowest terms; `whole` is not nought.
inline ExactFraction fraction(long part, long whole = 1) {
  ExactFraction result(part, whole);
  result.canonicalize();
  return result;
}

extern template Answer<Visits<ExactFraction>> visits_of(const Chain<ExactFraction>&);
extern template Answer<std::vector<ExactFraction>> worths_of(const Decisions<ExactFraction>&, const std::vector<Wanted<ExactFraction>>&, std::uint32_t);

}  // namespace stepward::reliability
