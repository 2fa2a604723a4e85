#pragma once
// How often each place of a procedure is come to, and where it ends, when every turn has a chance.
//
// A *chain* is a graph whose arcs carry the chance that they are taken. A node without arcs is an exit. One number a node answers
// everything that is asked: how many times a run comes there on average. At an exit, where a run can come only once, that is
// the chance to end there; summed over the other nodes it is the length of a run.
//
// Worked example, "if it is found soiled, do it again": the line goes wrong with 3/1000, the check misses half of that.
//
//   line -> exposed 3/2000 · line -> line 3/2000 · line -> clean 997/1000
//
//   the line is come to 1 / (1 - 3/2000) = 2000/1997 times; exposed 3/1997, clean 1994/1997.
//
// How: nodes that lie on no common loop are dealt with one after the other in topological order, and what flows in is passed on. Nodes on
// loops with each other (a strongly connected part) are solved together, by taking out one node after the other: what went through
// it goes directly, and its own chance to leave is the *sum* of what leads elsewhere, never 1 less something (Grassmann, Taksar and
// Heyman 1985). So no digit is lost to subtraction, and a chance of 1e-9 has as many right digits as one of a half. The same code
// works for exact fractions (exact_chain.hpp). Iterating until little changes would not be sound, and is not done.
//
// Owned by whoever asked. Nodes are known by position.

#include <vector>

#include "base/id.hpp"
#include "reliability/answer.hpp"

namespace stepward::reliability {

struct NodeTag;
using NodeId = Id<NodeTag>;

template <class Number>
struct Arc {
  NodeId from, to;
  Number chance;
};

template <class Number>
struct Chain {
  std::size_t nodes = 0;
  NodeId start;
  std::vector<Arc<Number>> arcs;  ///< out of each node that has any they sum to 1
};

template <class Number>
struct Visits {
  std::vector<Number> times;  ///< how often each node is come to; the start counts as come to once
  std::vector<NodeId> exits;  ///< the nodes without arcs
  Number moves;               ///< arcs taken until an exit
  Number ended;               ///< over all exits: 1, for fractions exactly
};

/// The most nodes on loops with each other that are solved together. Loops of a procedure are bounded and have few.
constexpr std::size_t largest_loop = 20'000;

/// Why::unknown_node, Why::outside_0_to_1 (about "from to"), Why::does_not_add_up (about the node; by more than 1e-12 for doubles; also when
/// the exits do not sum to 1 within that), Why::never_ends (about a node of the loop), Why::too_large (a loop).
template <class Number>
Answer<Visits<Number>> visits_of(const Chain<Number>& chain);

extern template Answer<Visits<double>> visits_of(const Chain<double>&);

}  // namespace stepward::reliability
