#pragma once
// A packed system as Promela with C in it: the fastest form of this graph that SPIN was found to take.
//
// tests/spin writes a system in plain Promela, a guarded option an edge; that form shares nothing with the packed one
// and serves to compare results. As a yardstick of speed it would be unfair: SPIN would try the options of every place
// in every state. Here SPIN stores the same words that the walk stores, and guards and operations are C that gcc
// compiles, while the walk reads them from tables:
//
//     c_state "unsigned long w[6]" "Global"
//     active proctype walk() {
//       d_step { c_code { begin(); } };
//     end: do
//       :: d_step { c_expr { may(0) } -> c_code { go(0); } }       the first edge of wherever the run stands
//       :: d_step { c_expr { may(1) } -> c_code { go(1); } }       …
//       od
//     }
//
// SPIN stores two states more: the one before the first step, and the one where runs end.

#include <string>

#include "explore/packed.hpp"

namespace stepward::bench {

struct PackedPromela {
  std::string model;
  std::string steps;  ///< what the model includes as "steps.h": SPIN takes no long pieces of C
};

/// Of a system in which nothing is forgotten.
PackedPromela as_promela(const explore::Packed& packed);

}  // namespace stepward::bench
