#include "emit/fresh/known_paper.hpp"

#include <algorithm>

#include "emit/document/check_words.hpp"

namespace stepward::emit {

namespace {

/// What the words and the hash are under one mark.
struct Stamped {
  std::vector<std::string> words;
  std::string hash;
};

Stamped stamped(const KnownPaper& paper, const std::string& mark) {
  Sheet sheet = paper.sheet;
  sheet.control.watermark = mark;
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

/// The lower, the better.
int rank(const Match& match) { return (match.is_exact ? 0 : 4) + (match.paper->is_now ? 0 : 2) + (match.own_mark ? 0 : 1); }

}  // namespace

std::optional<Match> match(const Told& told, const std::vector<KnownPaper>& papers) {
  std::optional<Match> best;
  const auto consider = [&](const KnownPaper& paper, const std::string& mark) {
    const Stamped known = stamped(paper, mark);
    const bool exact = is_it(told, known);
    if (!exact && !is_nearly(told, known)) return;
    const Match found{&paper, mark == paper.sheet.control.watermark, exact, known.words};
    if (!best || rank(found) < rank(*best)) best = found;
  };
  for (const KnownPaper& paper : papers) {
    consider(paper, paper.sheet.control.watermark);
    for (const std::string& mark : {std::string(), paper.sheet.captions.draft_mark}) {
      if (mark != paper.sheet.control.watermark) consider(paper, mark);
    }
  }
  return best;
}

}  // namespace stepward::emit
