#pragma once
// Takes out of a system what can never happen, and puts back what can never be asked again.
//
// Lowering writes every case: a hand that may be any glove, a surface that may be covered by anything. At a given line
// most cases are impossible. Two classic analyses over the step graph find out which:
//
//   *possible values* (forwards): which values can a field have where a run stands? Guards that cannot hold take their
//   operation with them, and tests that always hold are dropped from guards. An interruption comes back with the values
//   of only those fields that its lines may write; all others are as they were where it struck.
//
//   *still asked* (backwards): which fields can a later operation read? Writing a field that nothing reads any more is
//   left out. The walk is told by node what is still asked and empties the other fields wherever a run stands, so that
//   two runs which differ only in what nobody asks again become one state. Within an interruption that is what its own
//   lines ask and what is asked at the very place that it comes back to, not at any place that it might come back to
//   (still_asked.hpp).
//   What is worn, and where people are, is never forgotten: papers and stories read it off the states.
//
// The first changes no state at all. The second merges states and is left out when states are to be counted.

#include "effects/system.hpp"

namespace stepward::effects {

/// Drops what cannot happen, and, where `forget`, what nothing asks. Afterwards every standing place has strikes of its
/// own, cut down to what can happen there. `modes`: fields of two values by which what is still asked is told apart.
void simplify(System& system, bool forget, const std::vector<FieldId>& modes);

/// Drops what cannot happen on the ways between lines, for whoever reads those and walks nothing; strikes stay as they are.
void drop_impossible(System& system);

}  // namespace stepward::effects
