#pragma once
// Where an answer to a question stands in the source: what a walk found of it can be told of every chart that draws it.
//
// A course and the graph of a walk are made apart from each other, with their own numbers; one routine is many nodes of the
// graph and one box of the course. The place in the source is what both know. Where an author wrote no `otherwise` there is
// one all the same: it stands behind the last arm that was written.

#include <compare>
#include <cstdint>

#include "source/span.hpp"

namespace stepward::graph {

struct ArmPlace {
  std::uint32_t file = 0, begin = 0;
  bool is_behind = false;  ///< the `otherwise` that nobody wrote
  friend auto operator<=>(const ArmPlace&, const ArmPlace&) = default;
};

inline ArmPlace place_of_arm(source::Span arm) { return {arm.file.value, arm.begin, false}; }
inline ArmPlace place_behind(source::Span last_arm) { return {last_arm.file.value, last_arm.begin, true}; }

}  // namespace stepward::graph
