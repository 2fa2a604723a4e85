#include "coverage.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace stepward::oracle {

void Coverage::add(const std::vector<Result>& walks) {
  std::set<std::string> occurred, codes;
  std::size_t states = 0;
  for (const Result& walk : walks) {
    occurred.insert(walk.occurred.begin(), walk.occurred.end());
    for (const auto& [finding, steps] : walk.shortest) codes.insert(std::string(diagnostics::code_name(finding.code)));
    states += walk.states;
  }
  for (const std::string& what : occurred) ++seen_in_[what];
  for (const std::string& code : codes) ++codes_[code];
  states_.push_back(states);
  if (!codes.empty()) ++with_finding_;
}

void Coverage::add(const Coverage& other) {
  for (const auto& [what, count] : other.seen_in_) seen_in_[what] += count;
  for (const auto& [code, count] : other.codes_) codes_[code] += count;
  states_.insert(states_.end(), other.states_.begin(), other.states_.end());
  with_finding_ += other.with_finding_;
}

std::size_t Coverage::median_states() const {
  if (states_.empty()) return 0;
  std::vector<std::size_t> sorted = states_;
  std::sort(sorted.begin(), sorted.end());
  return sorted[sorted.size() / 2];
}

double Coverage::share(const std::string& what) const {
  const auto found = seen_in_.find(what);
  if (found == seen_in_.end() || states_.empty()) return 0;
  return static_cast<double>(found->second) / static_cast<double>(states_.size());
}

double Coverage::share_with_finding() const {
  return states_.empty() ? 0 : static_cast<double>(with_finding_) / static_cast<double>(states_.size());
}

std::string Coverage::table() const {
  const double all = static_cast<double>(std::max<std::size_t>(1, states_.size()));
  std::string text = fmt::format("{} procedures, {:.0f} % with a finding, median {} states, largest {}\n",
                                 states_.size(), 100 * share_with_finding(), median_states(),
                                 states_.empty() ? 0 : *std::max_element(states_.begin(), states_.end()));
  std::set<std::string> rows(what_must_occur().begin(), what_must_occur().end());
  for (const auto& [what, count] : seen_in_) rows.insert(what);
  for (const std::string& what : rows) text += fmt::format("  {:<48} {:5.1f} %\n", what, 100 * share(what));
  for (const auto& [code, count] : codes_) {
    text += fmt::format("  {:<48} {:5.1f} %\n", "finding: " + code, 100 * static_cast<double>(count) / all);
  }
  return text;
}

std::string Coverage::shortfalls() const {
  constexpr double least_share = 0.05, least_with_finding = 0.30;
  constexpr std::size_t least_median = 500;
  std::string text;
  for (const std::string& what : what_must_occur()) {
    if (share(what) < least_share) text += fmt::format("too seldom: {}, {:.1f} %\n", what, 100 * share(what));
  }
  if (share_with_finding() < least_with_finding) text += "too few procedures have a finding\n";
  if (median_states() < least_median) text += fmt::format("walks are too small: median {} states\n", median_states());
  return text;
}

const std::vector<std::string>& what_must_occur() {
  static const std::vector<std::string> rows = {
      "verb: put on",
      "verb: take off",
      "verb: disinfect",
      "verb: clean",
      "verb: inspect",
      "verb: test",
      "verb: decide",
      "verb: declare",
      "verb: record",
      "verb: report",
      "verb: call",
      "verb: take",
      "verb: pass",
      "verb: act",
      "verb: move",
      "verb: wait",
      "verb: start timer",
      "verb: stop timer",
      "together: either may be first",
      "effect: a hand dirties what it meets",
      "effect: a hand is dirtied by what it meets",
      "effect: a brush",
      "effect: a sterile thing is reached",
      "effect: an agent leaves a surface sterile",
      "effect: exposure to a zone",
      "effect: a body site is reached",
      "effect: an inside rests",
      "effect: ordinary hands",
      "effect: an item leaves",
      "effect: a set leaves",
      "effect: an inside is met by the layer beneath",
      "effect: an item goes on",
      "effect: the fresh copy goes on",
      "effect: a fresh copy comes to hand",
      "effect: a surface becomes clean",
      "effect: soil withstands the agent",
      "effect: left wet for later",
      "effect: a contact time ends later",
      "effect: soil is found",
      "effect: a tear is found",
      "effect: a gap is found",
      "effect: a tear lets dirt through",
      "effect: soil is wiped off",
      "effect: cleaning answers a duty",
      "effect: a declaration answers a duty",
      "effect: a report answers a duty",
      "happens: something is soiled",
      "happens: an item is torn",
      "happens: somebody touches",
      "happens: somebody falls",
      "happens: nothing of its own",
      "pattern 1: before each … since",
      "pattern 2: before each",
      "pattern 3: after each",
      "pattern 3: after each, with a chain",
      "pattern 4: right after each",
      "pattern 5: never … unless",
      "pattern 5: never … while",
      "pattern 6: at an ending",
      "pattern 7: within",
      "pattern 8: always",
      "pattern 9: at least",
      "loop: ends by its answer",
      "loop: ends by its last pass",
      "interruption: resumes",
      "interruption: ends the run",
  };
  return rows;
}

}  // namespace stepward::oracle
