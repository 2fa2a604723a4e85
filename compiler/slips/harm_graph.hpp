#pragma once
// How likely one doing of a procedure comes to each kind of harm, on the graph of its states.
//
// Some slips have a chance, given by whoever asks. At a state where such a line comes next, a run slips there with that chance and else goes on as written;
// so every state is a turn with chances. What is found at a look, what is decided, and who of two people comes first has no chance that anybody
// knows: these turns are open, and whatever way they fall, the chance lies between `least` and `most` (reliability/decisions.hpp).
//
// Runs are followed with up to two slips, so a node of the graph is a state and the slips made so far:
//
//     no slip      ○ → ○ → ○ → ○ → ○
//                      ╲q
//     one slip          ● → ● → ● → ● → no harm
//                            ╲q
//     two slips               ● → ● → harm
//                                  ╲q
//     a third                       beyond: counted as no harm in `least`, as every harm in `most`
//
// So both bounds are sound, whatever more than two slips come to, and `beyond` says how much of the interval is due to that.
//
// A run is over where it comes to harm, and without harm where something shows the slip: a line that cannot be done, a look that finds what was missed,
// the ending, or a confirm, which sees a slip unless it is missed (`unseen`, given that somebody slipped). What is done then, and slipped at then, is not in it.
//
// Worked example: gloves, a rub, goggles; each is left out with q, p = 1 - q. Gloves off, rub left out, goggles off: harm, p q p. Both the gloves
// and the rub left out: harm as well, q q p. Gloves left out and the rub not: that cannot be done, and shows. Least p q p + q q p.

#include <array>
#include <cstdint>
#include <vector>

#include "reliability/answer.hpp"
#include "slips/consequence.hpp"
#include "slips/slipped_system.hpp"

namespace stepward::slips {

/// Of one way (graph/slip_ways.hpp), each time a run stands where it begins.
struct WayChance {
  double slips = 0;   ///< nought: nobody slips there
  double unseen = 1;  ///< that its confirm is missed; 1: it has none
};

struct Bounds { double least = 0, most = 0; };

/// So many slips of a run are followed.
constexpr unsigned most_slips_followed = 2;

struct HarmBounds {
  std::array<Bounds, 5> by_harm;  ///< by Consequence; a run comes to one at most
  Bounds any;
  double beyond = 0;              ///< the most that a third slip is made, before which nothing was harmed or seen
  std::uint64_t states = 0;       ///< with the slips made so far
};

/// `kinds`: by report of the packed system; of those whose weight is harm. Why::does_not_add_up (slips of a line have more than 1 together),
/// Why::outside_0_to_1, Why::too_large (more states than `limit`). Without what may happen at any time.
reliability::Answer<HarmBounds> harm_bounds(const SlippedSystem& made, const std::vector<Consequence>& kinds, const std::vector<WayChance>& ways, std::uint64_t limit);

/// By report of the packed system.
std::vector<Consequence> harm_kinds(const model::Protocol& advised, const SlippedSystem& made);

}  // namespace stepward::slips
