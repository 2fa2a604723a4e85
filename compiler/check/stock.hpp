#pragma once
// How much of the kit a run can use, at most: what `before starting, have` has to cover.
//
// Stock guards nothing and is no part of a state; it is added up on the finished walk, over the run that uses most of
// each thing. Only runs that can happen count, so a branch that rules another one out is not added to it, a loop counts
// as often as it can go round, and an interruption once. A sketch, for wipes:
//
//     inspect hands ──soil──▶ clean soil (uses up 2) ──▶ inspect ──soil──▶ clean soil (uses up 2) ──▶ …      4 at most
//            └────no soil─────────────────────────────────────────────────────────────────────────────▶ …    0
//
// What a line uses, one unit of the thing each time:
//  - techniques what they `use up`, whenever their line is done;
//  - putting on a single-use item one, unless one was taken or passed before and lies ready: `helper passes 1 pair inner
//    gloves to wearer` and then `put on inner gloves` is one pair;
//  - `take N` and `pass N` N, but passing on what was taken uses nothing more;
//  - a reusable item is needed once for each person who puts it on.
// What lies ready is counted by lines, not by runs, and as the least on any way to the line; and a line that is passed
// over, since a handler did its work already, counts as done. So the number is exact but for these two, and never too low.

#include <cstdint>
#include <string>
#include <vector>

#include "effects/system.hpp"
#include "graph/graph.hpp"
#include "model/protocol.hpp"

namespace stepward::explore { struct Packed; struct Result; }

namespace stepward::check {

/// A thing that is counted: exactly one is set.
struct Kept {
  model::ItemId item;
  model::SupplyId supply;
  friend bool operator==(const Kept&, const Kept&) = default;
};

/// A line on the run that uses most, and how often it is done there.
struct StockUse { model::LineId line; std::uint32_t count = 0, times = 0; };

struct StockNeed {
  Kept thing;
  std::uint32_t needed = 0;
  bool listed = false;               ///< `before starting, have` names it
  std::uint32_t given = 0;
  source::Span at;                   ///< where it is listed; else the first line that uses it
  std::vector<StockUse> uses;        ///< by line, in the order of the run
};

/// "inner gloves" and "pair".
std::string kept_name(const model::Protocol& protocol, const Kept& thing);
std::string kept_unit(const model::Protocol& protocol, const Kept& thing);

/// Everything that one variant lists or uses. `result` must be complete and without cycles; `order` is explore::in_order of it.
std::vector<StockNeed> stock_needs(const model::Protocol& protocol, const graph::Graph& graph, const effects::System& system,
                                   const explore::Packed& packed, const explore::Result& result, const std::vector<std::uint32_t>& order);

}  // namespace stepward::check
