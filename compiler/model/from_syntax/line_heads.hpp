#pragma once
// The head of an action line: who does what.
//
// The verb is looked for at the head of the line and behind every person's name that could stand there; each place
// that fits is cut with the frame of its verb, and all readings are weighed together.

#include "model/from_syntax/steps.hpp"

namespace stepward::model::reading {

/// A line whose verb is settled and whose rest is cut.
struct Chosen {
  VerbKind verb = VerbKind::act;
  RoleId who;                            ///< none: the line names nobody
  std::size_t verb_at = 0, rest_at = 0;  ///< tokens: where the verb begins, and what follows it
  Reading reading;
};

/// Finds the one reading of a line; reports why there is none, or more than one.
std::optional<Chosen> choose_verb(Context& context, const Node& node, const std::vector<std::uint32_t>& parameters);

}  // namespace stepward::model::reading
