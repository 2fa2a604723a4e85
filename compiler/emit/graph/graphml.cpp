// The step graph as GraphML: every attribute is a typed key, lists are joined by "; ".

#include <set>
#include <sstream>

#include <pugixml.hpp>

#include "emit/graph/node_ids.hpp"
#include "emit/graph/step_graph.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::step_graph {
namespace {

struct Key { const char* id; const char* on; const char* type; };

constexpr Key keys[] = {
    {"variant", "graph", "string"},      {"title", "graph", "string"},          {"number", "graph", "string"},
    {"kind", "node", "string"},          {"text", "node", "string"},            {"phase", "node", "string"},
    {"interruption", "node", "string"},  {"source_file", "node", "string"},      {"source_line", "node", "int"},
    {"source_column", "node", "int"},    {"step", "node", "string"},             {"decision", "node", "string"},
    {"answers", "node", "string"},       {"declares", "node", "string"},         {"records", "node", "string"},
    {"reports_to", "node", "string"},    {"given_to", "node", "string"},         {"timer", "node", "string"},
    {"count", "node", "int"},            {"at_least_seconds", "node", "int"},    {"at_most_seconds", "node", "int"},
    {"words", "node", "string"},         {"spoken", "node", "string"},           {"asks", "edge", "string"},
    {"taken", "edge", "boolean"},        {"on_every_way", "node", "boolean"},
    {"line_id", "node", "string"},       {"who", "node", "string"},             {"verb", "node", "string"},
    {"of", "node", "string"},            {"things", "node", "string"},          {"technique", "node", "string"},
    {"agent", "node", "string"},         {"moves_to", "node", "string"},        {"looks_for", "node", "string"},
    {"contact_seconds", "node", "int"},  {"wait_seconds", "node", "int"},       {"critical", "node", "boolean"},
    {"at_once", "node", "int"},
    {"rules", "node", "string"},         {"effects", "node", "string"},         {"at_most", "node", "int"},
    {"normal", "node", "boolean"},       {"continue_with", "node", "string"},   {"edge_kind", "edge", "string"},
    {"condition", "edge", "string"},     {"order", "edge", "int"},
};

void put(pugi::xml_node parent, const char* key, const std::string& text) {
  if (text.empty()) return;
  pugi::xml_node data = parent.append_child("data");
  data.append_attribute("key") = key;
  data.text() = xml_text(text).c_str();
}

void put_number(pugi::xml_node parent, const char* key, std::uint32_t number) {
  if (number > 0) put(parent, key, std::to_string(number));
}

void put_truth(pugi::xml_node parent, const char* key, bool truth) { put(parent, key, truth ? "true" : "false"); }

std::string joined(const std::vector<std::string>& parts) {
  std::string all;
  for (const std::string& part : parts) all += (all.empty() ? "" : "; ") + part;
  return all;
}

std::string joined(const std::vector<Effect>& effects) {
  std::vector<std::string> parts;
  for (const Effect& effect : effects) {
    parts.push_back(effect.what + " " + effect.first + (effect.second.empty() ? "" : " / " + effect.second));
  }
  return joined(parts);
}

void put_step(pugi::xml_node xml, const Node& node) {
  put(xml, "step", node.number);
  put(xml, "line_id", node.line_id);
  put(xml, "who", node.who);
  put(xml, "verb", node.verb);
  put(xml, "of", node.of);
  put(xml, "things", joined(node.things));
  put(xml, "technique", node.technique);
  put(xml, "agent", node.agent);
  put(xml, "moves_to", node.moves_to);
  put(xml, "looks_for", joined(node.looks_for));
  put(xml, "decision", node.decision);
  put(xml, "answers", joined(node.answers));
  put(xml, "declares", node.mark);
  put(xml, "records", joined(node.records));
  put(xml, "reports_to", node.recipient);
  put(xml, "given_to", node.given_to);
  put(xml, "timer", node.timer);
  put_number(xml, "count", node.count);
  put_number(xml, "at_least_seconds", node.at_least_seconds);
  put_number(xml, "at_most_seconds", node.at_most_seconds);
  put(xml, "words", node.words);
  put(xml, "spoken", node.spoken);
  put_number(xml, "contact_seconds", node.contact_seconds);
  put_number(xml, "wait_seconds", node.wait_seconds);
  put_number(xml, "at_once", node.at_once);
  put_truth(xml, "critical", node.critical);
  put(xml, "rules", joined(node.rules));
  put(xml, "effects", joined(node.effects));
}

void put_node(pugi::xml_node graph, const Node& node) {
  pugi::xml_node xml = graph.append_child("node");
  xml.append_attribute("id") = node.id.c_str();
  put(xml, "kind", std::string(name_of(node.kind)));
  put(xml, "text", node.text);
  put(xml, "phase", node.phase);
  put(xml, "interruption", node.interruption);
  put(xml, "source_file", node.at.file);
  put_number(xml, "source_line", node.at.line);
  put_number(xml, "source_column", node.at.column);
  if (node.kind == NodeKind::step) put_step(xml, node);
  put_truth(xml, "on_every_way", node.on_every_way);
  put_number(xml, "at_most", node.at_most);
  if (node.kind == NodeKind::ending) put_truth(xml, "normal", node.normal_ending);
  put(xml, "continue_with", node.continue_with);
}

void put_edge(pugi::xml_node graph, const Edge& edge) {
  pugi::xml_node xml = graph.append_child("edge");
  xml.append_attribute("id") = edge.id.c_str();
  xml.append_attribute("source") = edge.from.c_str();
  xml.append_attribute("target") = edge.to.c_str();
  put(xml, "edge_kind", std::string(name_of(edge.kind)));
  put(xml, "condition", edge.condition);
  put(xml, "asks", edge.asks);
  put_number(xml, "order", edge.order);
  if (edge.taken != Edge::Taken::not_walked) put_truth(xml, "taken", edge.taken == Edge::Taken::by_some_run);
}

void put_keys(pugi::xml_node root) {
  for (const Key& key : keys) {
    pugi::xml_node xml = root.append_child("key");
    xml.append_attribute("id") = key.id;
    xml.append_attribute("for") = key.on;
    xml.append_attribute("attr.name") = key.id;
    xml.append_attribute("attr.type") = key.type;
  }
}

}  // namespace

std::string as_graphml(const model::Protocol& protocol, const std::vector<VariantGraph>& graphs) {
  pugi::xml_document document;
  pugi::xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version") = "1.0";
  declaration.append_attribute("encoding") = "UTF-8";
  pugi::xml_node root = document.append_child("graphml");
  root.append_attribute("xmlns") = "http://graphml.graphdrawing.org/xmlns";
  put_keys(root);
  std::set<std::string> used;
  for (const VariantGraph& variant : graphs) {
    const std::string wanted = nmtoken(variant.name.empty() ? "protocol" : variant.name);
    std::string id = wanted;
    for (int copy = 2; !used.insert(id).second; ++copy) id = wanted + "." + std::to_string(copy);
    pugi::xml_node graph = root.append_child("graph");
    graph.append_attribute("id") = id.c_str();
    graph.append_attribute("edgedefault") = "directed";
    put(graph, "variant", variant.name);
    put(graph, "title", protocol.document.title);
    put(graph, "number", protocol.document.number);
    for (const Node& node : variant.nodes) put_node(graph, node);
    for (const Edge& edge : variant.edges) put_edge(graph, edge);
  }
  std::ostringstream text;
  document.save(text, "  ");
  return text.str();
}

}  // namespace stepward::emit::step_graph
