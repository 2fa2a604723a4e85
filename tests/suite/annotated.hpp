#pragma once
// One annotated source of the suite: files held in memory, and what must be found in them.
//
//   take off suit using peel     #~ error N401 no way to take off      the finding is on this line
//   #~^ warning N405 to handle                                         … on the line above that is no annotation
//
//   #= file "name.ward"          what follows is that file; the first one is the file that is checked
//   #= with "basis.ward"         adds tests/suite/shared/basis.ward under that name
//   #= folder "name"             a path that cannot be read because it is a folder
//   #= today 2031-06-01          the day that review dates are held against
//   #= witness all               asks what each rule does here, as --witness does; or a rule's number
//
// A source without a `#= file` line is one file called main.ward. The code and the line must match exactly; the text
// after the code must stand somewhere in the headline. Other files than the first are annotated in the same way.

#include <filesystem>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "base/file_access.hpp"
#include "diagnostics/diagnostic.hpp"

namespace stepward::suite {

struct Expected {
  std::string file;
  std::uint32_t line = 0;
  diagnostics::Severity severity = diagnostics::Severity::error;
  std::string code, text;
};

struct Annotated {
  std::string main;  ///< the path of the file to check
  std::map<std::string, std::string> files;
  std::set<std::string> folders;
  std::string today;
  std::string witness;
  std::vector<Expected> expected;
  std::vector<std::string> mistakes;  ///< annotations that cannot be read
};

/// Takes a source apart. `shared` is the folder of the files that `#= with` adds.
Annotated read_annotated(const std::string& text, const std::string& shared);

/// Where the sources of the suite are, and the one at `path` taken apart.
inline const std::filesystem::path suite_folder = std::filesystem::path(STEPWARD_SOURCE_DIR) / "tests" / "suite";
Annotated read_annotated_file(const std::filesystem::path& path);

/// The files of a source, where folders answer that they are none.
class AnnotatedFiles final : public FileAccess {
 public:
  explicit AnnotatedFiles(const Annotated& source) : source_(source) {}
  std::optional<std::string> read(std::string_view path, std::string& why) const override;

 private:
  const Annotated& source_;
};

}  // namespace stepward::suite
