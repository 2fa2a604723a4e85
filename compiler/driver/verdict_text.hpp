#pragma once
// The verdict in words: what was looked at, how much of it, and what that rests on.
//
// "Checked" is said only of a whole protocol whose walk came to its end. What looked at a part says that it did.
// No sentence here calls anything or anybody free of danger: a walk shows what the declared touches and rules show.

#include <string>
#include <utility>
#include <vector>

#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"
#include "wording/phrases.hpp"

namespace stepward::driver {

/// How a walk was asked for.
struct Asked {
  std::string only;              ///< name of the one variant; empty: all
  bool interruptions = true;
  std::uint64_t limit = 0;

  bool is_whole() const { return only.empty() && interruptions; }
};

/// 1234567 as "1 234 567".
std::string grouped(std::uint64_t number);
/// One of something, or several: the phrase for several has a gap for the count.
std::string counted_as(const model::Tongue& tongue, std::uint64_t count, wording::Phrase one, wording::Phrase several);
/// "1 234" or, from a million on, "6.1e13".
std::string counted_runs(double runs);
/// The same with "paths" behind it.
std::string counted_paths(double paths);
/// "0 errors, 2 warnings, 3 notes".
std::string counted(const diagnostics::Counts& counts);

/// The lines after the findings. `with_time`: how long it took.
std::string verdict_text(const Compilation& compilation, const Asked& asked, bool with_stages);

/// The same facts by name, for JSON.
std::vector<std::pair<std::string, diagnostics::Fact>> verdict_facts(const Compilation& compilation, const Asked& asked,
                                                                     bool with_times);

/// The sentence at the foot of papers: "checked against 23 rules and the declared touches: 6 variants, …, complete".
std::string verdict_for_paper(const Compilation& compilation, const model::Tongue& tongue = {});

}  // namespace stepward::driver
