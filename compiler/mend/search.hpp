#pragma once
// The smallest changes that clear the errors of the walk, each re-checked.
//
// The search knows sources as text and asks one question, `Recheck`: how is the protocol with these texts in place of
// those on the disk? Whoever calls it answers by reading and walking them, so that nothing here is believed that the
// checker itself does not say. A draft passes three sieves, each dearer than the one before:
//
//     one variant that shows the error, up to the first error of each run     some hundredths of a second
//     every variant, in the same way
//     every variant, with interruptions, on behind errors: what `check` does
//
// The first two leave interruptions out unless the error needs one. A finding is the same finding in two texts if its code is
// the same and its line was the same line of the file on disk; for the third, its words have to be the same as well. A draft is refused when any error or warning is left that the text before did not have. Where no single
// change clears everything, the search goes on behind the changes that got furthest, with the next error, up to
// `most_changes`. Drafts are taken in a fixed order and in batches of a fixed size, so the answer is the same with any
// number of cores.

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "check/verdict.hpp"
#include "mend/change.hpp"
#include "model/protocol.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"

namespace stepward::mend {

/// How much of a protocol is to be walked.
struct Depth {
  std::optional<std::size_t> variant;  ///< none: every variant
  bool interruptions = true;
  bool plain = false;                  ///< up to the first error of each run, and findings without their words
  unsigned workers = 1;
};

/// A protocol with some texts changed, as the checker sees it.
struct Seen {
  source::Files files;
  resolve::Loaded loaded;
  std::optional<model::Protocol> protocol;  ///< none: the text has mistakes that leave it without meaning
  diagnostics::Sink findings;
  check::Verdict verdict;                   ///< of the walk, if there was a protocol with phases; of a plain one nothing is known of it
  std::uint32_t longest = 0;                ///< steps of the longest run
  bool complete = false;                    ///< every walk came to its end
};

/// Called from several threads at once.
using Recheck = std::function<Seen(const Texts& texts, const Depth& depth)>;

struct Limits {
  std::size_t drafts = 600;          ///< changes that are tried
  std::size_t offers = 3;
  unsigned workers = 1;
};

/// A change in its place: what is written, by the lines of the file on disk.
struct Placed {
  Change change;
  std::uint32_t before = 0;          ///< line of the file on disk that it stands in front of; one behind the last: at the end
  std::uint32_t first = 0, last = 0; ///< lines of the file on disk that leave their place; 0: none
};

/// An offer: applied together, its changes leave no error of the walk, or `left` of them.
struct Mend {
  std::vector<Placed> changes;
  std::uint32_t size = 0, distance = 0;
  Texts texts;                       ///< with the changes made
  Seen seen;                         ///< of the whole check
  std::size_t left = 0, others = 0;  ///< errors of the walk, and others, that were there before
  std::uint32_t longest_before = 0, longest_after = 0;  ///< steps of the longest run when nothing interrupts
};

struct Result {
  Seen before;                       ///< as far as it was walked: without interruptions, if errors show without them
  bool with_interruptions = false;   ///< it was walked with them
  std::vector<diagnostics::Diagnostic> errors;  ///< of `before` that a change of steps can clear
  std::size_t other_errors = 0;      ///< of `before`, that it cannot
  std::vector<Mend> mends;           ///< the smallest first; all clear as many errors
  std::size_t tried = 0, walked = 0; ///< changes that were read, and of these the ones that were walked in every variant
};

Result find_mends(const Recheck& recheck, const Limits& limits);

inline constexpr std::size_t most_changes = 3;

}  // namespace stepward::mend
