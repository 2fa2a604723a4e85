#pragma once
// One variant: lowered, woven, walked; what was found, with its story, still apart from other variants.

#include <optional>

#include "check/one_mistake.hpp"
#include "check/verdict.hpp"
#include "effects/from_graph.hpp"

namespace stepward::check {

/// An arm that held and was passed over, since one above it was followed.
struct Skipped {
  source::Span at;
  std::vector<std::string> args;      ///< of F601
};

/// What one variant found, worded, not yet merged with others.
struct Sighting {
  effects::Report report;
  source::Span at;                    ///< the line, question or block it stands at
  std::uint32_t steps = 0;
  bool follows = false;               ///< every run comes to it behind another error only
  std::vector<std::string> args;
  std::vector<diagnostics::StoryLine> story;
  Traces traces;                      ///< of errors: what they share with others of the same mistake
  std::optional<Skipped> skipped;     ///< the reason of the finding
};

/// Something that varies from run to run (what_multiplies.hpp).
struct Multiplier {
  std::string name;      ///< "looks at gown"
  double factor = 1;     ///< so many times as many situations with it
  source::Span at;
};

struct VariantResult {
  VariantWalk walk;
  explore::Stopped stopped = explore::Stopped::no;
  std::uint32_t steps = 0;                             ///< of the longest run when the walk stopped
  std::vector<Multiplier> multipliers;                 ///< of a walk that stopped
  std::vector<Sighting> sightings;
  std::set<std::pair<std::uint32_t, std::uint32_t>> arms_taken, arms;  ///< by place of the arm in the source
  std::set<std::uint32_t> rules_untested;
  std::map<std::uint32_t, double> runs_excepted;       ///< by rule set aside: runs on which it is not kept there
};

/// A variant in the form that is walked.
struct Prepared {
  model::Variant variant;
  graph::Graph graph;
  effects::System system;
  explore::Packed packed;
  std::vector<model::RuleId> untested;
  std::vector<effects::Bearer> hand_layers;  ///< of everybody, each person's outermost first
};

/// A walk and what follows from it for every variant that shares it.
struct Walked {
  explore::Result result;
  explore::PathSums sums;
};

/// Ready for the first walk, which cuts every run at its first error.
Prepared prepare(const model::Protocol& protocol, const model::Variant& variant, const Options& options);
Walked first_walk(const Prepared& prepared, const Options& options);
/// Whether it found an error, and a second walk has to go on behind it.
bool has_error(const Prepared& prepared, const Walked& walked);
/// The same system before it is simplified, for stories: there a guard still names all that it asks, also what cannot be
/// otherwise. Edges, reports and causes have the same numbers in both.
effects::System as_lowered(const model::Protocol& protocol, const graph::Graph& graph, effects::HoldBack hold_back);
/// Where in the source a report stands.
source::Span place_of_report(const model::Protocol& protocol, const graph::Graph& graph, const effects::Report& report);
/// What was found, worded. `first` may be the walk of another variant that differs in nothing but names
/// (explore::walk_alike). Where it holds an error, a second walk goes on behind errors.
VariantResult result_of(const model::Protocol& protocol, const Options& options, const Prepared& prepared, const Walked& first);

}  // namespace stepward::check
