#pragma once
// One variant: lowered, woven, walked; what was found, with its story, still apart from other variants.

#include <optional>

#include "check/one_mistake.hpp"
#include "check/verdict.hpp"

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

struct VariantResult {
  VariantWalk walk;
  std::vector<Sighting> sightings;
  std::set<std::uint32_t> endings_reached;             ///< ending ids
  std::set<std::pair<std::uint32_t, std::uint32_t>> arms_taken, arms;  ///< by place of the arm in the source
  std::set<std::uint32_t> rules_untested;
};

VariantResult check_variant(const model::Protocol& protocol, const model::Variant& variant, const Options& options);

}  // namespace stepward::check
