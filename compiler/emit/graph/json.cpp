// The step graph as JSON. docs/outputs/graph.schema.json describes every member; a test holds both together.

#include <nlohmann/json.hpp>

#include "emit/graph/node_ids.hpp"
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

Json signatures(const std::vector<model::Signature>& all) {
  Json list = Json::array();
  for (const model::Signature& each : all) list.push_back({{"name", each.name}, {"office", each.office}, {"date", each.date}});
  return list;
}

Json document(const model::DocumentControl& control) {
  return {{"title", control.title}, {"number", control.number}, {"version", control.version}, {"status", control.status},
          {"in_force_from", control.in_force_from}, {"review_due", control.review_due}, {"replaces", control.replaces},
          {"applies_to", control.applies_to}, {"written_by", signatures(control.written_by)},
          {"reviewed_by", signatures(control.reviewed_by)}, {"approved_by", signatures(control.approved_by)}};
}

/// Null: it stands in no file.
Json place(const SourcePlace& at) {
  if (at.line == 0) return nullptr;
  return {{"file", at.file}, {"line", at.line}, {"column", at.column}, {"end_line", at.end_line}, {"end_column", at.end_column}};
}

Json zones(const model::Protocol& protocol, const source::Files& files) {
  Json all = Json::array();
  for (const model::Zone& zone : protocol.zones) {
    Json leads = Json::array();
    for (const model::Border& border : zone.leads_to) leads.push_back(protocol[border.to].name);
    all.push_back({{"name", zone.name}, {"risk", risk_name(zone.risk)}, {"exposes", exposure_name(zone.exposes)}, {"leads_to", leads}, {"at", place(place_in(files, zone.span))}});
  }
  return all;
}

Json people(const model::Protocol& protocol) {
  Json all = Json::array();
  for (const model::PersonStart& person : protocol.people) {
    Json wearing = Json::array();
    for (const model::Wearing& worn : person.wearing) wearing.push_back(thing_key(protocol, worn.thing));
    all.push_back({{"name", protocol[person.role].name}, {"acts", person.role == protocol.acts},
                   {"begins_in", person.zone ? Json(protocol[person.zone].name) : Json(nullptr)}, {"wearing", wearing}});
  }
  return all;
}

Json stock(const model::Protocol& protocol) {
  Json all = Json::array();
  for (const model::StockLine& line : protocol.stock) all.push_back({{"count", line.count}, {"thing", thing_key(protocol, line.thing)}});
  return all;
}

std::string target_name(const model::Protocol& protocol, const model::Target& target) {
  if (target.item) return protocol[target.item].name;
  if (target.kind) return protocol[target.kind].name;
  if (target.site) return protocol[target.site].name;
  return target.spot ? protocol[target.spot].name : "anything";
}

Json endings(const model::Protocol& protocol, const source::Files& files) {
  Json all = Json::array();
  for (const model::Ending& ending : protocol.endings) {
    Json where = Json::array(), clean = Json::array();
    for (const model::Ending::Where& each : ending.where) where.push_back({{"who", protocol[each.who].name}, {"zone", protocol[each.zone].name}});
    for (const model::Thing& thing : ending.clean) clean.push_back(thing_key(protocol, thing));
    all.push_back({{"name", ending.name}, {"normal", ending.normal}, {"continue_with", ending.continue_with}, {"where", where}, {"clean", clean},
                   {"at", place(place_in(files, ending.span))}});
  }
  return all;
}

Json agents(const model::Protocol& protocol, const source::Files& files) {
  Json all = Json::array();
  for (const model::Agent& agent : protocol.agents) {
    Json times = Json::array();
    for (const model::ContactTime& time : agent.contact_times) {
      Json on = Json::array();
      for (const model::Target& target : time.on) on.push_back(target_name(protocol, target));
      times.push_back({{"on", on}, {"seconds", time.time.seconds}});
    }
    all.push_back({{"name", agent.name}, {"contact_times", times}, {"at", place(place_in(files, agent.span))}});
  }
  return all;
}

Json rules(const model::Protocol& protocol, const source::Files& files) {
  Json all = Json::array();
  for (const model::Rule& rule : protocol.rules) {
    all.push_back({{"number", rule.number}, {"name", rule.name}, {"severity", severity_name(rule.severity)}, {"because", rule.because}, {"at", place(place_in(files, rule.span))}});
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
  if (!node.decision.empty()) json["decision"] = node.decision;
  if (!node.answers.empty()) json["answers"] = node.answers;
  if (!node.mark.empty()) json["declares"] = node.mark;
  if (!node.records.empty()) json["records"] = node.records;
  if (!node.recipient.empty()) json["reports_to"] = node.recipient;
  if (!node.given_to.empty()) json["given_to"] = node.given_to;
  if (!node.timer.empty()) json["timer"] = node.timer;
  if (node.count > 0) json["count"] = node.count;
  if (node.at_least_seconds > 0) json["at_least_seconds"] = node.at_least_seconds;
  if (node.at_most_seconds > 0) json["at_most_seconds"] = node.at_most_seconds;
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
  json["at"] = place(node.at);
  json["on_every_way"] = node.on_every_way;
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
  if (!edge.asks.empty()) json["asks"] = edge.asks;
  if (edge.order > 0) json["order"] = edge.order;
  if (edge.taken != Edge::Taken::not_walked) json["taken"] = edge.taken == Edge::Taken::by_some_run;
  return json;
}

Json variant_json(const VariantGraph& graph) {
  Json json = {{"name", graph.name}, {"choices", Json::object()}, {"ways", graph.ways}, {"longest", graph.longest}, {"nodes", Json::array()}, {"edges", Json::array()}};
  for (const ChoiceMade& made : graph.choices) json["choices"][made.choice] = made.value;
  for (const Node& node : graph.nodes) json["nodes"].push_back(node_json(node));
  for (const Edge& edge : graph.edges) json["edges"].push_back(edge_json(edge));
  return json;
}

}  // namespace

std::string as_json(const model::Protocol& protocol, const std::vector<VariantGraph>& graphs, const source::Files& files) {
  Json json = {{"format", "stepward step graph"}, {"version", 2}, {"document", document(protocol.document)}};
  json["people"] = people(protocol);
  json["zones"] = zones(protocol, files);
  json["agents"] = agents(protocol, files);
  json["endings"] = endings(protocol, files);
  json["stock"] = stock(protocol);
  json["rules"] = rules(protocol, files);
  json["variants"] = Json::array();
  for (const VariantGraph& graph : graphs) json["variants"].push_back(variant_json(graph));
  // A path is the only text here that need not be UTF-8; what is none of it is replaced rather than thrown at the caller.
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace stepward::emit::step_graph
