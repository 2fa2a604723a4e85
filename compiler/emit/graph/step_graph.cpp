#include "emit/graph/step_graph.hpp"

#include <algorithm>

#include <map>
#include <set>

#include <fmt/format.h>

#include "emit/act_line.hpp"
#include "emit/graph/effects_of_steps.hpp"
#include "emit/graph/node_ids.hpp"
#include "emit/graph/ways.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"
#include "wording/step_text.hpp"

namespace stepward::emit::step_graph {
namespace {

class Maker {
 public:
  Maker(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course, const source::Files& files)
      : protocol_(protocol), variant_(variant), files_(files), ids_(protocol), graph_(graph::from_model(protocol, variant)), course_(course),
        facts_(facts_of_steps(protocol, graph_)) {}

  VariantGraph make() {
    made_.name = model::variant_name(protocol_, variant_);
    for (std::size_t c = 0; c < variant_.size(); ++c) {
      if (variant_[c] < 0) continue;
      made_.choices.push_back({protocol_.choices[c].name, protocol_.choices[c].values[static_cast<std::size_t>(variant_[c])].name});
    }
    add_start();
    add_lines(false);
    add_interruptions();
    add_lines(true);
    drop_unreached();
    for (Edge& edge : made_.edges) edge.id = id_of(edge);
    measure(made_);
    return std::move(made_);
  }

 private:
  void add_start() {
    Node start;
    start.id = "start";
    start.kind = NodeKind::start;
    start.text = protocol_.document.title;
    made_.nodes.push_back(std::move(start));
    connect("start", graph_.start, EdgeKind::next);
  }

  /// A node has one edge of each kind, but an answer each for the arms of a question, and the start a strike for each
  /// interruption.
  static std::string id_of(const Edge& edge) {
    const std::string_view kind = name_of(edge.kind);
    if (edge.kind == EdgeKind::strikes) return fmt::format("{}:{}", edge.to, kind);
    return edge.kind == EdgeKind::yes ? fmt::format("{}:{}_{}", edge.from, kind, edge.order) : fmt::format("{}:{}", edge.from, kind);
  }

  /// The graph is laid out from its end, so reading order is the other way round.
  void add_lines(bool of_interruptions) {
    for (std::size_t n = graph_.nodes.size(); n-- > 0;) {
      if (static_cast<bool>(graph_.nodes[n].handler) == of_interruptions) add(graph_.nodes[n]);
    }
  }

  void add_interruptions() {
    for (std::uint32_t i = 0; i < protocol_.interruptions.size() && i < graph_.handler_start.size(); ++i) {
      const model::InterruptionId id(i);
      Node node;
      node.id = ids_.of(id);
      node.kind = NodeKind::interruption;
      node.text = protocol_[id].name;
      node.at = place_in(files_, protocol_[id].span);
      made_.nodes.push_back(node);
      made_.edges.push_back({"", "start", node.id, EdgeKind::strikes, "at any time, at most once", "", 0});
      connect(node.id, graph_.handler_start[i], EdgeKind::next);
    }
  }

  void add(const graph::Node& from) {
    if (from.kind == graph::NodeKind::contact_end) return;  // part of its step
    const std::string id = ids_.of(from);
    if (std::any_of(made_.nodes.begin(), made_.nodes.end(), [&](const Node& n) { return n.id == id; })) return;
    Node node;
    node.id = id;
    if (from.phase) node.phase = protocol_.phases[from.phase.value].name;
    if (from.handler) node.interruption = protocol_[from.handler].name;
    node.at = place_in(files_, from.span);
    describe(from, node);
    made_.nodes.push_back(std::move(node));
  }

  void describe(const graph::Node& from, Node& node) {
    switch (from.kind) {
      case graph::NodeKind::line: describe_step(protocol_[from.line], from, node); break;
      case graph::NodeKind::question: describe_question(from, node); break;
      case graph::NodeKind::loop_test: describe_repeat(from, node); break;
      case graph::NodeKind::finish: describe_ending(protocol_[from.ending], node); break;
      case graph::NodeKind::resume:
        node.kind = NodeKind::resume;
        node.text = "go back to where the interruption struck";
        break;
      case graph::NodeKind::off_the_end:
        node.kind = NodeKind::loose_end;
        node.text = "the last line, with no ending after it";
        break;
      case graph::NodeKind::contact_end:
      case graph::NodeKind::choice: break;
    }
  }

