#pragma once
// Layered layout by Graphviz (emit/layout/library.hpp), out of reach of its faults. Built only where that library is.
//
// Sketches are placed in child processes, which answer through pipes, for Graphviz 2.42 has two faults that end a process:
//
//  - `decompose` (dotgen) tells what it has visited by a mark of one byte that is counted on through the whole process. When it comes round
//    it meets the value that another pass leaves on nodes, skips parts of the graph, and freed memory is read: seen at the 257th and
//    the 512th call, after 105 to 210 layouts. A new process begins to count anew, and none places more than `most_of_a_child`.
//  - the router of polylines (`makeMultiSpline`, neatogen) writes behind its list of edges on some crowded sketches with lanes,
//    also on the very first. The sketch whose child has ended is placed once more, with straight ways, which need no router.
//
// Both were found with valgrind and gdb on sketches of up to 40 boxes at random; where another fault ends a child, it is told and nothing
// else is lost. The drawing of a sketch depends on no other, so that two children work side by side. No thread may run while one is started.

#include <optional>
#include <string>
#include <vector>

#include "emit/layout/sketch.hpp"

namespace stepward::driver {

/// Sketches that one process places at most: with three marks each it stays below half of what a byte counts.
constexpr std::size_t most_of_a_child = 40;

/// Places sketches, in their order. None: one could not be, and `why` says what the library said.
std::optional<std::vector<emit::layout::Drawing>> place_layered(const std::vector<emit::layout::Sketch>& sketches, std::string& why);

}  // namespace stepward::driver
