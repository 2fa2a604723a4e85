// The step graph as JSON. docs/outputs/graph.schema.json describes every member; a test holds both together.

#include <nlohmann/json.hpp>

#include "emit/graph/step_graph.hpp"
#include "wording/step_text.hpp"

namespace stepward::emit::step_graph {
namespace {

using Json = nlohmann::ordered_json;

const char* risk_name(model::Risk risk) {
  switch (risk) {
    case model::Risk::low: return "low";
    case model::Risk::middle: return "middle";
    case model::Risk::high: return "high";
  }
  return "";
}

const char* exposure_name(model::Exposes exposes) {
  switch (exposes) {
    case model::Exposes::nothing: return "nothing";
    case model::Exposes::front_only: return "front only";
    case model::Exposes::all_round: return "all round";
  }
  return "";
}

const char* severity_name(model::Severity severity) {
  switch (severity) {
    case model::Severity::critical: return "critical";
    case model::Severity::major: return "major";
    case model::Severity::advisory: return "advisory";
  }
  return "";
}

Json document(const model::DocumentControl& control) {
  return {{"title", control.title}, {"number", control.number}, {"version", control.version}, {"status", control.status},
          {"in_force_from", control.in_force_from}, {"review_due", control.review_due}};
}

Json zones(const model::Protocol& protocol) {
  Json all = Json::array();
  for (const model::Zone& zone : protocol.zones) {
    Json leads = Json::array();
    for (const model::Border& border : zone.leads_to) leads.push_back(protocol[border.to].name);
    all.push_back({{"name", zone.name}, {"risk", risk_name(zone.risk)}, {"exposes", exposure_name(zone.exposes)}, {"leads_to", leads}});
  }
  return all;
}

/// A thing that may still be a choice: its name in the words of the source.
std::string thing_name(const model::Protocol& protocol, const model::Thing& thing) {
  switch (thing.what) {
    case model::Thing::What::item: return protocol[thing.item].name;
    case model::Thing::What::choice: return protocol[thing.choice].name;
    case model::Thing::What::kind: return protocol[thing.kind].name;
    case model::Thing::What::site: return protocol[thing.site].name;
    case model::Thing::What::spot: return protocol[thing.spot].name;
    case model::Thing::What::supply: return protocol[thing.supply].name;
    case model::Thing::What::hands: return "hands";
    case model::Thing::What::role: return protocol[thing.role].name;
  }
  return "";
}

Json people(const model::Protocol& protocol) {
  Json all = Json::array();
  for (const model::PersonStart& person : protocol.people) {
    Json wearing = Json::array();
    for (const model::Wearing& worn : person.wearing) wearing.push_back(thing_name(protocol, worn.thing));
    all.push_back({{"name", protocol[person.role].name}, {"acts", person.role == protocol.acts},
                   {"begins_in", person.zone ? Json(protocol[person.zone].name) : Json(nullptr)}, {"wearing", wearing}});
  }
  return all;
}

Json stock(const model::Protocol& protocol) {
  Json all = Json::array();
  for (const model::StockLine& line : protocol.stock) all.push_back({{"count", line.count}, {"thing", thing_name(protocol, line.thing)}});
  return all;
}

std::string target_name(const model::Protocol& protocol, const model::Target& target) {
  if (target.item) return protocol[target.item].name;
  if (target.kind) return protocol[target.kind].name;
  if (target.site) return protocol[target.site].name;
  return target.spot ? protocol[target.spot].name : "anything";
}

Json agents(const model::Protocol& protocol) {
  Json all = Json::array();
  for (const model::Agent& agent : protocol.agents) {
    Json times = Json::array();
    for (const model::ContactTime& time : agent.contact_times) {
      Json on = Json::array();
      for (const model::Target& target : time.on) on.push_back(target_name(protocol, target));
      times.push_back({{"on", on}, {"seconds", time.time.seconds}});
    }
    all.push_back({{"name", agent.name}, {"contact_times", times}});
  }
  return all;
}

Json rules(const model::Protocol& protocol) {
  Json all = Json::array();
  for (const model::Rule& rule : protocol.rules) {
    all.push_back({{"number", rule.number}, {"name", rule.name}, {"severity", severity_name(rule.severity)}, {"because", rule.because}});
  }
  return all;
}

Json effects(const std::vector<Effect>& effects) {
  Json all = Json::array();
  for (const Effect& effect : effects) {
    Json one = {{"what", effect.what}, {"thing", effect.first}};
    if (!effect.second.empty()) one["other"] = effect.second;
    all.push_back(std::move(one));
  }
  return all;
}

void put_step(const Node& node, Json& json) {
  json["number"] = node.number;
  json["line_id"] = node.line_id;
  json["who"] = node.who;
  json["verb"] = node.verb;
  json["things"] = node.things;
  if (!node.of.empty()) json["of"] = node.of;
  if (!node.technique.empty()) json["technique"] = node.technique;
  if (!node.agent.empty()) json["agent"] = node.agent;
  if (!node.moves_to.empty()) json["moves_to"] = node.moves_to;
  if (!node.looks_for.empty()) json["looks_for"] = node.looks_for;
  if (node.contact_seconds > 0) json["contact_seconds"] = node.contact_seconds;
  if (node.wait_seconds > 0) json["wait_seconds"] = node.wait_seconds;
  if (node.at_once > 0) json["at_once"] = node.at_once;
  json["critical"] = node.critical;
  json["words"] = node.words;
  json["spoken"] = node.spoken;
  json["rules"] = node.rules;
  json["effects"] = effects(node.effects);
}

Json node_json(const Node& node) {
  Json json = {{"id", node.id}, {"kind", name_of(node.kind)}, {"text", node.text}};
  if (!node.phase.empty()) json["phase"] = node.phase;
  if (!node.interruption.empty()) json["interruption"] = node.interruption;
  if (node.source_line > 0) json["source_line"] = node.source_line;
  switch (node.kind) {
    case NodeKind::step: put_step(node, json); break;
    case NodeKind::repeat: json["at_most"] = node.at_most; break;
    case NodeKind::ending:
      json["normal"] = node.normal_ending;
      if (!node.continue_with.empty()) json["continue_with"] = node.continue_with;
      break;
    case NodeKind::start:
    case NodeKind::question:
    case NodeKind::interruption:
    case NodeKind::resume:
    case NodeKind::loose_end: break;
  }
  return json;
}

Json edge_json(const Edge& edge) {
  Json json = {{"id", edge.id}, {"from", edge.from}, {"to", edge.to}, {"kind", name_of(edge.kind)}};
  if (!edge.condition.empty()) json["condition"] = edge.condition;
  if (edge.order > 0) json["order"] = edge.order;
  return json;
}

Json variant_json(const VariantGraph& graph) {
  Json json = {{"name", graph.name}, {"choices", Json::object()}, {"nodes", Json::array()}, {"edges", Json::array()}};
  for (const ChoiceMade& made : graph.choices) json["choices"][made.choice] = made.value;
  for (const Node& node : graph.nodes) json["nodes"].push_back(node_json(node));
  for (const Edge& edge : graph.edges) json["edges"].push_back(edge_json(edge));
  return json;
}

}  // namespace

std::string as_json(const model::Protocol& protocol, const std::vector<VariantGraph>& graphs) {
  Json json = {{"format", "stepward step graph"}, {"version", 1}, {"document", document(protocol.document)}};
  json["people"] = people(protocol);
  json["zones"] = zones(protocol);
  json["agents"] = agents(protocol);
  json["stock"] = stock(protocol);
  json["rules"] = rules(protocol);
  json["variants"] = Json::array();
  for (const VariantGraph& graph : graphs) json["variants"].push_back(variant_json(graph));
  return json.dump(2) + '\n';
}

}  // namespace stepward::emit::step_graph
