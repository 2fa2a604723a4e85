#pragma once
// Checks a mutant and says what came of it.

#include <optional>

#include "mutant.hpp"

namespace stepward::mutations {

/// An error that the checker reported, in numbers of the unedited text.
struct Reported {
  diagnostics::Code code{};
  Origin at;
  std::string headline;
  std::vector<std::string> args;
  bool has_story = false;
  bool expected = false;        ///< code and line are among those that the mistake must be found by
};

struct Verdict {
  std::vector<Reported> errors;
  std::vector<Reported> warnings;
  bool found = false;           ///< at least one error is as expected
  bool has_story = false;       ///< and tells how it comes about, or needs no telling (the text alone shows it)
  bool alone = false;           ///< and no other error was reported
  bool as_expected = false;     ///< every error is one that the mistake may be found by
  bool first_as_expected = false;  ///< the first error of every run is one that the mistake may be found by
  std::size_t first_lines = 0;  ///< how many lines these stand at
  /// Errors, what stands under them, and warnings: whatever a reader is told.
  std::vector<std::pair<diagnostics::Code, Origin>> told;
  std::vector<std::string> rules_not_kept;  ///< numbers of the rules that a finding names, or what stands under one
  double seconds = 0;
  std::string text;             ///< all errors as a reader would see them
};

struct JudgeOptions { bool interruptions = true; bool every_variant = false; };

Verdict judge(const Base& base, const Mutant& mutant, const JudgeOptions& options);

/// Whether anything that a reader is told is what the mistake has to be found by.
bool shows(const Verdict& verdict, const Mutant& mutant);

/// Why a mistake that was not found does no harm, computed from every situation in which its lines can be met.
struct Reason {
  bool harmless = false;
  std::string words;
};
Reason explain(const Base& base, const Mutant& mutant, const JudgeOptions& options);

}  // namespace stepward::mutations
