#include <fmt/format.h>

#include "driver/dumps.hpp"
#include "effects/from_graph.hpp"
#include "graph/from_model.hpp"
#include "rules/weave.hpp"
#include "wording/step_text.hpp"
#include "wording/story.hpp"

namespace stepward::driver {
namespace {

using effects::FieldMeaning;
using effects::OpKind;

std::string node_name(const model::Protocol& protocol, const graph::Graph& graph, graph::NodeId id) {
  if (!id) return "-";
  const graph::Node& node = graph[id];
  switch (node.kind) {
    case graph::NodeKind::line: return fmt::format("{} {}", id.value, line_name(protocol, graph.variant, node.line));
    case graph::NodeKind::contact_end: return fmt::format("{} contact time is over", id.value);
    case graph::NodeKind::question: return fmt::format("{} question", id.value);
    case graph::NodeKind::loop_test: return fmt::format("{} loop test", id.value);
    case graph::NodeKind::finish: return fmt::format("{} finish as {}", id.value, protocol[node.ending].name);
    case graph::NodeKind::resume: return fmt::format("{} resume", id.value);
    case graph::NodeKind::off_the_end: return fmt::format("{} off the end", id.value);
    case graph::NodeKind::choice: return fmt::format("{} choice", id.value);
  }
  return "";
}

const char* word_for(FieldMeaning::What what) {
  switch (what) {
    case FieldMeaning::What::level: return "level";
    case FieldMeaning::What::worn: return "worn";
    case FieldMeaning::What::in_hand: return "in hand";
    case FieldMeaning::What::order: return "order";
    case FieldMeaning::What::known: return "known";
    case FieldMeaning::What::owed: return "owed";
    case FieldMeaning::What::reached: return "reached";
    case FieldMeaning::What::unlooked: return "unlooked";
    case FieldMeaning::What::worst: return "worst";
    case FieldMeaning::What::wet: return "wet";
    case FieldMeaning::What::zone: return "zone";
    case FieldMeaning::What::declared: return "declared";
    case FieldMeaning::What::recorded: return "recorded";
    case FieldMeaning::What::answer: return "answer";
    case FieldMeaning::What::struck: return "struck";
    case FieldMeaning::What::loop: return "loop";
    case FieldMeaning::What::running: return "timer";
    case FieldMeaning::What::monitor: return "rule memory";
    case FieldMeaning::What::told: return "told";
    case FieldMeaning::What::missed: return "missed";
    case FieldMeaning::What::scratch: return "scratch";
  }
  return "";
}

/// "neck band of plastic apron"; the thing alone where no surface is meant.
std::string surface_name(const model::Protocol& protocol, const effects::Bearer& bearer, std::uint8_t part) {
  const std::string thing = wording::bearer_name(protocol, bearer);
  if (!bearer.item || part >= protocol[bearer.item].surfaces.size()) return thing;
  return protocol[bearer.item].surfaces[part].name + " of " + thing;
}

class Writer {
 public:
  Writer(const model::Protocol& protocol, const graph::Graph& graph, const effects::System& system)
      : protocol_(protocol), graph_(graph), system_(system) {}

  std::string write() {
    put_fields();
    for (std::uint32_t n = 0; n < system_.nodes.size(); ++n) put_node(graph::NodeId(n));
    for (const effects::Edge& strike : system_.strikes) {
      text_ += fmt::format("strike -> {}\n", node_name(protocol_, graph_, strike.target));
      put_ops(strike);
    }
    return std::move(text_);
  }

 private:
  void put_fields() {
    for (std::size_t i = 0; i < system_.fields.size(); ++i) {
      const effects::Field& field = system_.fields[i];
      if (!field.scratch) text_ += fmt::format("field {}: 0 to {}, begins at {}\n", name(effects::FieldId(i)), field.maximum, field.initial);
    }
  }

  void put_node(graph::NodeId id) {
    text_ += fmt::format("node {}\n", node_name(protocol_, graph_, id));
    const effects::Edges& edges = system_.nodes[id.value];
    for (std::uint32_t e = edges.first; e < edges.first + edges.count; ++e) {
      const effects::Edge& edge = system_.edges[e];
      text_ += fmt::format("  when {} -> {}\n", guard(edge.guard), edge.ends ? "end" : node_name(protocol_, graph_, edge.target));
      put_ops(edge);
    }
  }

