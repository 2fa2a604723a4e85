#pragma once
// Everything that can be known about a resolved protocol: every variant walked, every finding told once.
//
// `check` walks each variant twice at most. The first walk cuts a run where an error is found: if it finds none, the
// protocol is clean and that walk is the verdict. If it finds some, a second walk goes on behind findings, with what
// they concern held back, so that one run of the program reports every mistake. Findings of all variants are then
// brought together: same line, same thing, same code is one finding, told by its shortest story.
//
// Threads: variants are independent, and small ones are walked side by side. Each may then take its share of the limit.
// One that comes to the end of its share is walked again by itself, with the whole limit and all threads, so that one
// check never takes more memory than explore::most_bytes of its limit, and the result depends on no number of threads.

#include <functional>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "check/stock.hpp"
#include "diagnostics/diagnostic.hpp"
#include "explore/slice.hpp"
#include "explore/walk.hpp"
#include "graph/arm_place.hpp"
#include "model/protocol.hpp"

namespace stepward::check {

struct Options {
  bool interruptions = true;
  std::optional<std::size_t> only_variant;
  std::uint64_t limit = 20'000'000;   ///< states of one variant's walk
  bool reduce = true;                 ///< forget what no later line can ask
  unsigned workers = 2;
  unsigned checks = 1;                ///< so many checks run at the same time
  std::string witness;                ///< number of the rule that is asked what it does here, or "all"; empty: none
};

/// What the walk of one variant was.
struct VariantWalk {
  model::Variant variant;
  std::string name;
  std::uint32_t states = 0;
  std::uint64_t transitions = 0;
  std::uint32_t longest = 0;          ///< steps of the longest run
  double paths = 0;                   ///< different runs
  bool complete = false;
  std::uint32_t state_bytes = 0;
  /// By line: which layers the doer's hands are before and after it, on any run. No item: bare.
  std::map<model::LineId, std::set<model::ItemId>> hands_before, hands_after;
  bool stock_known = false;           ///< the walk is complete and without errors
  std::vector<StockNeed> stock;       ///< then: all that is listed or used
  /// By line: the rules set aside that are not kept there, by position in Protocol::set_aside.
  std::map<model::LineId, std::set<std::uint32_t>> set_aside;
  /// Phases in which some run breaks a rule with nothing broken before; in an interruption, all of them.
  std::set<model::PhaseId> broken_in;
  std::set<model::EndingId> endings_reached;  ///< by some run
  std::set<graph::ArmPlace> arms_never;       ///< answers that no run gives; nothing is said where the walk is not complete
};

/// What an exception was needed for: breaches of its rule inside its places.
struct ExceptionUse {
  std::vector<source::Span> lines;    ///< where the rule is not kept
  std::size_t variants = 0;           ///< in which it is needed
  double runs = 0;                    ///< on which it is needed
};

struct Verdict {
  std::vector<VariantWalk> walks;
  bool complete = false;              ///< every walk came to its end, nothing was left out
  std::size_t excluded_combinations = 0;
  std::vector<std::string> assumptions;   ///< what the verdict rests on, in plain sentences
  std::size_t nobody_looked = 0;      ///< places where an exposed item went unlooked at
  std::vector<ExceptionUse> exceptions;   ///< by position in Protocol::set_aside
  std::set<std::string> rules_tested; ///< numbers of rules that some run put to the test

  double paths() const;
  std::uint64_t states() const, transitions() const;
  std::uint32_t longest() const;
};

/// Which rules of the protocol a number means; "all" means each.
std::vector<bool> rules_meant(const model::Protocol& protocol, const std::string& number);

/// Walks every variant and appends what was found to `sink`, worded and in order.
Verdict check(const model::Protocol& protocol, const Options& options, diagnostics::Sink& sink);

/// One variant, cut at the first error of every run: for comparison with another walk. (code, line, thing or rule, steps)
struct PlainFinding {
  diagnostics::Code code{};
  model::LineId line;
  std::string about;
  std::uint32_t steps = 0;
  source::Span at = {};
  friend bool operator==(const PlainFinding& a, const PlainFinding& b) { return a.code == b.code && a.line == b.line && a.about == b.about && a.steps == b.steps; }
};
struct PlainWalk { std::vector<PlainFinding> findings; std::uint32_t states = 0; bool complete = false; std::uint32_t longest = 0; };
/// Changes a system between lowering and the walk; the tests plant faults with it and demand that they are noticed.
using Tamper = std::function<void(effects::System&)>;
PlainWalk plain_walk(const model::Protocol& protocol, const model::Variant& variant, bool reduce, const Tamper& tamper = {});
/// The same with other options: of these, interruptions, the limit and the number of threads count. The quickest way to ask whether a
/// variant holds an error at all.
PlainWalk plain_walk(const model::Protocol& protocol, const model::Variant& variant, const Options& options, const Tamper& tamper = {});

}  // namespace stepward::check
