#pragma once
// An act in one line of plain text: "TAKE OFF the apron", "STOP. Breathe slowly."

#include <string>
#include <string_view>

#include "wording/step_text.hpp"

namespace stepward::emit {

/// Verb and rest; a rest that opens with a mark stands close up to the verb.
inline std::string act_line(const wording::Act& act) {
  if (act.rest.empty()) return act.verb;
  const bool close_up = std::string_view(",.:;").find(act.rest[0]) != std::string_view::npos;
  return act.verb + (close_up ? "" : " ") + act.rest;
}

}  // namespace stepward::emit
