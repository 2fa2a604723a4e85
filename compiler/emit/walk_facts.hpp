#pragma once
// What the papers need to know of the walk. Made by the driver from the walk's result; papers never walk.
//
// Everything may be left empty: then a card says "your hands" instead of "your hands (inner gloves)", and the foot says
// that nothing was checked.

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "check/stock.hpp"
#include "graph/arm_place.hpp"
#include "model/protocol.hpp"
#include "slips/weak_points.hpp"

namespace stepward::emit {

/// The outermost thing on somebody's hands: an item, or none for bare hands.
using HandLayer = model::ItemId;

struct WalkFacts {
  /// By line, of the person who does it: every layer that some path of this variant has there *before* the line acts.
  std::map<model::LineId, std::vector<HandLayer>> hands_before;
  /// The same after the line acted.
  std::map<model::LineId, std::vector<HandLayer>> hands_after;
  /// Lines at which a rule is not kept that is set aside there: its number, and the whole of what was agreed.
  struct SetAside { std::string number, agreed; };
  std::map<model::LineId, std::vector<SetAside>> set_aside;
  /// Lines at which one slip alone comes to harm; empty where nobody asked for them.
  std::map<model::LineId, slips::WeakPoint> weak_points;
  /// Answers that no run gives, wherever they are asked for, and lines that none comes to; empty where it is not known.
  std::set<graph::ArmPlace> arms_never;
  std::set<model::LineId> lines_never;
  /// All that the document lists or a run uses, and how much; empty unless `stock_known`.
  std::vector<check::StockNeed> stock;
  bool stock_known = false;
  /// A whole sentence: "checked against R01 to R26: 9 variants, 123 456 states, complete".
  std::string verdict;
  /// Findings of severity error exist: every face carries the word DRAFT.
  bool has_errors = false;
  /// Not everything is said in the paper's language: the same.
  bool half_said = false;
  /// The day of the run is past the day of review: every face carries the word OVERDUE.
  bool is_overdue = false;
};

}  // namespace stepward::emit
