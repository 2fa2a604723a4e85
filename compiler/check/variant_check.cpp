#include "check/variant_check.hpp"

#include <algorithm>

#include "check/clocks.hpp"
#include "check/stories.hpp"
#include "check/what_multiplies.hpp"
#include "explore/runs_through.hpp"
#include "graph/from_model.hpp"
#include "model/blocks.hpp"
#include "model/variants.hpp"
#include "rules/weave.hpp"
#include "wording/messages.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using diagnostics::Severity;
using effects::HoldBack;

Prepared prepare_for(const model::Protocol& protocol, graph::Graph graph, const Options& options, HoldBack hold_back, const Tamper& tamper = {}) {
  Prepared out{graph.variant, std::move(graph), {}, {}, {}, {}};
  effects::Lowered lowered = effects::from_graph(protocol, out.graph, hold_back);
  out.untested = rules::weave(protocol, lowered, hold_back);
  for (model::RoleId p : lowered.world.people())
    for (model::ItemId i : lowered.world.hand_items(p)) out.hand_layers.push_back(lowered.world.worn_bearer(p, i));
  if (tamper) {
    lowered.system.fields = lowered.world.fields();
    tamper(lowered.system);
  }
  out.system = effects::finish(std::move(lowered), options.reduce);
  out.packed = explore::pack(out.system, hold_back == HoldBack::no);
  explore::drop_what_was_packed(out.system);
  return out;
}

Walked walk(const Prepared& prepared, const Options& options) {
  explore::Options how;
  how.interruptions = options.interruptions;
  how.limit = options.limit;
  how.threads = options.workers;
  Walked out{explore::walk(prepared.packed, how), {}};
  out.result.complete = out.result.complete && prepared.packed.fits;
  if (out.result.complete) out.sums = explore::path_sums(out.result);
  return out;
}

const effects::Report& report_of(const Prepared& prepared, const explore::Found& f) {
  return prepared.system.reports[prepared.packed.reports[f.report].value];
}

// Which layers the hands of each line's doer are before and after it, read off the states.
class HandReader {
 public:
  explicit HandReader(const model::Protocol& protocol, const Prepared& w) : graph_(w.graph), packed_(w.packed), layers_(protocol.roles.size()) {
    for (const effects::Bearer& b : w.hand_layers)
      for (std::size_t i = 0; i < w.system.fields.size(); ++i) {
        const effects::FieldMeaning& m = w.system.fields[i].meaning;
        if (m.what == effects::FieldMeaning::What::worn && m.bearer == b) layers_[b.person.value].push_back({w.packed.fields[i], b.item});
      }
    for (const graph::Node& node : graph_.nodes) doer_.push_back(node.line ? protocol[node.line].who : model::RoleId());
    for (const effects::Edge& e : w.system.edges) by_.push_back(e.by.value);
    before_.resize(graph_.nodes.size());
    after_.resize(graph_.nodes.size());
  }

  void read(const explore::Result& result) {
    for (std::uint32_t s = 0; s < result.size(); ++s) {
      const std::uint64_t* state = result.state(s);
      const std::uint32_t at = explore::get(state, packed_.node);
      note(before_, at, state);
      for (graph::NodeId beside : graph_.nodes[at].instead) note(before_, beside.value, state);
      if (result.via[s] == UINT32_MAX || result.via[s] >= packed_.first_strike) continue;
      note(after_, by_[result.via[s]], state);
    }
  }

  void write(VariantWalk& out) const {
    for (std::uint32_t n = 0; n < graph_.nodes.size(); ++n) {
      const graph::Node& node = graph_.nodes[n];
      if (!node.line) continue;
      if (node.kind == graph::NodeKind::line) add(before_[n], n, out.hands_before[node.line]);
      add(after_[n], n, out.hands_after[node.line]);
    }
    // A line that no run comes to has no hands.
    for (auto* hands : {&out.hands_before, &out.hands_after}) std::erase_if(*hands, [](const auto& line) { return line.second.empty(); });
  }

 private:
  struct Layer { explore::Slot worn; model::ItemId item; };
  using Seen = std::vector<std::uint64_t>;  ///< by node, bit k: layer k of the doer was outermost; the bit behind them: bare

  void note(Seen& seen, std::uint32_t node, const std::uint64_t* state) {
    if (!doer_[node]) return;
    std::size_t k = 0;
    const auto& layers = layers_[doer_[node].value];
    while (k < layers.size() && !explore::get(state, layers[k].worn)) ++k;
    seen[node] |= std::uint64_t(1) << k;
  }

