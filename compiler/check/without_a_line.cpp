#include "check/without_a_line.hpp"

#include <map>

#include "effects/ways.hpp"
#include "explore/runs_through.hpp"
#include "graph/from_model.hpp"
#include "graph/slip_ways.hpp"
#include "rules/advice.hpp"
#include "rules/weave.hpp"

namespace stepward::check {
namespace {

using effects::Formula;

/// The protocol with its rules as advice, so that no run is cut where one is broken; without those that nobody asks of.
model::Protocol with_wanted_as_advice(const model::Protocol& protocol, const std::vector<bool>& wanted) {
  model::Protocol out = protocol;
  out.set_aside.clear();
  for (std::size_t r = 0; r < out.rules.size(); ++r)
    if (!wanted[r]) out.rules[r] = model::Rule();
  return rules::with_rules_as_advice(out);
}

void add_ways_past(effects::Lowered& lowered, const graph::Graph& graph) {
  effects::System& system = lowered.system;
  const effects::FieldId slipped = lowered.world.monitor(UINT32_MAX - 1, 0, 1, 0);
  const effects::GuardId not_yet = effects::GuardBook(system.guards).file(Formula::is(slipped, 0));
  const auto op = static_cast<std::uint32_t>(system.ops.size());
  system.ops.push_back({effects::OpKind::set, effects::GuardId(0u), slipped, {}, 1, 0});
  std::vector<effects::Way> ways;
  for (std::uint32_t n = 0; n < graph.nodes.size(); ++n) {
    if (graph.nodes[n].kind != graph::NodeKind::line) continue;
    effects::Edge past;
    past.guard = not_yet;
    past.first_op = op;
    past.op_count = 1;
    past.by = graph::NodeId(n);
    past.target = graph::behind_line(graph, graph::NodeId(n));
    ways.push_back({graph::NodeId(n), past});
  }
  effects::add_ways(system, ways);
}

}  // namespace

std::vector<Omission> broken_without_a_line(const model::Protocol& protocol, const std::vector<bool>& wanted, const model::Variant& variant, const Options& options) {
  const model::Protocol advised = with_wanted_as_advice(protocol, wanted);
  const graph::Graph graph = graph::from_model(advised, variant, graph::Contexts::apart);
  effects::Lowered lowered = rules::woven(advised, graph, effects::HoldBack::no);
  add_ways_past(lowered, graph);
  const effects::System system = effects::finish(std::move(lowered), true);
  const explore::Packed packed = explore::pack(system, true);
  explore::Options how;
  how.interruptions = false;
  how.limit = options.limit;
  const explore::Result result = explore::walk(packed, how);
  std::vector<bool> of_rules;
  for (effects::ReportId r : packed.reports) of_rules.push_back(static_cast<bool>(system.reports[r.value].rule));
  std::map<model::RuleId, Omission> broken;
  for (const explore::Met& met : explore::steps_that_meet(packed, result, of_rules)) {
    const model::RuleId rule = system.reports[packed.reports[met.report].value].rule;
    Omission& omission = broken.try_emplace(rule, Omission{rule, false}).first->second;
    omission.alone |= !met.cut;
  }
  std::vector<Omission> out;
  // What was not walked to the end proves no absence: then every rule that breaks may do so alone.
  for (auto& [rule, omission] : broken) out.push_back({rule, omission.alone || !result.complete});
  return out;
}

}  // namespace stepward::check
