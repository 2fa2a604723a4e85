#pragma once
// Rules become memory: each rule is compiled into a few fields and into operations at the moments it speaks of.
//
// Lowering leaves a marker at every moment that a rule may name ("wearer takes off the apron" is *asked*; a hand met
// the neck band; the gloves are disinfected). Weaving goes through the markers in order and puts test, clear and set
// behind each one that matches, so the walk needs to know nothing about rules.
//
// Worked example, pattern 1, "before each anyone takes off any item, require that person disinfects hands, since hands
// of that person touch anything unclean": one field a person, 0 at the start.
//   at  P disinfects the hand (happens)           set   clean(P) := 1
//   at  P's hand meets something unclean          set   clean(P) := 0
//   at  P takes off anything (asked)              report when clean(P) = 0

#include "effects/from_graph.hpp"

namespace stepward::rules {

/// Weaves every rule of the protocol into `lowered`. A rule that no moment can ever put to the test is listed.
std::vector<model::RuleId> weave(const model::Protocol& protocol, effects::Lowered& lowered, effects::HoldBack hold_back);

/// The graph lowered, every rule of the protocol woven in.
effects::Lowered woven(const model::Protocol& protocol, const graph::Graph& graph, effects::HoldBack hold_back);

}  // namespace stepward::rules