  void add(std::uint64_t seen, std::uint32_t node, std::set<model::ItemId>& out) const {
    const auto& layers = layers_[doer_[node].value];
    for (std::size_t k = 0; k <= layers.size(); ++k)
      if (seen >> k & 1) out.insert(k < layers.size() ? layers[k].item : model::ItemId());
  }

  const graph::Graph& graph_;
  const explore::Packed& packed_;
  std::vector<std::vector<Layer>> layers_;  ///< by role
  std::vector<model::RoleId> doer_;         ///< by node
  std::vector<std::uint32_t> by_;           ///< by edge: the node whose line it is
  Seen before_, after_;
};

/// How many runs need each rule set aside.
void count_excepted(const Prepared& w, const explore::Result& result, VariantResult& out) {
  std::map<std::uint32_t, std::vector<std::uint32_t>> steps;
  std::vector<bool> wanted;
  for (effects::ReportId r : w.packed.reports) wanted.push_back(w.system.reports[r.value].set_aside != UINT32_MAX);
  for (const explore::Met& met : explore::steps_that_meet(w.packed, result, wanted)) steps[w.system.reports[w.packed.reports[met.report].value].set_aside].push_back(met.successor);
  for (auto& [aside, taken] : steps) {
    taken.erase(std::unique(taken.begin(), taken.end()), taken.end());
    out.runs_excepted[aside] = result.complete ? explore::runs_through(result, taken) : 0;
  }
}

void note_arms(const Prepared& w, const explore::Result& result, VariantResult& out) {
  const graph::Graph& graph = w.graph;
  for (std::uint32_t n = 0; n < graph.nodes.size(); ++n) {
    const graph::Node& node = graph.nodes[n];
    if (node.kind == graph::NodeKind::finish && result.node_reached[n]) out.walk.endings_reached.insert(node.ending);
    if (node.kind != graph::NodeKind::question) continue;
    for (std::uint32_t a = 0; a < node.arms.size(); ++a) {
      const std::pair<std::uint32_t, std::uint32_t> key{node.arms[a].span.file.value, node.arms[a].span.begin};
      out.arms.insert(key);
      if (result.edge_taken[w.system.nodes[n].first + a]) out.arms_taken.insert(key);
    }
  }
}

/// Answers that no run gives, at none of the places that a question stands at.
void note_arms_never_taken(const Prepared& w, const explore::Result& result, std::set<graph::ArmPlace>& untaken) {
  std::set<graph::ArmPlace> taken;
  for (std::uint32_t n = 0; n < w.graph.nodes.size(); ++n) {
    const graph::Node& node = w.graph.nodes[n];
    if (node.kind != graph::NodeKind::question || node.arms.empty()) continue;
    for (std::uint32_t a = 0; a < w.system.nodes[n].count; ++a) {
      const graph::ArmPlace place = a < node.arms.size() ? graph::place_of_arm(node.arms[a].span) : graph::place_behind(node.arms.back().span);
      (result.edge_taken[w.system.nodes[n].first + a] ? taken : untaken).insert(place);
    }
  }
  for (const graph::ArmPlace& place : taken) untaken.erase(place);
}

}  // namespace

effects::System as_lowered(const model::Protocol& protocol, const graph::Graph& graph, HoldBack hold_back) {
  effects::Lowered lowered = rules::woven(protocol, graph, hold_back);
  lowered.system.fields = lowered.world.take_fields();
  return std::move(lowered.system);
}

source::Span place_of_report(const model::Protocol& protocol, const graph::Graph& graph, const effects::Report& r) {
  if (r.line) return protocol[r.line].span;
  if (!r.node) return protocol.document.span;
  const graph::Node& node = graph[r.node];
  if (r.code == diagnostics::Code::F601) return node.arms[r.skipped_arm].span;
  return node.until ? node.until->span : node.span;
}

Prepared prepare(const model::Protocol& protocol, const model::Variant& variant, const Options& options) {
  return prepare_for(protocol, graph::from_model(protocol, variant, graph::Contexts::apart), options, HoldBack::no);
}

Walked first_walk(const Prepared& prepared, const Options& options) {
  Walked out = walk(prepared, options);
  if (!has_error(prepared, out)) return out;
  // Of such a walk nothing but what it found is asked again, and the second one needs the room.
  explore::Result found(out.result.words);
  found.complete = out.result.complete;
  found.stopped = out.result.stopped;
  found.found = std::move(out.result.found);
  return {std::move(found), out.sums};
}

