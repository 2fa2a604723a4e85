#pragma once
// The whole compiler, from a path to a verdict, as one function.
//
//   files → trees → protocol → its open orders settled → walk of every variant → findings
//
// An exit that says which entry it pairs with has that entry read beside it, and both ends held against each other.
//
// Each stage gets what the one before made and a sink for findings; none of them touches a disk, a clock or a terminal.
// A stage whose input would be without meaning is left out, so a misspelt name is never answered with a walk of
// something else.

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "check/verdict.hpp"
#include "diagnostics/diagnostic.hpp"
#include "model/from_syntax.hpp"
#include "model/protocol.hpp"
#include "order/settle.hpp"
#include "resolve/imports.hpp"
#include "resolve/pairs.hpp"
#include "slips/weak_points.hpp"
#include "source/files.hpp"
#include "translation/apply.hpp"

namespace stepward::driver {

/// How long each stage took, in seconds.
struct Timings { double read = 0, build = 0, walk = 0; };

/// The entry that an exit says it pairs with, read and resolved by itself.
struct Partner {
  resolve::PairsWith said;
  resolve::Loaded loaded;
  std::optional<model::Protocol> protocol;  ///< none: it has mistakes that leave it without meaning
  std::size_t compared = 0;                 ///< pairs of variants
};

/// How far the words of one language reach.
struct Coverage {
  std::string language;
  std::size_t papers = 0, complete = 0;      ///< cards and scripts of all variants, and those that say everything
  std::vector<translation::Unsaid> unsaid;   ///< of what is printed; each once
};

struct Compilation {
  source::Files files;
  resolve::Loaded loaded;
  diagnostics::Sink findings;               ///< in the order in which they are shown
  std::optional<model::Protocol> protocol;  ///< none: what was found leaves it without meaning
  std::vector<order::Settled> orders;       ///< one for each order block whose lines may change places
  std::vector<Partner> partners;            ///< of `pairs with`, in order
  std::vector<translation::Dictionary> words;  ///< one for each language of `use words`
  std::vector<Coverage> covered;            ///< one for each of these, once walked
  check::Verdict verdict;                   ///< of the walk, if there was one
  std::map<model::Variant, slips::WeakPoints> weak_points;  ///< of the variants that were walked; empty: none are to be marked
  std::string today;                        ///< the day that it was read for, ISO 8601; empty: none
  bool walked = false;
  bool unreadable = false;                  ///< the file itself could not be read
  Timings timings;

  /// A protocol has phases to walk; a library or a file of rules has none.
  bool is_walkable() const { return protocol && !protocol->phases.empty(); }
  std::string kind() const { return loaded.files.empty() ? "" : loaded.files.front().tree.file_kind; }
};

/// Reads `path` and everything it uses, and resolves all names.
Compilation read(const std::string& path, const FileAccess& access, const std::string& today);

/// The same without the entry that it pairs with, for whoever writes down this file and walks nothing.
Compilation read_alone(const std::string& path, const FileAccess& access, const std::string& today);

/// Walks what `read` gave, if it can be walked, and puts all findings in order.
void walk(Compilation& compilation, const check::Options& options);
/// The same without making papers to see how far the words of other languages reach: steps, places and pairs only.
void walk_steps(Compilation& compilation, const check::Options& options);
/// What `walk` does after `walk_steps`; none of it finds an error where the steps have none.
void look_behind_the_walk(Compilation& compilation, const check::Options& options);

}  // namespace stepward::driver
