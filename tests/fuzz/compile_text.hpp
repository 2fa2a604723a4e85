#pragma once
// One text through the whole compiler, as far as it goes: what both the fuzz target and the replay call.

#include <string_view>

namespace stepward::tests {

/// Reads, resolves and checks `text` as the only file there is, and shows every finding as text and as JSON. Ends the
/// program when a promise is broken: a tree that points outside its text, a finding without words or place.
void compile_text(std::string_view text);

}  // namespace stepward::tests
