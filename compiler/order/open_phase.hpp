#pragma once
// A phase whose lines may change places, walked only as far as somebody asks.
//
// The phase stands in its protocol as it is written, with what comes before it; its lines stand around a choice (open_variant.hpp). What
// a line leads to in a situation is worked out when it is asked for the first time, and kept:
//
//     situation    a is done, the hands may carry
//     its ways     b → breaks rule 3.2 on some path; leads to {a b done, hands clean}, {a b done, hands may carry}
//                  c → not asked yet
//
// An order that breaks what is asked at its second line never has its third walked, so a phase costs what its search looks at. A way takes
// in everything up to the next choice: branches, interruptions, endings. What comes behind the phase is not its matter and is not walked.
//
// Rules are advice here, so a way tells all that it breaks. What needs no rule (a cover, a touch, a lock) ends the run, as ever.
//
// *Beginnings* are the situations to ask from: those that runs come to at a line of the phase, the lines before it done as they are
// written, with nothing broken before. They come in the order of their steps.

#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <vector>

#include "explore/state_set.hpp"
#include "explore/stepper.hpp"
#include "order/open_variant.hpp"

namespace stepward::order {

/// Rules of the protocol by position among `OpenPhase::rules`; bit 63: something that needs no rule.
using Broken = std::uint64_t;
inline constexpr Broken without_rule = Broken(1) << 63;
inline constexpr std::size_t most_rules_told_apart = 63;

/// So many lines can stand around one choice.
inline constexpr std::uint32_t most_lines_of_a_phase = 31;

/// What doing one line in a situation comes to.
struct LineWay {
  Broken broken = 0;
  std::vector<std::uint32_t> leads_to;    ///< situations, sorted, each once
};

/// A run to a breach.
struct BrokenRun {
  struct Step { std::uint32_t edge = 0; graph::NodeId at; };  ///< packed; where the run stood before it
  std::vector<Step> steps;                ///< from the start
  std::size_t before = 0;                 ///< so many of them lead to the situation
  std::uint32_t report = 0;               ///< by number in the packed system
};

class OpenPhase {
 public:
  /// `protocol`: severities as they are meant. `variant` has one choice, which is the phase's; `limit`: states.
  OpenPhase(const model::Protocol& protocol, const OpenVariant& variant, model::PhaseId phase, bool interruptions, std::uint64_t limit);

  /// False: it came to its limit, and nothing may be concluded.
  bool is_complete() const { return complete_; }
  std::uint32_t states() const { return static_cast<std::uint32_t>(states_.size()); }
  std::uint32_t lines() const { return lines_; }
  const std::vector<model::RuleId>& rules() const { return rules_; }
  const std::vector<std::uint32_t>& beginnings() const { return beginnings_; }

  /// Which lines are done, bit by bit.
  std::uint32_t done(std::uint32_t situation) const;
  /// `line`: one that is not done; or `lines()`, once all are.
  const LineWay& way(std::uint32_t situation, std::uint32_t line);
  /// The steps of a shortest run to a beginning, lines as they are written.
  std::uint32_t steps_to(std::uint32_t beginning) const { return came_[beginning].steps; }
  /// A shortest run through a beginning, its other lines done in this order, that breaks the rule; none where nothing does.
  std::optional<BrokenRun> run_that_breaks(std::uint32_t beginning, const std::vector<std::uint32_t>& order, model::RuleId rule);

 private:
  using Step = BrokenRun::Step;
  static constexpr std::uint32_t nowhere = UINT32_MAX;
  struct Taken { std::uint32_t edge = 0, to = nowhere; };        ///< to: `nowhere` where the run is over
  struct Came { std::uint32_t from = nowhere, edge = nowhere, steps = nowhere; };

  void find_beginnings();
  std::vector<Taken> steps(std::uint32_t state, bool struck);
  std::vector<Taken> steps_as_written(std::uint32_t state);
  Taken choose(std::uint32_t situation, std::uint32_t line);
  std::vector<Taken> taken_in();
  std::uint32_t take_in(const std::uint64_t* w, std::uint64_t hash);

  bool tells(std::uint32_t edge);
  bool is_breach(std::uint32_t report) const;
  bool is_of_the_phase(std::uint32_t report) const;
  Broken number_of(std::uint32_t report);
  Broken broken_on(std::uint32_t state, std::uint32_t edge);
  bool passes_a_breach(std::uint32_t state, std::uint32_t edge);
  Broken broken_for_good(std::uint32_t from);
  std::optional<std::uint32_t> report_of(std::uint32_t state, std::uint32_t edge, model::RuleId rule);
  std::vector<Step> path_to(std::uint32_t state, const std::map<std::uint32_t, Came>& came) const;

  std::uint32_t node_of(std::uint32_t state) const { return explore::get(states_.row(state), variant_.packed.node); }
  bool is_choice(std::uint32_t state) const { return node_of(state) == choice_; }
  bool is_inside(std::uint32_t state) const;
  bool is_behind(std::uint32_t state) const;
  bool may_be_struck(std::uint32_t state, std::uint32_t came_from) const;
  bool never_comes_back(std::uint32_t state) const { return variant_.open.graph.nodes[node_of(state)].context != 0; }

  const model::Protocol& protocol_;
  const OpenVariant& variant_;
  model::PhaseId phase_;
  std::uint64_t limit_;
  bool complete_ = true;
  std::uint32_t choice_ = 0, lines_ = 0;
  explore::Stepper stepper_;
  explore::Batch batch_;
  explore::SteadyArray<std::uint64_t> states_;
  explore::StateSet set_;
  std::vector<model::RuleId> rules_;
  std::vector<std::optional<Broken>> numbers_;            ///< by packed report
  std::vector<std::uint8_t> tells_;                       ///< by packed edge: 0: not known, 1: no report on it, 2: perhaps one
  std::vector<std::uint32_t> beginnings_;
  std::vector<Came> came_;                                ///< by state, of a shortest run as written
  std::set<std::uint32_t> not_begun_;                     ///< choices before the first line of a run
  std::map<std::uint64_t, LineWay> ways_;                 ///< by situation and line
  std::map<std::uint32_t, Broken> for_good_;              ///< by state from which no run comes back
};

}  // namespace stepward::order
