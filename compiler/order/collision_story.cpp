#include "order/collision_story.hpp"

#include <algorithm>

#include "check/stories.hpp"
#include "graph/numbering.hpp"

namespace stepward::order {
namespace {

bool is_choice_step(const OpenVariant& variant, graph::NodeId at) { return variant.open.graph[at].kind == graph::NodeKind::choice; }

void add_change(explore::StoryStep& step, const explore::Change& change) {
  const bool known = std::any_of(step.changes.begin(), step.changes.end(), [&](const explore::Change& c) { return c.field == change.field && c.cause == change.cause; });
  if (!known) step.changes.push_back(change);
}

void add_step(explore::Story& story, explore::StoryStep step) {
  const auto at = std::find_if(story.steps.begin(), story.steps.end(), [&](const explore::StoryStep& s) { return s.number >= step.number; });
  if (at == story.steps.end() || at->number != step.number) { story.steps.insert(at, std::move(step)); return; }
  for (const explore::Change& change : step.changes) add_change(*at, change);
}

/// Choosing the next line is no step that anybody takes, so numbers leave it out.
std::uint32_t number_without_choices(const OpenVariant& variant, const BrokenRun& run, std::uint32_t number) {
  const auto first = run.steps.begin();
  return number - static_cast<std::uint32_t>(std::count_if(first, first + number, [&](const BrokenRun::Step& s) { return is_choice_step(variant, s.at); }));
}

void add_past(const OpenVariant& variant, const effects::System& whole, const BrokenRun& run, explore::Story& story) {
  std::vector<std::uint32_t> edges;
  for (const BrokenRun::Step& step : run.steps) edges.push_back(step.edge);
  const explore::Story told = explore::tell(whole, variant.packed, edges, run.report);
  for (explore::StoryStep step : told.steps) {
    if (step.number > run.before || is_choice_step(variant, run.steps[step.number - 1].at)) continue;
    step.number = number_without_choices(variant, run, step.number);
    add_step(story, std::move(step));
  }
  for (effects::FieldId f : told.from_the_start)
    if (std::find(story.from_the_start.begin(), story.from_the_start.end(), f) == story.from_the_start.end()) story.from_the_start.push_back(f);
}

}  // namespace

std::vector<diagnostics::StoryLine> story_of_situation(const model::Protocol& protocol, const model::Protocol& advised, const OpenVariant& variant,
                                                       const std::vector<BrokenRun>& runs) {
  const effects::System whole = open_as_lowered(advised, variant.open);
  explore::Story story;
  for (const BrokenRun& run : runs) add_past(variant, whole, run, story);
  const graph::Course course = graph::number_steps(protocol, variant.open.graph.variant);
  std::vector<diagnostics::StoryLine> out = check::story_lines(protocol, variant.open.graph, course, whole, variant.packed, story, {}, "");
  out.pop_back();
  return out;
}

}  // namespace stepward::order
