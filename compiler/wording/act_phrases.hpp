#pragma once
// The act of a line as every paper names it, made from the model alone. See step_text.hpp.

#include <string>

#include "wording/step_text.hpp"

namespace stepward::wording {

/// "TAKE OFF" + "the plastic apron", addressed to the person who does it.
Act act_phrase(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line,
               const Setting& setting);

/// What the doer says back: "Taking off the plastic apron."
std::string echo_phrase(const model::Tongue& tongue, const Act& act);
/// A text addressed to the doer, as the doer says it: "your hands" is "my hands".
std::string said_of_self(const model::Tongue& tongue, std::string text);
/// The same, told of a doer who is not spoken to: "your hands" is "own hands".
std::string said_of_other(const model::Tongue& tongue, std::string text);

/// Cuts off the first sentence; `rest` takes what follows.
std::string first_sentence(const std::string& text, std::string& rest);

/// "soil or a tear", from the library's phrases.
std::string findings_phrase(const model::Protocol& protocol, const std::vector<model::FindingId>& findings);

/// A number of things in its parts: "3", "pairs" (empty: by the piece) and "inner gloves".
struct Counted { std::string count, unit, name; };
Counted counted_apart(const model::Protocol& protocol, const model::Variant& variant, std::uint32_t count, const model::Thing& thing);

/// "1 pair of inner gloves", "30 chlorine wipes" as the source counts them.
std::string counted_phrase(const model::Protocol& protocol, const model::Variant& variant, std::uint32_t count,
                           const model::Thing& thing, bool anew = false);

/// A body of words as an act: "open the flap" is "OPEN" + "the flap".
Act act_from_text(const std::string& text);

}  // namespace stepward::wording