  void describe_step(const model::Line& line, const graph::Node& from, Node& node) {
    const wording::Setting setting;
    const wording::StepText text = wording::step_text(protocol_, variant_, line, setting);
    node.kind = NodeKind::step;
    node.text = act_line(text.act);
    node.number = course_.label(from.line);
    node.line_id = line.id;
    node.who = protocol_[line.who].name;
    node.verb = name_of(line.verb);
    if (line.of) node.of = protocol_[line.of].name;
    name_things(line, node);
    for (const model::FindingId finding : line.findings) node.looks_for.push_back(protocol_[finding].name);
    name_what_else(line, node);
    node.words = text.words;
    node.spoken = text.spoken;
    node.contact_seconds = wording::contact_time(protocol_, variant_, line, setting).seconds;
    node.wait_seconds = line.wait.seconds;
    node.at_once = from.at_once;
    node.critical = !line.details.critical_because.empty();
    const auto rules = facts_.rules.find(from.line);
    if (rules != facts_.rules.end()) node.rules.assign(rules->second.begin(), rules->second.end());
    const auto effects = facts_.effects.find(from.line);
    if (effects != facts_.effects.end()) node.effects.assign(effects->second.begin(), effects->second.end());
    connect(node.id, from.next, EdgeKind::next);
  }

  void name_things(const model::Line& line, Node& node) {
    for (const model::Thing& thing : line.things) {
      node.things.push_back(wording::thing_phrase(protocol_, variant_, thing, {}));
      const model::TechniqueId technique = model::technique_of(protocol_, line, model::item_of(protocol_, thing, variant_));
      if (technique && node.technique.empty()) node.technique = protocol_[technique].name;
    }
    if (line.technique) node.technique = protocol_[line.technique].name;
    if (line.agent) node.agent = protocol_[line.agent].name;
    if (line.zone) node.moves_to = protocol_[line.zone].name;
  }

  void name_what_else(const model::Line& line, Node& node) {
    if (line.decision) node.decision = protocol_[line.decision].name;
    if (line.decision) node.answers = protocol_[line.decision].answers;
    if (line.mark) node.mark = protocol_.marks[line.mark.value].name;
    for (const model::RecordId record : line.records) node.records.push_back(protocol_.records[record.value].name);
    if (line.recipient) node.recipient = protocol_.recipients[line.recipient.value].name;
    if (line.to) node.given_to = protocol_[line.to].name;
    if (line.timer) node.timer = protocol_[line.timer].name;
    if (line.verb == model::VerbKind::take || line.verb == model::VerbKind::pass) node.count = line.count;
    if (line.at_least) node.at_least_seconds = line.at_least->seconds;
    if (line.at_most) node.at_most_seconds = line.at_most->seconds;
  }

  void describe_question(const graph::Node& from, Node& node) {
    node.kind = NodeKind::question;
    std::uint32_t order = 0;
    bool has_otherwise = false;
    for (const graph::Arm& arm : from.arms) {
      has_otherwise = has_otherwise || arm.condition == nullptr;
      if (arm.condition && node.text.empty()) node.text = wording::question_phrase(protocol_, variant_, *arm.condition);
      connect(node.id, arm.target, arm.condition ? EdgeKind::yes : EdgeKind::otherwise, arm.condition, ++order);
    }
    if (!has_otherwise) connect(node.id, from.next, EdgeKind::otherwise, nullptr, ++order);
  }

  void describe_repeat(const graph::Node& from, Node& node) {
    node.kind = NodeKind::repeat;
    node.at_most = from.at_most;
    node.text = wording::question_phrase(protocol_, variant_, *from.until);
    connect(node.id, from.next, EdgeKind::yes, from.until, 1);
    connect(node.id, from.body, EdgeKind::again);
    connect(node.id, from.fallback, EdgeKind::given_up);
  }

