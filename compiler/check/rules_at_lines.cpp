#include "check/rules_at_lines.hpp"

#include "graph/from_model.hpp"
#include "rules/weave.hpp"

namespace stepward::check {
namespace {

using effects::FieldMeaning;
using effects::OpKind;
using model::Pattern;

class RuleFinder {
 public:
  RuleFinder(const model::Protocol& protocol, const graph::Graph& graph, const effects::System& system)
      : protocol_(protocol), graph_(graph), system_(system), found_(protocol.rules.size()) {}

  std::vector<RuleAtLines> find() {
    for (const effects::Edge& edge : system_.edges) read(edge);
    for (const effects::Edge& edge : system_.strikes) read(edge);
    for (const effects::Report& each : system_.never_broken) asked(each);
    return std::move(found_);
  }

 private:
  void read(const effects::Edge& edge) {
    for (std::uint32_t i = edge.first_op; i < edge.first_op + edge.op_count; ++i) {
      const effects::Op& op = system_.ops[i];
      if (op.kind == OpKind::report) asked(system_.reports[op.value]);
      if (op.kind == OpKind::mark) timed(system_.marks[op.value]);
      if (op.kind == OpKind::set && op.value > 0) falls_due(system_.fields[op.a.value].meaning, edge.by);
    }
  }

  void asked(const effects::Report& report) {
    if (!report.rule) return;
    const Pattern pattern = protocol_[report.rule].pattern;
    RuleAtLines& at = found_[report.rule.value];
    if (pattern == Pattern::always) at.throughout = true;
    else if (pattern != Pattern::right_after_each) note(at, report.node, report.line);
  }

  void timed(const effects::Mark& mark) {
    const effects::Timing& timing = system_.timings[mark.timing];
    if (timing.rule) note(found_[timing.rule.value], mark.node, mark.line);
  }

  void falls_due(const FieldMeaning& meaning, graph::NodeId node) {
    if (meaning.what != FieldMeaning::What::monitor || protocol_.rules[meaning.index].pattern != Pattern::right_after_each) return;
    note(found_[meaning.index], node, node ? graph_[node].line : model::LineId());
  }

  void note(RuleAtLines& at, graph::NodeId node, model::LineId line) const {
    if (line) at.lines.insert(line);
    else if (node && graph_[node].ending) at.endings.insert(graph_[node].ending);
    else at.at_interruptions = true;
  }

  const model::Protocol& protocol_;
  const graph::Graph& graph_;
  const effects::System& system_;
  std::vector<RuleAtLines> found_;
};

}  // namespace

std::vector<RuleAtLines> rules_at_lines(const model::Protocol& protocol, const model::Variant& variant) {
  const graph::Graph graph = graph::from_model(protocol, variant);
  effects::Lowered lowered = effects::from_graph(protocol, graph, effects::HoldBack::no);
  const std::vector<model::RuleId> untested = rules::weave(protocol, lowered, effects::HoldBack::no);
  lowered.system.fields = lowered.world.fields();
  std::vector<RuleAtLines> found = RuleFinder(protocol, graph, lowered.system).find();
  for (const model::RuleId rule : untested) found[rule.value] = {};
  return found;
}

}  // namespace stepward::check
