#pragma once
// A statement of docs/evidence/rule-packs.md seen at work: where it is kept, and an edit that breaks it.
//
// *Kept*: a protocol walks to its end without an error, and on some run of it the rule is kept because what it asks for was
// done (check/bearing.hpp calls that a witness). A rule that only forbids asks for nothing: it is kept by every run, and
// the edit alone shows that it can be broken. A statement that a finding holds is kept where nothing of it is told.
//
// *Broken*: an edit made by one of the operators (every_line.hpp, every_word.hpp) after which a finding names that very
// rule, or is that very finding, and did not before.
//
// Rows are kept in rule-rows.txt, one a line, so that the test walks them and needs no search:
//   R22 | LE18 | powered-hood-exit.ward | powered-hood-exit.ward | swapped | powered-hood-exit.ward | take off blower [now behind …] | 1
// number, by what, kept in, edited in, operator, file and words of the line, and which of the edits that read so.

#include <map>
#include <string>
#include <vector>

#include "page_rows.hpp"
#include "subjects.hpp"

namespace stepward::mutations {

struct ShownRow {
  std::string number, by, kept_in, edited_in, edit;
};
std::vector<ShownRow> read_shown_rows(const std::string& text);
std::string as_line(const ShownRow& row);

class Showing {
 public:
  explicit Showing(std::vector<Subject> subjects) : subjects_(std::move(subjects)) {}

  /// Walks what a row claims of a statement of the page. Empty: it is so; else what is not.
  std::string why_not_shown(const PageRow& statement, const ShownRow& row);
  /// Looks for a row for each of these in every protocol. Takes minutes.
  std::vector<ShownRow> search(const std::vector<PageRow>& rows);

 private:
  const Base* base(const std::string& subject);

  std::vector<Subject> subjects_;
  std::map<std::string, Base> bases_;
};

}  // namespace stepward::mutations
