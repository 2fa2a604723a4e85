#pragma once
// Every order of some lines at once: one walk a variant, and what is left of it for whoever looks for an order.
//
// The lines stand around a choice (graph/open_order.hpp), and a field a line remembers whether it is done. So a run comes to the choice
// with some lines done, and which of the others is next is open; two orders that have done the same lines and left the same world behind
// are in one state, and are walked on once. Of the finished walk only *situations* are kept, the states that stand at a choice:
//
//     situation    lines a and c are done, hands may carry
//     its ways     b → what b breaks, on any path: nothing            → the situations behind it: {abc done, hands clean}
//                  d → what d breaks: rule 3.2                        → none
//
// What a way breaks includes everything that happens before the next choice: interruptions, branches, an ending behind the last line.
// A breach is a rule, or something that needs no rule at one line. They are numbered over all variants in the order in which walks come
// to them, at most 63; what is beyond shares the last number, so a set of breaches is one word.
//
// Where rules are advice, a run goes on behind a rule that is broken, and a way tells all that it breaks; else it tells what comes first.

#include <cstdint>
#include <map>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "model/protocol.hpp"

namespace stepward::order {

/// A set of breaches, by number.
using Breaches = std::uint64_t;
inline constexpr std::size_t most_breaches = 64;

/// What is not kept.
struct Breach {
  model::RuleId rule;                 ///< none: it needs no rule
  diagnostics::Code code{};
  std::vector<std::string> args;      ///< of the code
  source::Span at;                    ///< where a walk came to it first
};

/// What comes of doing one line in a situation.
struct Way {
  Breaches broken = 0;
  std::vector<std::uint32_t> leads_to;  ///< situations, each once
};

struct Situation {
  std::uint32_t order = 0;            ///< by position in Orders::lines
  std::uint32_t done = 0;             ///< bit i: line i is done
  std::vector<Way> ways;              ///< by line, those done without meaning; behind them: what follows when all are done
};

/// Where the orders of all order blocks are looked for.
struct Orders {
  std::vector<std::uint32_t> lines;   ///< by order: how many lines it has
  std::vector<Situation> situations;  ///< of all variants
  std::vector<std::uint32_t> start;   ///< the first ones that runs come to
  std::vector<Breach> breaches;
  bool complete = true;               ///< false: a walk came to the limit
  std::uint64_t states = 0;
  bool has_clocks = false;            ///< bounds on time, which no situation knows, are asked as well
};

/// A run of lines in a block, and which order it follows: calls of one routine follow one.
struct Run {
  model::BlockId block;
  std::uint32_t first = 0, count = 0, order = 0;
};

struct WalkOptions {
  bool rules_as_advice = false;
  std::uint64_t limit = 2'000'000;    ///< states of one variant's walk
  unsigned workers = 2;
};

/// Runs of one order have the same number of lines.
Orders open_walk(const model::Protocol& protocol, const std::vector<Run>& runs, const WalkOptions& options);

}  // namespace stepward::order
