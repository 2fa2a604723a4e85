#pragma once
// Which files a check has read, told to a build engine in the way that compilers tell it: a rule of make.
//
//   bay.checked: bay.ward house.ward
//
// An engine that runs thousands of checks then runs again only those whose sources changed. What is built into the program is
// no file, and stands in no rule.

#include <optional>
#include <string>
#include <vector>

#include "base/file_access.hpp"

namespace stepward::driver {

/// Passes every question on, and notes the files that were there.
class ReadFiles final : public FileAccess {
 public:
  /// Both must outlive it.
  ReadFiles(const FileAccess& access, std::vector<std::string>& noted) : access_(access), noted_(noted) {}

  std::optional<std::string> read(std::string_view path, std::string& why) const override;

 private:
  const FileAccess& access_;
  std::vector<std::string>& noted_;
};

/// What the rule is for: the file of the result; where there is none, the name of the rule's own file without its ".d".
std::string dependency_target(const std::string& output, const std::string& depfile);

/// The rule, with all targets and then all files, each once and in order. None: a name cannot stand in a rule of make, and `why` says which.
std::optional<std::string> dependency_rule(const std::vector<std::string>& targets, const std::vector<std::vector<std::string>>& read_from, std::string& why);

}  // namespace stepward::driver
