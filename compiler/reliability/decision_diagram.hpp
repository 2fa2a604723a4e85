#pragma once
// The exact chance of a harm, by a decision diagram over its events.
//
// Inclusion and exclusion over n cut sets has 2^n terms. A decision diagram asks for one event after the other, "has it
// happened?", and two ways of asking come together where what is still open is the same. Here it is built from the top, one
// level an event, without recursion: what is open at a level are the cut sets that have begun (some event of theirs has
// happened, none has been missed), each reduced to what it still needs. Cut sets that have not begun are the same for everyone at that
// level, so they are not part of it.
//
//   cut sets a b, a c, c d; order a, c, b, d
//   level a: {}        a happened: {b}{c}    did not: {}
//   level c: {b}{c}    c happened: harm      did not: {b}
//            {}        c happened: {d}       did not: no harm, for nothing is open and nothing begins any more
//   level b: {b}       b happened: harm      did not: no harm
//            {d}       either way: {d}
//   level d: {d}       d happened: harm      did not: no harm
//
// How wide a level becomes, the order decides (event_order.hpp). Parts of the tree that share no event are kept apart, each with a
// diagram of its own; the harm is that any of them happens. A diagram that would be too large is refused (Why::too_large); the bounds
// of cut_sets.hpp remain.
//
// A diagram holds no chances: it is built once and evaluated often, in one sweep from the bottom.

#include <vector>

#include "reliability/cut_sets.hpp"

namespace stepward::reliability {

struct DecisionNode {
  std::uint32_t event = 0;        ///< that is asked for
  std::uint32_t happened = 0;     ///< position of the node to go on at
  std::uint32_t did_not = 0;
};

/// One part: nodes from the bottom up, the last is the top. Positions 0 and 1 mean "no harm" and "harm".
struct DecisionPart {
  std::vector<EventId> events;      ///< in the order in which they are asked for
  std::vector<DecisionNode> nodes;  ///< the first two stand for the ends and are never looked into
};

struct DecisionDiagram {
  bool certain = false;             ///< the empty cut set is among them
  std::vector<DecisionPart> parts;  ///< sharing no event
  std::vector<std::uint32_t> part_of;  ///< of each event; UINT32_MAX where it is in no cut set
};

/// How many nodes a diagram may have: a second or two. Orders that are mostly local stay far below; 250 lines with twenty checks shared at random
/// among them do not (a million nodes), and are left to the bounds.
constexpr std::size_t largest_diagram = 200'000;

/// Of a tree that came out of `minimal`.
Answer<DecisionDiagram> diagram_of(const HarmTree& tree, std::size_t most_nodes = largest_diagram);

/// With the chances of each event. They need not be those of the tree.
double chance_of_harm(const DecisionDiagram& diagram, const std::vector<double>& chances);
double chance_of_part(const DecisionPart& part, const std::vector<double>& chances);

}  // namespace stepward::reliability
