#pragma once
// What can happen at each step, and which rules it can break, read off the lowered effects of a variant.

#include <map>
#include <set>
#include <string>

#include "emit/graph/step_graph.hpp"
#include "graph/graph.hpp"

namespace stepward::emit::step_graph {

struct StepFacts {
  std::map<model::LineId, std::set<Effect>> effects;   ///< on some run, from some state
  std::map<model::LineId, std::set<std::string>> rules;
};

StepFacts facts_of_steps(const model::Protocol& protocol, const graph::Graph& graph);

}  // namespace stepward::emit::step_graph
