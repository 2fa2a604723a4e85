#pragma once
// The English of findings.
//
// Whoever detects something makes a `diagnostics::Diagnostic` with a code and its arguments; the sentences stand in
// `messages.def`, one entry a code, where a clinician can review them in one place. The functions here pick the entry
// and fill its gaps: `{0}` takes the first argument, `{1}` the second, and so on. A gap with no argument is left as
// "…", so a wrong count shows on the page instead of ending the program. An argument that holds a list is joined by
// whoever made it. `{0:is|are}` takes the first word if argument 0 names one thing, the second if it names several.

#include <string>
#include <string_view>
#include <vector>

#include "diagnostics/diagnostic.hpp"

namespace stepward::wording {

/// The unfilled sentences of one code. `hint` and `fix` may be empty.
struct Message {
  std::string_view headline;  ///< at most twelve words, lower case, no full stop
  std::string_view hint;      ///< one more line on why, or what is meant
  std::string_view fix;       ///< one line that could be typed, or one thing to do
};

/// The entry of a code, or nullptr when `messages.def` has none (a unit test keeps that from happening).
const Message* message_of(diagnostics::Code code);

/// The sentences of a code with the gaps filled.
std::string headline(diagnostics::Code code, const std::vector<std::string>& args);
std::string hint(diagnostics::Code code, const std::vector<std::string>& args);
std::string fix(diagnostics::Code code, const std::vector<std::string>& args);

/// The words under another place of a finding. A caption that is no key in `messages.def` is shown as it stands.
std::string caption(std::string_view key, const std::vector<std::string>& args);

/// Whether a name takes "are": "inner gloves", "hands (inner gloves)", "ties of the gown"; not "visor of the goggles".
bool is_plural(std::string_view name);

/// Fills the numbered gaps of `sentence`.
std::string fill(std::string_view sentence, const std::vector<std::string>& args);

}  // namespace stepward::wording
