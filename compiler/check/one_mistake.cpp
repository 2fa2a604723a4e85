#include "check/one_mistake.hpp"

#include <algorithm>

namespace stepward::check {
namespace {

using diagnostics::Code;
using effects::Bearer;
using effects::Report;
using Field = effects::FieldMeaning::What;

/// Dirt, duties, looks and what rules remember: what a mistake leaves behind. What is worn or where somebody stands is
/// changed by lines that do as they should.
bool is_left_behind(Field what) {
  switch (what) {
    case Field::level:
    case Field::known:
    case Field::owed:
    case Field::unlooked:
    case Field::worst:
    case Field::wet:
    case Field::monitor: return true;
    default: return false;
  }
}

PlaceKey place_of_step(const model::Protocol& p, const graph::Graph& graph, const explore::Packed& packed,
                       const explore::Root& root) {
  if (root.edge >= packed.first_strike) return key_of(p[model::InterruptionId(packed.edges[root.edge].strikes)].span);
  const graph::Node& node = graph[root.node];
  return key_of(node.line ? p[node.line].span : node.span);
}

/// Codes that say what became of a thing, rather than what a hand did to it.
bool is_about_its_thing(Code code) {
  switch (code) {
    case Code::P201:
    case Code::P401:
    case Code::P404:
    case Code::P601:
    case Code::P701:
    case Code::P702:
    case Code::P703:
    case Code::F201:
    case Code::F202: return true;
    default: return false;
  }
}

/// A look at the hands looks at whichever layer they are then.
Bearer hands_of(const model::Protocol& p, const Bearer& b) {
  if (b.what != Bearer::What::worn) return b;
  for (model::SiteId s : p[b.item].worn_on)
    if (p[s].is_hands) return {Bearer::What::site, b.person, {}, s, {}};
  return b;
}

std::set<Bearer> subjects_of(const model::Protocol& p, const effects::System& system, const explore::Story& story,
                             const Report& r) {
  std::set<Bearer> out;
  if (r.has_thing && is_about_its_thing(r.code)) {
    out.insert(r.thing);
    if (r.code == Code::F201 || r.code == Code::F202) out.insert(hands_of(p, r.thing));
    if (r.has_other && (r.code == Code::P401 || r.code == Code::P404)) out.insert(r.other);
  }
  if (!r.rule) return out;
  // A rule about dirt asks what the hands are only to know whose dirt it is.
  const auto asks = [&](effects::FieldId f, Field what) { return system.fields[f.value].meaning.what == what; };
  const bool of_dirt = std::any_of(story.asked.begin(), story.asked.end(), [&](auto f) { return asks(f, Field::level); });
  for (effects::FieldId f : story.asked)
    if (!of_dirt && asks(f, Field::worn)) out.insert(system.fields[f.value].meaning.bearer);
  return out;
}

template <typename T>
bool meet(const std::set<T>& a, const std::set<T>& b) {
  return std::any_of(a.begin(), a.end(), [&](const T& each) { return b.count(each) != 0; });
}

}  // namespace

PlaceKey key_of(source::Span span) { return {span.file.value, span.begin}; }

Traces traces_of(const model::Protocol& p, const graph::Graph& graph, const effects::System& system,
                 const explore::Packed& packed, const explore::Story& story, const Report& report) {
  Traces out;
  for (const explore::Root& root : story.roots)
    if (is_left_behind(system.fields[root.field.value].meaning.what)) out.origins.insert(place_of_step(p, graph, packed, root));
  for (const explore::StoryStep& step : story.steps)
    if (step.edge >= packed.first_strike) out.interruptions.insert(packed.edges[step.edge].strikes);
  out.subjects = subjects_of(p, system, story, report);
  return out;
}

// On a shortest run nothing is found at the bedside without need, so an arm that was skipped on it had to be skipped.
const Report* skipped_arm_of(const effects::System& system, const explore::Story& story, const Report& report) {
  if (diagnostics::code_name(report.code)[0] == 'F') return nullptr;
  for (auto id = story.on_the_way.rbegin(); id != story.on_the_way.rend(); ++id) {
    const Report& met = system.reports[id->value];
    if (met.code != Code::F601) continue;
    const bool same_duty = met.thing == report.thing && met.finding == report.finding;
    if (report.code != Code::P601 || same_duty) return &met;
  }
  return nullptr;
}

bool share_a_mistake(const Traces& a, const Traces& b) {
  return meet(a.origins, b.origins) || meet(a.interruptions, b.interruptions) || meet(a.subjects, b.subjects);
}

}  // namespace stepward::check
