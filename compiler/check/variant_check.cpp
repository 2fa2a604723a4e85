#include "check/variant_check.hpp"

#include <algorithm>

#include "check/stories.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"
#include "rules/weave.hpp"
#include "wording/messages.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using diagnostics::Severity;
using effects::HoldBack;

struct Walked {
  effects::System system;
  explore::Packed packed;
  explore::Result result;
  std::vector<model::RuleId> untested;
  std::vector<effects::Bearer> hand_layers;  ///< of everybody, each person's outermost first
};

Walked walk_once(const model::Protocol& protocol, const graph::Graph& graph, const Options& options, HoldBack hold_back, const Tamper& tamper = {}) {
  effects::Lowered lowered = effects::from_graph(protocol, graph, hold_back);
  Walked w;
  w.untested = rules::weave(protocol, lowered, hold_back);
  for (model::RoleId p : lowered.world.people())
    for (model::ItemId i : lowered.world.hand_items(p)) w.hand_layers.push_back(lowered.world.worn_bearer(p, i));
  if (tamper) {
    lowered.system.fields = lowered.world.fields();
    tamper(lowered.system);
  }
  w.system = effects::finish(std::move(lowered), options.reduce);
  w.packed = explore::pack(w.system, hold_back == HoldBack::no);
  explore::Options walk_options;
  walk_options.cut = hold_back == HoldBack::no;
  walk_options.interruptions = options.interruptions;
  walk_options.limit = options.limit;
  w.result = explore::walk(w.packed, walk_options, w.system.reports.size());
  w.result.complete = w.result.complete && w.packed.fits;
  return w;
}

// The same system before it is simplified, for stories: there a guard still names all that it asks, also what cannot be
// otherwise. Edges, reports and causes have the same numbers in both.
effects::System as_lowered(const model::Protocol& protocol, const graph::Graph& graph, HoldBack hold_back) {
  effects::Lowered lowered = effects::from_graph(protocol, graph, hold_back);
  rules::weave(protocol, lowered, hold_back);
  lowered.system.fields = lowered.world.take_fields();
  return std::move(lowered.system);
}

bool has_error(const Walked& w) {
  return std::any_of(w.result.found.begin(), w.result.found.end(),
                     [&](const explore::Found& f) { return w.system.reports[f.report.value].severity == Severity::error; });
}

source::Span place_of(const model::Protocol& protocol, const graph::Graph& graph, const effects::Report& r) {
  if (r.line) return protocol[r.line].span;
  if (!r.node) return protocol.document.span;
  const graph::Node& node = graph[r.node];
  if (r.code == diagnostics::Code::F601) return node.arms[r.skipped_arm].span;
  return node.until ? node.until->span : node.span;
}

// Which layers the hands of each line's doer are before and after it, read off the states.
void note_hands(const model::Protocol& protocol, const graph::Graph& graph, const Walked& w, VariantWalk& out) {
  struct Layer { explore::Slot worn; model::ItemId item; };
  std::map<std::uint32_t, std::vector<Layer>> layers;
  for (const effects::Bearer& b : w.hand_layers)
    for (std::size_t i = 0; i < w.system.fields.size(); ++i) {
      const effects::FieldMeaning& m = w.system.fields[i].meaning;
      if (m.what == effects::FieldMeaning::What::worn && m.bearer == b) layers[b.person.value].push_back({w.packed.fields[i], b.item});
    }
  const auto outermost = [&](const std::uint64_t* state, model::RoleId who) {
    for (const Layer& l : layers[who.value]) if (explore::get(state, l.worn)) return l.item;
    return model::ItemId();
  };
  for (std::uint32_t s = 0; s < w.result.size(); ++s) {
    const std::uint64_t* state = w.result.state(s);
    const graph::Node& node = graph[graph::NodeId(explore::get(state, w.packed.node))];
    if (node.kind == graph::NodeKind::line) out.hands_before[node.line].insert(outermost(state, protocol[node.line].who));
    if (w.result.via[s] == UINT32_MAX || w.result.via[s] >= w.packed.first_strike) continue;
    const graph::Node& from = graph[graph::NodeId(explore::get(w.result.state(w.result.parent[s]), w.packed.node))];
    if (from.line) out.hands_after[from.line].insert(outermost(state, protocol[from.line].who));
  }
}

