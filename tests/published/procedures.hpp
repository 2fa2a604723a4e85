#pragma once
// The published procedures of the folder procedures/: source files whose remarks say where each comes from and which packs
// it keeps (procedures_test.cpp tells what the remarks mean).

#include <string>
#include <vector>

namespace stepward::published {

/// Names as `file_text` takes them, in alphabetical order.
std::vector<std::string> all_procedures();
/// What stands behind "# name:" in the remarks of a file, every such line.
std::vector<std::string> remarks(const std::string& text, const std::string& name);
/// The same, taken apart at `between`.
std::vector<std::string> listed(const std::string& text, const std::string& name, char between);
/// The text under packs of the standard library.
std::string with_packs(std::string text, const std::vector<std::string>& packs);

}  // namespace stepward::published
