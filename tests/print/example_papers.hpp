#pragma once
// The example's papers, printed and read back: shared by the tests of this folder.

#include <string>
#include <vector>

#include "emit/document/document.hpp"
#include "emit/pdf/write.hpp"
#include "model/protocol.hpp"

namespace stepward::test {

/// One of the two protocols under examples/, resolved; fails the test when it has no meaning.
const model::Protocol& example(const std::string& file);

/// Card, script and breach card of one variant.
std::vector<emit::Sheet> papers(const model::Protocol& protocol, const model::Variant& variant);

/// Kit list, competency sheet, dilution card and sign-off page, without a walk.
std::vector<emit::Sheet> ruled_papers(const model::Protocol& protocol, const model::Variant& variant);

/// A printed sheet in a file of its own that is removed with the object.
class PrintedFile {
 public:
  PrintedFile(const emit::Sheet& sheet, emit::pdf::Paper paper, bool draft = false, std::optional<emit::pdf::Paper> up = {});
  ~PrintedFile();
  PrintedFile(const PrintedFile&) = delete;
  PrintedFile& operator=(const PrintedFile&) = delete;

  int faces() const { return faces_; }
  /// What a tool says of the file; `%` in `command` is the file's path. Fails the test when the tool does.
  std::string told_by(const std::string& command) const;

 private:
  std::string path_;
  int faces_ = 0;
};

/// Without any white space: lines are broken where the paper needs it.
std::string squeezed(const std::string& text);

}  // namespace stepward::test
