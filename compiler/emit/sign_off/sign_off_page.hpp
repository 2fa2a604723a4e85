#pragma once
// The sign-off page: what is signed, by whom, and what the program can say of it.
//
// It is about what the protocol says, not about sheets: it lists every other paper with its check words, on whatever size it is printed and
// whether or not it was printed in the same run, so that a signature stands for those papers and no others, and the page's own check words
// are the same on every size. The verdict is the sentence that stands in the foot of all of them.

#include "diagnostics/diagnostic.hpp"
#include "diagnostics/render.hpp"
#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// A paper that the signatures stand for.
struct SignedPaper {
  std::string kind, variant, check_words;
};

struct SignOffFacts {
  std::vector<std::string> variants;   ///< names of all that were walked; one empty name: there are no choices
  diagnostics::Counts findings;
  std::vector<SignedPaper> papers;  ///< those of one variant stand together
};

/// A finished page with its check words. `source.variant` and `source.course` are not asked.
Sheet sign_off_page(const PaperSource& source, const SignOffFacts& facts);

/// "left out at “first wipe” in “Suit”": the slips that an answer is about.
std::string answer_in_words(const PaperSource& source, const model::AnsweredSlip& answer);

/// The table in which people sign: role, and room for name, signature and date.
Table signature_table(const PaperSource& source);
/// A row of it for everybody whom document control names, and one for each part that nobody has taken yet. `table`: its position.
std::vector<Block> signature_rows(const PaperSource& source, std::size_t table);

}  // namespace stepward::emit