  void describe_ending(const model::Ending& ending, Node& node) {
    node.kind = NodeKind::ending;
    node.text = ending.name;
    node.normal_ending = ending.normal;
    node.continue_with = ending.continue_with;
    node.phase.clear();
    node.interruption.clear();
    node.at = place_in(files_, ending.span);
  }

  void connect(const std::string& from, graph::NodeId target, EdgeKind kind, const model::Condition* condition = nullptr,
               std::uint32_t order = 0) {
    while (target && graph_[target].kind == graph::NodeKind::contact_end) target = graph_[target].next;
    if (!target) return;
    made_.edges.push_back({"", from, ids_.of(graph_[target]), kind,
                           condition ? wording::condition_phrase(protocol_, variant_, *condition) : "",
                           condition ? condition_key(protocol_, *condition) : "", order});
  }

  /// What no path of this variant leads to, such as the loose end behind `finish as`, is no part of its graph.
  void drop_unreached() {
    std::map<std::string, std::vector<std::string>> next;
    for (const Edge& edge : made_.edges) next[edge.from].push_back(edge.to);
    std::set<std::string> reached{"start"};
    for (std::vector<std::string> open{"start"}; !open.empty();) {
      const std::string id = open.back();
      open.pop_back();
      for (const std::string& to : next[id]) {
        if (reached.insert(to).second) open.push_back(to);
      }
    }
    const auto gone = [&](const std::string& id) { return reached.count(id) == 0; };
    made_.nodes.erase(std::remove_if(made_.nodes.begin(), made_.nodes.end(), [&](const Node& n) { return gone(n.id); }), made_.nodes.end());
    made_.edges.erase(std::remove_if(made_.edges.begin(), made_.edges.end(), [&](const Edge& e) { return gone(e.from); }), made_.edges.end());
  }

  const model::Protocol& protocol_;
  const model::Variant& variant_;
  const source::Files& files_;
  NodeIds ids_;
  graph::Graph graph_;
  const graph::Course& course_;
  StepFacts facts_;
  VariantGraph made_;
};

}  // namespace

VariantGraph make(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course, const source::Files& files) {
  return Maker(protocol, variant, course, files).make();
}

SourcePlace place_in(const source::Files& files, source::Span span) {
  if (!span.file) return {};
  const source::Position begin = files.position(span.file, span.begin), end = files.position(span.file, span.end);
  return {files.path(span.file), begin.line, begin.column, end.line, end.column};
}

std::string_view name_of(NodeKind kind) {
  switch (kind) {
    case NodeKind::start: return "start";
    case NodeKind::step: return "step";
    case NodeKind::question: return "question";
    case NodeKind::repeat: return "repeat";
    case NodeKind::ending: return "ending";
    case NodeKind::interruption: return "interruption";
    case NodeKind::resume: return "resume";
    case NodeKind::loose_end: return "loose_end";
  }
  return "";
}

std::string_view name_of(EdgeKind kind) {
  switch (kind) {
    case EdgeKind::next: return "next";
    case EdgeKind::yes: return "yes";
    case EdgeKind::otherwise: return "otherwise";
    case EdgeKind::again: return "again";
    case EdgeKind::given_up: return "given_up";
    case EdgeKind::strikes: return "strikes";
  }
  return "";
}

std::string_view name_of(model::VerbKind verb) {
  switch (verb) {
    case model::VerbKind::don: return "don";
    case model::VerbKind::doff: return "doff";
    case model::VerbKind::disinfect: return "disinfect";
    case model::VerbKind::clean: return "clean";
    case model::VerbKind::inspect: return "inspect";
    case model::VerbKind::test: return "test";
    case model::VerbKind::decide: return "decide";
    case model::VerbKind::declare: return "declare";
    case model::VerbKind::record: return "record";
    case model::VerbKind::report: return "report";
    case model::VerbKind::call: return "call";
    case model::VerbKind::take: return "take";
    case model::VerbKind::pass: return "pass";
    case model::VerbKind::act: return "act";
    case model::VerbKind::move: return "move";
    case model::VerbKind::wait: return "wait";
    case model::VerbKind::start_timer: return "start timer";
    case model::VerbKind::stop_timer: return "stop timer";
  }
  return "";
}

}  // namespace stepward::emit::step_graph