void note_arms(const graph::Graph& graph, const Walked& w, VariantResult& out) {
  for (std::uint32_t n = 0; n < graph.nodes.size(); ++n) {
    const graph::Node& node = graph.nodes[n];
    if (node.kind == graph::NodeKind::finish && w.result.node_reached[n]) out.endings_reached.insert(node.ending.value);
    if (node.kind != graph::NodeKind::question) continue;
    for (std::uint32_t a = 0; a < node.arms.size(); ++a) {
      const std::pair<std::uint32_t, std::uint32_t> key{node.arms[a].span.file.value, node.arms[a].span.begin};
      out.arms.insert(key);
      if (w.result.edge_taken[w.system.nodes[n].first + a]) out.arms_taken.insert(key);
    }
  }
}

}  // namespace

VariantResult check_variant(const model::Protocol& protocol, const model::Variant& variant, const Options& options) {
  const graph::Graph graph = graph::from_model(protocol, variant, graph::Contexts::apart);
  VariantResult out;
  Walked w = walk_once(protocol, graph, options, HoldBack::no);
  const HoldBack hold_back = has_error(w) ? HoldBack::yes : HoldBack::no;
  // Both walks lower the same lines in the same order, so a report has the same number in both.
  std::set<std::uint32_t> first_hand;
  for (const explore::Found& f : w.result.found) first_hand.insert(f.report.value);
  if (hold_back == HoldBack::yes) w = walk_once(protocol, graph, options, hold_back);
  const explore::PathSums sums = w.result.complete ? explore::path_sums(w.result) : explore::PathSums{};
  out.walk = {variant, model::variant_name(protocol, variant), w.result.size(), w.result.transitions, sums.longest, sums.paths,
              w.result.complete && sums.acyclic, w.result.words * 8, {}, {}};
  note_hands(protocol, graph, w, out.walk);
  note_arms(graph, w, out);
  for (model::RuleId r : w.untested) out.rules_untested.insert(r.value);
  // Only errors are told as stories, so a walk without one need not be lowered again for them.
  const bool tells = hold_back == HoldBack::yes;
  const graph::Course course = tells ? graph::number_steps(protocol, variant) : graph::Course{};
  const effects::System whole = tells ? as_lowered(protocol, graph, hold_back) : effects::System{};
  for (const explore::Found& f : w.result.found) {
    const effects::Report& r = w.system.reports[f.report.value];
    Sighting s;
    s.report = r;
    s.at = place_of(protocol, graph, r);
    s.steps = f.steps;
    s.args = wording::report_args(protocol, r);
    s.follows = r.severity == Severity::error && !first_hand.count(f.report.value);
    if (s.follows) s.report.severity = Severity::warning;
    if (r.severity == Severity::error) {
      const explore::Story story = explore::tell(whole, w.packed, w.result, f);
      s.story = story_lines(protocol, graph, course, whole, w.packed, story, r, wording::headline(r.code, s.args));
      s.traces = traces_of(protocol, graph, whole, w.packed, story, r);
      if (const effects::Report* skipped = skipped_arm_of(whole, story, r))
        s.skipped = {place_of(protocol, graph, *skipped), wording::report_args(protocol, *skipped)};
    }
    out.sightings.push_back(std::move(s));
  }
  return out;
}

PlainWalk plain_walk(const model::Protocol& protocol, const model::Variant& variant, bool reduce, const Tamper& tamper) {
  const graph::Graph graph = graph::from_model(protocol, variant, graph::Contexts::apart);
  Options options;
  options.reduce = reduce;
  const Walked w = walk_once(protocol, graph, options, HoldBack::no, tamper);
  PlainWalk out{{}, w.result.size(), w.result.complete};
  for (const explore::Found& f : w.result.found) {
    const effects::Report& r = w.system.reports[f.report.value];
    std::string about = r.rule ? protocol[r.rule].number : r.has_thing ? wording::bearer_name(protocol, r.thing)
                        : r.decision ? protocol[r.decision].name : "";
    out.findings.push_back({r.code, r.line, std::move(about), f.steps});
  }
  return out;
}

}  // namespace stepward::check
