#pragma once
// What would answer a finding, in the words of the ward.
//
// A finding says what is missing ("hands may carry and reach the face", "nobody has looked at the gown for a tear"), and
// for most codes that names the line which was forgotten. The words come from the protocol itself wherever it has them:
// the agent that its hands are disinfected with, the person who looks, the routine that clears soil. So what is offered
// reads like the lines around it. Nothing here knows whether a line helps; the walk of the changed text says that.
//
// Never wanted, whatever the finding: an ending, a rule set aside, a local change, a line or a look that is no longer done.

#include <cstdint>
#include <set>
#include <string>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "mend/outline.hpp"
#include "model/protocol.hpp"

namespace stepward::mend {

/// Lines that might answer a finding; those behind the first carry the margin that they have within them.
struct Want {
  std::vector<std::string> lines;
  std::uint32_t rank = 0;        ///< the likeliest first
};

struct Wants {
  std::vector<Want> lines;       ///< to be written somewhere before
  std::vector<std::string> looked;  ///< of a finding: the things it was found on; a look at one of them is where lines go
  std::vector<Want> under;       ///< to be written where the first of `asked` was found
  std::vector<std::string> asked;      ///< questions of the protocol: "if soil on gown"
  std::vector<std::string> questions;  ///< to be put around the line that the finding stands at: "if gown is worn"
  std::set<model::VerbKind> verbs;     ///< lines that do such a thing may stand in the wrong place
  bool moves = true;             ///< lines may be moved: not to make a clock show what it should
};

/// `findings`: all, since one look may answer several of them. `doer`: of the line that the finding stands at; may be none.
Wants wants_of(const diagnostics::Diagnostic& finding, const diagnostics::Sink& findings, const model::Protocol& protocol,
               const Outline& outline, model::RoleId doer);

/// Whether a change of the steps can clear such a finding at all.
bool is_of_the_walk(diagnostics::Code code);

}  // namespace stepward::mend
