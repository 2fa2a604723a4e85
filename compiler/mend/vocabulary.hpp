#pragma once
// The lines that a protocol already speaks in, by what they do.
//
// Whoever writes a protocol has settled who looks, what hands are disinfected with and how soil is cleared. A new line has
// to say it the same way, so it is put together from what the lines of this protocol name, and from nothing else. A list
// is in the order of use, the commonest first, and of equals the one that stands first in the text.

#include <optional>
#include <string>
#include <vector>

#include "mend/outline.hpp"
#include "model/protocol.hpp"

namespace stepward::mend {

class Vocabulary {
 public:
  Vocabulary(const model::Protocol& protocol, const Outline& outline) : p_(protocol), outline_(outline) {}

  /// The role of that name; none: whoever acts by default.
  model::RoleId role_called(const std::string& name) const;
  /// How a finding's name for a thing is written on a line: "helper's gown" as "gown of helper"; a variant's item first
  /// by the choice that it is a value of, so that one line serves every variant.
  std::vector<std::string> names_of(const std::string& thing) const;

  /// "disinfect hands with strong chlorine", "helper disinfects hands with …".
  std::vector<std::string> hands_disinfected_by(model::RoleId who) const;
  std::vector<std::string> disinfecting(const std::string& thing) const;
  /// "observer inspects gown for soil or tear".
  std::vector<std::string> looks_at(const std::string& thing, const std::string& findings) const;
  std::vector<std::string> removals_of(const std::string& thing) const;
  /// What answers the finding on a thing: as other branches of the protocol do, and as its declaration says.
  std::vector<std::string> answers_to(const std::string& finding, const std::string& thing) const;
  std::vector<std::string> recording(const std::string& record, model::RoleId who) const;
  /// "move to exit area", for each place and each person who moves.
  std::vector<std::string> ways() const;
  /// The questions that ask what was found: "if tear on gown".
  std::vector<std::string> questions() const;
  /// The lines of the text with this verb, and the calls of routines that hold such a line.
  std::vector<std::string> lines_that(model::VerbKind verb) const;
  std::vector<std::string> calls_that(model::VerbKind verb) const;

 private:
  /// "helper disinfects" or, of whoever acts by default, "disinfect".
  std::string doing(model::RoleId who, const char* verb, const char* third) const;
  std::vector<model::AgentId> agents(bool on_bare_hands) const;
  std::vector<model::RoleId> doers_of(model::VerbKind verb) const;
  std::string with(model::AgentId agent) const;

  const model::Protocol& p_;
  const Outline& outline_;
};

/// The verb of the lines that bring an event about; none: no line does.
std::optional<model::VerbKind> verb_of(model::Event::What event);

}  // namespace stepward::mend
