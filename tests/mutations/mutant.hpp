#pragma once
// One edit of a protocol, and what the checker is expected to say of it.
//
// A *mistake* has to be found: one of `codes`, at one of `lines` (in numbers of the unedited text). A *harmless* edit has
// empty `codes` and must add no error. `operation` is the row of the table that the program prints.

#include <functional>
#include <set>
#include <string>
#include <vector>

#include "base.hpp"
#include "diagnostics/diagnostic.hpp"

namespace stepward::mutations {

using Codes = std::set<diagnostics::Code>;
using Lines = std::set<Origin>;

struct Mutant {
  std::string operation;
  Origin place;                 ///< the line that was edited
  std::string note;             ///< what was done, where the line alone does not say it
  Copies copies;
  Codes codes;
  Lines lines;
  bool may_lose_runs = true;    ///< harmless even if some runs of the original are no longer there
  std::size_t variant = 0;      ///< a variant in which the place can be met
  std::vector<std::size_t> all_variants;  ///< all that have to be looked at for it; empty: every one
};

/// A mutant of `base` at `place`, still unedited.
Mutant start(const Base& base, const std::string& operation, Origin place);

/// Every line that may come behind `from` in a variant, up to the first for which `last` holds (that one included).
/// From an interruption that resumes, every line of the protocol may come.
Lines behind(const Base& base, std::size_t variant, Origin from, const std::function<bool(const Step&)>& last);
/// The same to the very end.
Lines all_behind(const Base& base, std::size_t variant, Origin from);

/// The questions right behind a look that ask for what it found.
std::vector<Place> questions_of(const Base& base, Place look);

/// The item that a line takes off or puts on in a variant; none if several or no item.
model::ItemId item_of_line(const Base& base, model::LineId line, std::size_t variant);
/// True if `upper`, worn above `lower`, locks it.
bool goes_tightly_over(const model::Protocol& protocol, model::ItemId upper, model::ItemId lower);

// Mistakes: one list for each kind, in the order of the course.
std::vector<Mutant> disinfections_deleted(const Base& base);
std::vector<Mutant> removals_swapped(const Base& base);
std::vector<Mutant> tear_before_soil(const Base& base);
std::vector<Mutant> chlorine_at_bare_hands(const Base& base);
std::vector<Mutant> last_rubs_deleted(const Base& base);
std::vector<Mutant> arms_and_endings_deleted(const Base& base);
std::vector<Mutant> loops_without_look(const Base& base);
std::vector<Mutant> questions_before_look(const Base& base);
std::vector<Mutant> respirator_before_suit(const Base& base);
std::vector<Mutant> carried_over_border(const Base& base);
std::vector<Mutant> removals_deleted(const Base& base);
std::vector<Mutant> put_on_under(const Base& base);

// Harmless edits.
std::vector<Mutant> extra_cleanings(const Base& base);
std::vector<Mutant> extra_looks(const Base& base);
std::vector<Mutant> independent_lines_swapped(const Base& base);
std::vector<Mutant> phases_split(const Base& base);
std::vector<Mutant> items_renamed(const Base& base);
std::vector<Mutant> notes_moved(const Base& base);
std::vector<Mutant> variants_added(const Base& base);
std::vector<Mutant> contact_times_longer(const Base& base);
std::vector<Mutant> routines_inlined(const Base& base);
std::vector<Mutant> routines_extracted(const Base& base);

}  // namespace stepward::mutations
