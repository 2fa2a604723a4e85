#pragma once
// Works out where each entry of a course goes on. Part of the numbering; see numbering.hpp.

#include "graph/numbering.hpp"

namespace stepward::graph {

/// Fills `go_on` of every entry and `first` and `go_on` of every fork.
void find_targets(Course& course);

}  // namespace stepward::graph