  void put_ops(const effects::Edge& edge) {
    for (std::uint32_t o = edge.first_op; o < edge.first_op + edge.op_count; ++o) text_ += "    " + op(system_.ops[o]) + '\n';
  }

  std::string op(const effects::Op& op) const {
    const std::string when = op.guard.value == 0 ? "" : "  when " + guard(op.guard);
    switch (op.kind) {
      case OpKind::set: return fmt::format("set {} := {}{}", name(op.a), op.value, when);
      case OpKind::raise: return fmt::format("raise {} to {}{}", name(op.a), op.value, when);
      case OpKind::lift: return fmt::format("lift {} to {}{}", name(op.a), name(op.b), when);
      case OpKind::lift_suspect: return fmt::format("lift {} to {}, suspect at most{}", name(op.a), name(op.b), when);
      case OpKind::copy: return fmt::format("copy {} := {}{}", name(op.a), name(op.b), when);
      case OpKind::report: return fmt::format("report {}{}", diagnostics::code_name(system_.reports[op.value].code), when);
      case OpKind::moment: return fmt::format("moment{}", when);
      case OpKind::mark: return fmt::format("clock {}{}", system_.marks[op.value].timing, when);
    }
    return "";
  }

  std::string name(effects::FieldId id) const {
    const FieldMeaning& meaning = system_.fields[id.value].meaning;
    std::string text = word_for(meaning.what);
    const bool has_bearer = meaning.bearer.item || meaning.bearer.site || meaning.bearer.spot;
    if (has_bearer) text += '(' + surface_name(protocol_, meaning.bearer, meaning.part) + ')';
    if (meaning.finding) text += '[' + protocol_[meaning.finding].name + ']';
    return fmt::format("{}#{}", text, id.value);
  }

  std::string guard(effects::GuardId id) const {
    if (id.value == 0) return "always";
    std::string text;
    for (const effects::Clause& clause : system_.guards[id.value].any) {
      if (!text.empty()) text += " or ";
      for (std::size_t t = 0; t < clause.size(); ++t) text += (t == 0 ? "" : " and ") + test(clause[t]);
      if (clause.empty()) text += "always";
    }
    return text.empty() ? "never" : text;
  }

  std::string test(const effects::Test& test) const {
    std::string values;
    for (std::uint32_t v = 0; v <= system_.fields[test.field.value].maximum; ++v) {
      if (test.allowed >> v & 1) values += (values.empty() ? "" : ",") + std::to_string(v);
    }
    return fmt::format("{} in {{{}}}", name(test.field), values);
  }

  const model::Protocol& protocol_;
  const graph::Graph& graph_;
  const effects::System& system_;
  std::string text_;
};

}  // namespace

std::string dump_effects(const model::Protocol& protocol, const model::Variant& variant) {
  const graph::Graph graph = graph::from_model(protocol, variant);
  effects::Lowered lowered = rules::woven(protocol, graph, effects::HoldBack::no);
  const effects::System system = effects::finish(std::move(lowered), true);
  return Writer(protocol, graph, system).write();
}

std::string dump_graph(const model::Protocol& protocol, const model::Variant& variant) {
  const graph::Graph graph = graph::from_model(protocol, variant);
  std::string text = fmt::format("start {}\n", graph.start.value);
  for (std::uint32_t i = 0; i < graph.handler_start.size(); ++i) {
    text += fmt::format("{} starts {}\n", protocol.interruptions[i].name, graph.handler_start[i].value);
  }
  for (std::uint32_t n = 0; n < graph.nodes.size(); ++n) {
    const graph::Node& node = graph.nodes[n];
    text += node_name(protocol, graph, graph::NodeId(n));
    for (const graph::Arm& arm : node.arms) {
      text += fmt::format("\n  {} -> {}", arm.condition ? wording::condition_phrase(protocol, variant, *arm.condition) : "otherwise", arm.target.value);
    }
    if (node.until) text += fmt::format("\n  until {}, at most {}; again -> {}; given up -> {}", wording::condition_phrase(protocol, variant, *node.until), node.at_most, node.body.value, node.fallback.value);
    if (node.next) text += fmt::format("\n  next -> {}", node.next.value);
    text += '\n';
  }
  return text;
}

}  // namespace stepward::driver
