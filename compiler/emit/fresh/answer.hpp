#pragma once
// Whether a paper on the wall is current: the answer as data, in plain words and as JSON.

#include <optional>
#include <string>
#include <vector>

#include "emit/document/document.hpp"
#include "emit/fresh/paper_lines.hpp"
#include "emit/fresh/told_words.hpp"

namespace stepward::emit {

/// A paper as an answer names it.
struct PaperNamed {
  std::string what, language, file;
  Control control;
};

struct Answer {
  enum class What : std::uint8_t {
    current,         ///< these are the words that would be printed now
    withdrawn,       ///< so they are, of a document that is withdrawn
    not_printed_now, ///< the text stands, but the protocol has errors now
    marked_draft,    ///< the text stands, but this copy is marked as a draft, and would not be now
    lacks_mark,      ///< the text stands, but this copy is without a mark that it would have now
    older,           ///< the words of an older source
    misread,         ///< nearly those of a paper
    other_document,  ///< a code of another document
    unknown
  } what = What::unknown;
  Told told;
  std::string file;
  Control document;                        ///< of the file as it is now
  std::optional<PaperNamed> found;         ///< whose words these are, or nearly are
  std::vector<std::string> words_found;    ///< misread: the words of that paper
  std::optional<PaperNamed> now;           ///< older: the same paper as it would be printed now; none: there is none any more
  std::vector<PaperChange> changes;        ///< older: from what was found to what is now
  std::vector<std::string> errors;         ///< not printed now: their codes and headlines
  bool looked_among_older = false;
  std::string today;

  bool is_current() const { return what == What::current; }
};

std::string as_text(const Answer& answer);
std::string as_json(const Answer& answer);

/// "the wearer’s card for gown · goggles, in Spanish"
std::string name_of(const PaperNamed& paper);

}  // namespace stepward::emit
