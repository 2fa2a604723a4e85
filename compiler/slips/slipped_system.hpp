#pragma once
// One variant in the form that slips are tried on: lowered with all its ways, and walked without any.
//
// Rules are advice here, so that a run goes on where one is broken. The ways are open to everybody while the system is
// simplified, which so counts what comes of slips as possible; in the packed form no ordinary run can take them.

#include "explore/deviation.hpp"
#include "graph/numbering.hpp"
#include "graph/slip_ways.hpp"
#include "slips/table.hpp"

namespace stepward::slips {

struct SlippedSystem {
  graph::GraphWithSlips ways;
  std::vector<std::uint32_t> way_edges;   ///< by way: its packed edge
  effects::System whole;                  ///< before it is simplified, for stories
  effects::System system;
  explore::Packed packed;
  explore::Signs signs;
  graph::Course course;
};

/// `advised`: its rules are advice (rules/advice.hpp).
SlippedSystem slipped_system(const model::Protocol& advised, const model::Variant& variant);

}  // namespace stepward::slips