bool has_error(const Prepared& prepared, const Walked& walked) {
  return std::any_of(walked.result.found.begin(), walked.result.found.end(),
                     [&](const explore::Found& f) { return report_of(prepared, f).severity == Severity::error; });
}

namespace {

// Words the findings of a walk, those of errors with their stories.
class FindingWriter {
 public:
  /// `first_hand`: the reports that some run comes to without an error before it.
  FindingWriter(const model::Protocol& protocol, const Prepared& prepared, const Walked& walked, HoldBack hold_back, std::set<std::uint32_t> first_hand)
      : protocol_(protocol), prepared_(prepared), walked_(walked), first_hand_(std::move(first_hand)),
        timed_(time_findings(protocol, prepared, walked.result)) {
    // Only errors are told as stories, so a walk without one need not be lowered again for them.
    if (hold_back == HoldBack::no && std::none_of(timed_.begin(), timed_.end(), [](const TimeFinding& t) { return t.run.has_value(); })) return;
    course_ = graph::number_steps(protocol, prepared.variant);
    whole_ = as_lowered(protocol, prepared.graph, hold_back);
  }

  /// What is broken or left open of bounds on time.
  std::vector<Sighting> sightings_of_time() const {
    std::vector<Sighting> out;
    if (timed_.empty()) return out;
    const auto times = line_times(protocol_, prepared_.graph);
    for (const TimeFinding& t : timed_) {
      Sighting s{t.report, t.at, t.steps, false, t.args, {}, {}, {}};
      if (t.run) tell(s, clock_story(prepared_.system, prepared_.packed, times, *t.run), t.report);
      list_if_set_aside(s);
      out.push_back(std::move(s));
    }
    return out;
  }

  Sighting sighting(const explore::Found& f) const {
    const effects::Report& r = report_of(prepared_, f);
    Sighting s;
    s.report = r;
    s.at = place_of_report(protocol_, prepared_.graph, r);
    s.steps = f.steps;
    s.args = wording::report_args(protocol_, r);
    if (r.severity != Severity::error) return s;
    s.follows = !first_hand_.count(prepared_.packed.reports[f.report].value);
    if (s.follows) s.report.severity = Severity::warning;
    tell(s, explore::tell(whole_, prepared_.packed, walked_.result, f), r);
    return s;
  }

 private:
  /// Times are reckoned behind the walk; where their rule is set aside, what is not kept is listed like all else.
  void list_if_set_aside(Sighting& s) const {
    const auto& nodes = prepared_.graph.nodes;
    const auto stands = std::find_if(nodes.begin(), nodes.end(), [&](const graph::Node& n) { return s.report.line && n.line == s.report.line; });
    const model::BlockId in = stands != nodes.end() ? stands->in : s.report.node ? prepared_.graph[s.report.node].in : model::BlockId();
    for (std::uint32_t i = 0; in && s.report.rule && i < protocol_.set_aside.size(); ++i) {
      const model::SetAside& aside = protocol_.set_aside[i];
      if (aside.rule != s.report.rule || !model::blocks_within(protocol_, aside.blocks)[in.value]) continue;
      s.report.set_aside = i;
      s.report.code = diagnostics::Code::R105;
      s.report.severity = Severity::note;
      s.args = wording::report_args(protocol_, s.report);
      s.story.clear();
      return;
    }
  }

  void tell(Sighting& s, const explore::Story& story, const effects::Report& r) const {
    const graph::Graph& graph = prepared_.graph;
    s.story = story_lines(protocol_, graph, course_, whole_, prepared_.packed, story, r, wording::headline(r.code, s.args));
    s.traces = traces_of(protocol_, graph, whole_, prepared_.packed, story, r);
    if (const effects::Report* skipped = skipped_arm_of(whole_, story, r))
      s.skipped = {place_of_report(protocol_, graph, *skipped), wording::report_args(protocol_, *skipped)};
  }

