#pragma once
// The kit list of a variant: what has to be there before the first step, to be ticked off while it is laid out.
//
// How much is the check's own reckoning (check/stock.hpp): the worst run, with all branches and every interruption once; or
// what the document lists, if that is more. Whatever of it is used behind an answer, in a box or in a breach only is told by itself,
// so that a stores clerk sees why three pairs are asked for. Where a thing is used is what the wearer's card says of those steps.

#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// A finished list with its check words.
Sheet kit_list(const PaperSource& source);

}  // namespace stepward::emit
