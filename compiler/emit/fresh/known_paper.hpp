#pragma once
// The papers of a source by the words that their copies carry, and which of them somebody has in front of them.
//
// The words of a paper are made from all that it says, its mark included. The mark alone may differ without anybody's having touched
// the source: a review day goes by, and what was printed without DRAFT would be printed with it. So each paper is known under the
// mark that it would get now, without one, and as a draft; the answer tells them apart. So it is with the marks in the heads: OVERDUE
// is not among the words at all, since the calendar alone brings it, and a copy that is without SET ASIDE is known by the words that it would
// have without.
//
// The sign-off page is not among them. It tells of one run of the program, its faces and findings on that day, and its words are
// made anew with every run; what it lists are the papers that are known here. A review dossier is one run's as well, but the run can be made
// again from the files and the day that it names: it is among them where nothing else is known by the words.

#include <optional>
#include <string>
#include <vector>

#include "emit/document/document.hpp"
#include "emit/fresh/told_words.hpp"

namespace stepward::emit {

struct KnownPaper {
  std::string what;      ///< its name behind `--what`
  std::string language;  ///< empty: as it was written
  Sheet sheet;
  bool is_now = true;    ///< false: of an older source
  std::string file;      ///< the source
};

struct Match {
  const KnownPaper* paper = nullptr;
  bool own_mark = true;  ///< false: what was told is without its mark, or with DRAFT that it would not get
  bool lacks_mark = false;  ///< what was told is without SET ASIDE, which the paper has
  bool is_exact = true;  ///< false: three of its words were told, or all of them in another order
  std::vector<std::string> words;  ///< those of the paper
};

/// What comes first: told exactly before nearly, now before formerly, its own mark before another.
std::optional<Match> match(const Told& told, const std::vector<KnownPaper>& papers);

}  // namespace stepward::emit
