#include "emit/fresh/known_paper.hpp"

#include <algorithm>

#include "emit/document/check_words.hpp"

namespace stepward::emit {

namespace {

/// How a copy may be marked: across its face, and in its head.
struct Marking {
  std::string across;
  bool in_head = true;
};

/// What the words and the hash are under these marks.
struct Stamped {
  std::vector<std::string> words;
  std::string hash;
};

Stamped stamped(const KnownPaper& paper, const Marking& marking) {
  Sheet sheet = paper.sheet;
  sheet.control.watermark = marking.across;
  if (!marking.in_head) sheet.control.marks.clear();
  stamp(sheet);
  return {words_apart(sheet.control.check_words), sheet.control.code.substr(sheet.control.code.rfind(' ') + 1)};
}

bool is_it(const Told& told, const Stamped& stamped) { return told.is_code() ? told.hash == stamped.hash : told.words == stamped.words; }

/// By chance a paper has three of four words in common with another once in four million times; a word misheard is likelier.
bool is_nearly(const Told& told, const Stamped& stamped) {
  if (told.is_code()) return false;
  std::size_t same = 0;
  for (std::size_t i = 0; i < told.words.size(); ++i) same += told.words[i] == stamped.words[i] ? 1 : 0;
  return same + 1 >= told.words.size() || std::is_permutation(told.words.begin(), told.words.end(), stamped.words.begin(), stamped.words.end());
}

/// The marks that copies of a paper may have, its own first.
std::vector<Marking> markings_of(const KnownPaper& paper) {
  const Control& control = paper.sheet.control;
  std::vector<std::string> across{control.watermark};
  for (const std::string& mark : {std::string(), paper.sheet.captions.draft_mark}) {
    if (mark != control.watermark) across.push_back(mark);
  }
  std::vector<Marking> markings;
  for (const std::string& mark : across) markings.push_back({mark, true});
  const bool has_counted = std::any_of(control.marks.begin(), control.marks.end(), [](const FaceMark& mark) { return mark.in_words; });
  if (has_counted) {
    for (const std::string& mark : across) markings.push_back({mark, false});
  }
  return markings;
}

/// The lower, the better.
int rank(const Match& match) {
  return (match.is_exact ? 0 : 8) + (match.paper->is_now ? 0 : 4) + (match.lacks_mark ? 2 : 0) + (match.own_mark ? 0 : 1);
}

}  // namespace

std::optional<Match> match(const Told& told, const std::vector<KnownPaper>& papers) {
  std::optional<Match> best;
  const auto consider = [&](const KnownPaper& paper, const Marking& marking) {
    const Stamped known = stamped(paper, marking);
    const bool exact = is_it(told, known);
    if (!exact && !is_nearly(told, known)) return;
    const Match found{&paper, marking.across == paper.sheet.control.watermark, !marking.in_head, exact, known.words};
    if (!best || rank(found) < rank(*best)) best = found;
  };
  for (const KnownPaper& paper : papers) {
    for (const Marking& marking : markings_of(paper)) consider(paper, marking);
  }
  return best;
}

}  // namespace stepward::emit
