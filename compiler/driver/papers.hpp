#pragma once
// The papers of a checked protocol, in any of its languages, before they are set on pages.
//
// Some are made for every variant (card, script, poster, breach and badge card, kit list, competency sheet), some once for the protocol
// (dilution card, sign-off page).
//
// What the walk learnt (layers of the hands, exceptions, the verdict) goes into every paper; which numbers its steps
// carry is decided once, from the protocol as it was written, so that a wearer with a Spanish card and an observer with
// an English script speak of the same step. Whether a language says everything is found out by making its papers and
// looking for marks: what no paper prints need not be said.

#include <string>
#include <vector>

#include "driver/pipeline.hpp"
#include "emit/document/document.hpp"
#include "emit/sign_off/sign_off_page.hpp"

namespace stepward::driver {

/// The names of all kinds of paper, in the order in which they are made.
std::vector<std::string> paper_names();
/// Of those, the ones that are made once for the protocol.
std::vector<std::string> protocol_paper_names();
/// What kind of sheet the paper of this name is.
emit::SheetKind kind_of_paper(const std::string& name);
/// Whether `name` is one of `names`.
bool is_among(const std::vector<std::string>& names, const std::string& name);

/// One paper, and what it says.
struct Paper {
  std::string what;
  emit::Sheet sheet;
  std::size_t unsaid = 0;  ///< how many of its texts are not said in its language, and stand there in English
};

/// Those of `what` that are made for a variant, as their author wrote them or in the words of a dictionary.
std::vector<Paper> papers_of(const Compilation& made, const check::VariantWalk& walk, const std::vector<std::string>& what,
                             const translation::Dictionary* words = nullptr);

/// Those of `what` that are made once. `listed`: the papers that the sign-off page lists. A protocol that uses no mixture has no
/// dilution card.
std::vector<Paper> papers_of_protocol(const Compilation& made, const std::vector<std::string>& what, const std::vector<emit::SignedPaper>& listed,
                                      const translation::Dictionary* words = nullptr);

/// What the walk of a variant tells its papers. `spoken`: the protocol in the words that they are printed in.
emit::WalkFacts walk_facts(const Compilation& made, const check::VariantWalk& walk, const model::Protocol& spoken);

/// Which papers a language says wholly.
Coverage cover(const Compilation& made, const translation::Dictionary& words, unsigned workers = 1);

/// Fills `made.covered`, and reports every language in which something is not said yet.
void cover_all(Compilation& made, unsigned workers);

/// The dictionary of a language by its name in any letters; none: no words are used for it.
const translation::Dictionary* dictionary_of(const Compilation& made, const std::string& language);

}  // namespace stepward::driver
