#pragma once
// One text through the whole compiler, as far as it goes: what both the fuzz target and the replay call.

#include <string_view>

namespace stepward::tests {

/// Parses `text`; then resolves and checks it as the only file there is (of the texts that do not parse, one in eight),
/// and shows every finding as text and as JSON. Ends the program when a promise is broken: a tree that points outside its text, a finding without words or place.
void compile_text(std::string_view text);

}  // namespace stepward::tests
