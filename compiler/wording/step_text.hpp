#pragma once
// The default wording of an action line, from what the library declares (meaning.md 10).
//
// A line's text is the first that exists of its own `say`, the technique's and the verb's words for the kind of thing,
// the verb's words otherwise. `spoken`, `watch`, `if not` and `warning` fall back each by itself. The *act* ("TAKE OFF
// the apron") is always made from the model, so that no text can lose the verb or the thing; a text that opens with the
// same verb in capitals brings its own. Contact time, bin, zone and who acts are fields of the paper, never part of the
// text.
//
// What the compiler itself says on papers stands in `phrases.def`, in English and in no other place.

#include <string>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::wording {

/// What the wording has to know beside the line.
struct Setting {
  /// The hand layers that the paths have at this line: "your hands (inner gloves)", "your hands (outer gloves or inner gloves)".
  std::vector<model::ItemId> hands;
  /// Things that the text before has named, as a box's call does: they are "it".
  std::vector<model::Thing> named;
  /// What is put on, taken or passed here is not what the person wore before: "the new inner gloves".
  bool anew = false;
  /// Nobody is spoken to: "the wearer’s hands" where it would be "your hands".
  bool by_name = false;
  /// Hands that are nobody's by name are those of the person who acts: so in a question.
  bool of_acts = false;
};

/// An act: the verb that is printed in bold capitals and the rest of the phrase.
struct Act {
  std::string verb, rest;
};

struct StepText {
  Act act;             ///< "TAKE OFF", "the plastic apron"
  std::string manner;  ///< the way of doing it, without the act; may be empty
  std::string words;   ///< the whole text as the wearer reads it; empty: no words reach this line (an X finding)
  std::string spoken;  ///< what the observer reads aloud
  std::string echo;    ///< what the wearer says back: "Taking off the plastic apron."
  std::string watch, if_not, warning;
  bool says_own = false;  ///< the line has a `say`
  bool tells_only_how = false;  ///< nobody has words for the verb, so `spoken` says at most how it is done
};

StepText step_text(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line,
                   const Setting& setting);

/// "the outer gloves", "the cuff of the inner gloves", "your hands (inner gloves)".
std::string thing_phrase(const model::Protocol& protocol, const model::Variant& variant, const model::Thing& thing,
                         const Setting& setting);
/// `anew`: another one of the kind than was worn before.
std::string item_phrase(const model::Protocol& protocol, model::ItemId item, bool anew = false);

/// A question without its mark: "soil or a tear on the outer gloves", "the outer gloves are still on".
std::string condition_phrase(const model::Protocol& protocol, const model::Variant& variant,
                             const model::Condition& condition, const Setting& setting = {});
/// The same as a question in print: "Soil or a tear on the outer gloves?"
std::string question_phrase(const model::Protocol& protocol, const model::Variant& variant,
                            const model::Condition& condition, const Setting& setting = {});

/// "1 min", "90 s", "24 h".
std::string duration_phrase(model::Duration time);
/// "at least 2 min, at most 5 min": how long a line takes, or a timer runs, where it says so; else empty.
std::string length_phrase(const model::Tongue& tongue, const model::Line& line);
/// How long this line's surfaces stay wet; zero: not a disinfection, or the agent has no time for them.
model::Duration contact_time(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line,
                             const Setting& setting);

/// True when both phrases mean the same thing, wherever they stand in the source.
bool same_thing(const model::Thing& a, const model::Thing& b);

std::string capitalised(std::string text);
/// "a, b and c" (or "a, b or c"), in English.
std::string joined(const std::vector<std::string>& parts, const char* last_joint);
/// The same as a paper says it.
std::string all_of(const model::Tongue& tongue, const std::vector<std::string>& parts);
std::string any_of(const model::Tongue& tongue, const std::vector<std::string>& parts);

/// What a declared thing is called: its own phrase, else "the" and its name.
std::string called(const model::Tongue& tongue, const model::Named& named);

}  // namespace stepward::wording
