#pragma once
// The cards and scripts of a checked protocol, in any of its languages, before they are set on pages.
//
// What the walk learnt (layers of the hands, exceptions, the verdict) goes into every paper; which numbers its steps
// carry is decided once, from the protocol as it was written, so that a wearer with a Spanish card and an observer with
// an English script speak of the same step. Whether a language says everything is found out by making its papers and
// looking for marks: what no paper prints need not be said.

#include <string>
#include <vector>

#include "driver/pipeline.hpp"
#include "emit/document/document.hpp"

namespace stepward::driver {

/// "card" or "script", and what it says.
struct Paper {
  std::string what;
  emit::Sheet sheet;
  std::size_t unsaid = 0;  ///< how many of its texts are not said in its language, and stand there in English
};

/// The papers of one variant, as their author wrote them or in the words of a dictionary.
std::vector<Paper> papers_of(const Compilation& made, const check::VariantWalk& walk, const std::vector<std::string>& what,
                             const translation::Dictionary* words = nullptr);

/// Which papers a language says wholly.
Coverage cover(const Compilation& made, const translation::Dictionary& words);

/// Fills `made.covered`, and reports every language in which something is not said yet.
void cover_all(Compilation& made);

/// The dictionary of a language by its name in any letters; none: no words are used for it.
const translation::Dictionary* dictionary_of(const Compilation& made, const std::string& language);

}  // namespace stepward::driver
