#pragma once
// A protocol as FHIR R4 PlanDefinition, for a hospital's record system.
//
// Made from the protocol itself and not from a graph, because actions of a plan nest as blocks do: a phase, a routine's call,
// an arm of a question are groups of actions, and what stands in a group is done in its order (`relatedAction`, after the
// end of the one before). A question is a group of which exactly one arm is done; each arm has its condition. Whether it
// holds is for the people at the bedside to say, so its expression only asks for their answer:
//
//     %`Apron.if-soil-on-plastic-apron` = 1        the first arm was taken
//
// in FHIRPath, with the question's own id as the name of a variable that the host fills, and the words beside it. A loop
// is an action that is done several times until its stop condition holds; an interruption is an action of its own with
// a trigger. Who does a step is a participant; contact times and waits are its timing; sources of techniques and agents are
// its documentation, those of the rules stand with the plan. The status comes from document control.

#include <string>
#include <vector>

#include "graph/numbering.hpp"
#include "model/protocol.hpp"

namespace stepward::emit::fhir {

/// One PlanDefinition for one variant; for several a Bundle (type collection) of them. `courses`: the numbers that the card of
/// each has. JSON, ending in a line end.
std::string as_plan_definition(const model::Protocol& protocol, const std::vector<model::Variant>& variants, const std::vector<graph::Course>& courses);

}  // namespace stepward::emit::fhir
