#pragma once
// One random procedure, read and walked: what both programs of this folder do with each number.

#include <optional>
#include <string>
#include <vector>

#include "base/file_access.hpp"
#include "explorer.hpp"
#include "source/files.hpp"

namespace stepward::oracle {

/// A procedure's text and what became of it. `protocol` is none when the compiler refused the text; `refusals` says
/// why.
struct Trial {
  std::string text;
  std::optional<Protocol> protocol;
  std::vector<std::string> refusals;
  source::Files files;         ///< what the text is made of, those that it uses included
};

/// Reads a protocol through the compiler's own front end, with the files beside it.
Trial read_from(const FileAccess& access, const std::string& path);
/// Reads a text through the compiler's own front end.
Trial read_text(const std::string& text);
Trial read_procedure(std::uint64_t number);

}  // namespace stepward::oracle