  const model::Protocol& protocol_;
  const Prepared& prepared_;
  const Walked& walked_;
  std::set<std::uint32_t> first_hand_;
  std::vector<TimeFinding> timed_;
  graph::Course course_;
  effects::System whole_;
};

VariantResult words_of(const model::Protocol& protocol, const Prepared& prepared, const Walked& w, const FindingWriter& writer) {
  VariantResult out;
  out.walk = {prepared.variant, model::variant_name(protocol, prepared.variant), w.result.size(), w.result.transitions, w.sums.longest, w.sums.paths,
              w.result.complete && w.sums.acyclic, w.result.words * 8, {}, {}, false, {}, {}, {}, {}, {}};
  HandReader hands(protocol, prepared);
  hands.read(w.result);
  hands.write(out.walk);
  note_arms(prepared, w.result, out);
  if (out.walk.complete) note_arms_never_taken(prepared, w.result, out.walk.arms_never);
  out.stopped = w.result.stopped;
  out.steps = static_cast<std::uint32_t>(w.result.depth_ends.size());
  if (out.stopped != explore::Stopped::no) out.multipliers = what_multiplies(protocol, prepared, w.result);
  count_excepted(prepared, w.result, out);
  for (model::RuleId r : prepared.untested) out.rules_untested.insert(r.value);
  for (const explore::Found& f : w.result.found) {
    out.sightings.push_back(writer.sighting(f));
    const effects::Report& r = out.sightings.back().report;
    if (r.line && r.set_aside != UINT32_MAX) out.walk.set_aside[r.line].insert(r.set_aside);
  }
  for (Sighting& s : writer.sightings_of_time()) out.sightings.push_back(std::move(s));
  return out;
}

/// Where rules are broken first: the first walk cuts every run at its first error.
std::set<model::PhaseId> phases_of_broken_rules(const model::Protocol& protocol, const Prepared& prepared, const explore::Result& first) {
  std::set<model::PhaseId> out;
  for (const explore::Found& f : first.found) {
    const effects::Report& r = report_of(prepared, f);
    if (!r.rule || r.severity != Severity::error) continue;
    const model::PhaseId phase = r.node ? prepared.graph[r.node].phase : model::PhaseId();
    if (phase) out.insert(phase);
    else for (std::size_t p = 0; p < protocol.phases.size(); ++p) out.insert(model::PhaseId(p));
  }
  return out;
}

}  // namespace

VariantResult result_of(const model::Protocol& protocol, const Options& options, const Prepared& prepared, const Walked& first) {
  if (!has_error(prepared, first)) {
    VariantResult result = words_of(protocol, prepared, first, {protocol, prepared, first, HoldBack::no, {}});
    result.walk.stock_known = result.walk.complete;
    if (result.walk.complete) result.walk.stock = stock_needs(protocol, prepared.graph, prepared.system, prepared.packed, first.result, first.sums.order);
    return result;
  }
  // Both walks lower the same lines in the same order, so a report has the same number in both.
  std::set<std::uint32_t> first_hand;
  for (const explore::Found& f : first.result.found) first_hand.insert(prepared.packed.reports[f.report].value);
  const Prepared second = prepare_for(protocol, prepared.graph, options, HoldBack::yes);
  const Walked walked = walk(second, options);
  VariantResult result = words_of(protocol, second, walked, {protocol, second, walked, HoldBack::yes, std::move(first_hand)});
  result.walk.broken_in = phases_of_broken_rules(protocol, prepared, first.result);
  return result;
}

PlainWalk plain_walk(const model::Protocol& protocol, const model::Variant& variant, bool reduce, const Tamper& tamper) {
  Options options;
  options.reduce = reduce;
  return plain_walk(protocol, variant, options, tamper);
}

PlainWalk plain_walk(const model::Protocol& protocol, const model::Variant& variant, const Options& options, const Tamper& tamper) {
  const Prepared prepared =
      prepare_for(protocol, graph::from_model(protocol, variant, graph::Contexts::apart), options, HoldBack::no, tamper);
  const Walked walked = walk(prepared, options);
  const explore::Result& result = walked.result;
  PlainWalk out{{}, result.size(), result.complete, walked.sums.longest};
  for (const explore::Found& f : result.found) {
    const effects::Report& r = report_of(prepared, f);
    std::string about = r.rule ? protocol[r.rule].number : r.has_thing ? wording::bearer_name(protocol, r.thing)
                        : r.decision ? protocol[r.decision].name
                        : r.timer ? protocol[r.timer].name : "";
    out.findings.push_back({r.code, r.line, std::move(about), f.steps, place_of_report(protocol, prepared.graph, r)});
  }
  for (const TimeFinding& t : time_findings(protocol, prepared, result))
    out.findings.push_back({t.report.code, t.report.line, t.report.rule ? protocol[t.report.rule].number : protocol[t.report.timer].name, t.steps, t.at});
  return out;
}

}  // namespace stepward::check
