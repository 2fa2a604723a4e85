#include "emit/fhir/plan_definition.hpp"

#include <algorithm>
#include <cctype>
#include <map>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "emit/act_line.hpp"
#include "emit/fhir/legal_ids.hpp"
#include "emit/graph/node_ids.hpp"
#include "emit/xml_text.hpp"
#include "graph/numbering.hpp"
#include "model/variants.hpp"
#include "wording/phrases.hpp"
#include "wording/sources.hpp"
#include "wording/step_text.hpp"

namespace stepward::emit::fhir {
namespace {

using Json = nlohmann::ordered_json;

void put_said(Json& json, const char* name, const std::string& said) {
  if (!said.empty()) json[name] = xml_text(said);
}

/// For computers: what HL7 asks of names is a capital, then letters, digits and "_".
std::string computable_name(const std::string& title) {
  std::string name;
  bool fresh = true;
  for (const char c : title) {
    const auto byte = static_cast<unsigned char>(c);
    if (byte >= 0x80 || std::isalnum(byte) == 0) {
      fresh = true;
      continue;
    }
    name += fresh ? static_cast<char>(std::toupper(byte)) : c;
    fresh = false;
  }
  if (name.empty() || std::isalpha(static_cast<unsigned char>(name[0])) == 0) name = "Protocol" + name;
  return name.substr(0, 255);
}

const char* publication_status(const std::string& status) {
  if (status == "draft") return "draft";
  if (status == "approved") return "active";
  return status == "withdrawn" ? "retired" : "unknown";
}

void put_people(Json& json, const char* name, const std::vector<model::Signature>& signatures) {
  for (const model::Signature& signature : signatures) {
    const std::string who = signature.name + (signature.office.empty() ? "" : ", " + signature.office);
    if (!who.empty()) json[name].push_back({{"name", xml_text(who)}});
  }
}

std::string last_date(const std::vector<model::Signature>& signatures) {
  std::string last;
  for (const model::Signature& signature : signatures) last = std::max(last, signature.date);
  return last;
}

void put_control(Json& json, const model::DocumentControl& document, const model::Protocol& protocol) {
  if (!document.number.empty()) json["identifier"] = Json::array({{{"value", xml_text(document.number)}}});
  put_said(json, "version", document.version);
  json["name"] = computable_name(document.title);
  put_said(json, "title", document.title);
  json["type"] = {{"coding", Json::array({{{"system", "http://terminology.hl7.org/CodeSystem/plan-definition-type"}, {"code", "clinical-protocol"}}})}};
  json["status"] = publication_status(document.status);
  put_said(json, "description", document.applies_to);
  json["usage"] = wording::phrase(protocol.tongue, wording::Phrase::caution);
  put_said(json, "approvalDate", last_date(document.approved_by));
  put_said(json, "lastReviewDate", last_date(document.reviewed_by));
  if (!document.in_force_from.empty()) json["effectivePeriod"] = {{"start", document.in_force_from}};
  put_people(json, "author", document.written_by);
  put_people(json, "reviewer", document.reviewed_by);
  put_people(json, "endorser", document.approved_by);
}

/// What the rules rest on, and the document that this one takes the place of.
void put_artifacts(Json& json, const model::Protocol& protocol) {
  if (!protocol.document.replaces.empty()) json["relatedArtifact"].push_back({{"type", "predecessor"}, {"display", xml_text(protocol.document.replaces)}});
  for (const model::Rule& rule : protocol.rules) {
    Json artifact = {{"type", "justification"}};
    put_said(artifact, "label", rule.number);
    put_said(artifact, "display", rule.name.empty() ? rule.because : rule.name + ": " + rule.because);
    put_said(artifact, "citation", wording::best_source_phrase(rule.sources));
    json["relatedArtifact"].push_back(std::move(artifact));
  }
}

// ------------------------------------------------------------------ actions

void put_sources(Json& action, const std::vector<model::Source>& sources) {
  for (const model::Source& source : sources) {
    action["documentation"].push_back({{"type", "justification"}, {"display", xml_text(wording::source_phrase(source))}});
  }
}

Json seconds(std::uint32_t count) {
  return {{"value", count}, {"unit", "s"}, {"system", "http://unitsofmeasure.org"}, {"code", "s"}};
}

/// The actions of one variant. Blocks nest at most 64 deep, so the calls below do.
class ActionWriter {
 public:
  ActionWriter(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course, LegalIds& ids)
      : protocol_(protocol), variant_(variant), ids_(ids), names_(protocol), course_(course) {}

  Json all() {
    Json actions = Json::array();
    for (const model::Phase& phase : protocol_.phases) {
      add_group(actions, "phase:" + step_graph::nmtoken(phase.name), phase.name, phase.block);
    }
    for (const model::Interruption& interruption : protocol_.interruptions) {
      Json action = group("any_time:" + step_graph::nmtoken(interruption.name), interruption.name, block(interruption.block));
      action["trigger"] = Json::array({{{"type", "named-event"}, {"name", xml_text(interruption.name)}}});
      actions.push_back(std::move(action));
    }
    return actions;
  }

 private:
  Json begun(const std::string& key, const std::string& title) {
    Json action = {{"id", ids_.of(unused(key))}};
    put_said(action, "title", title);
    return action;
  }

  /// The same routine or ending may stand in several places.
  std::string unused(const std::string& key) {
    const int count = ++counts_[key];
    return count == 1 ? key : fmt::format("{}.{}", key, count);
  }

  Json group(const std::string& key, const std::string& title, Json inner) {
    Json action = begun(key, title);
    action["groupingBehavior"] = "logical-group";
    if (!inner.empty()) {
      action["selectionBehavior"] = "all";
      action["action"] = std::move(inner);
    }
    return action;
  }

  /// What stands in one block is done in its order.
  static void add(Json& actions, Json action) {
    if (!actions.empty()) action["relatedAction"] = Json::array({{{"actionId", actions.back()["id"]}, {"relationship", "after-end"}}});
    actions.push_back(std::move(action));
  }

  void add_group(Json& actions, const std::string& key, const std::string& title, model::BlockId id) {
    Json inner = block(id);
    if (!inner.empty()) add(actions, group(key, title, std::move(inner)));
  }

  Json block(model::BlockId id) {
    Json actions = Json::array();
    put_block(actions, id);
    return actions;
  }

  void put_block(Json& actions, model::BlockId id) {
    if (!id) return;
    for (const model::Statement& statement : protocol_[id].statements) put(actions, statement);
  }

  void put(Json& actions, const model::Statement& statement) {
    using What = model::Statement::What;
    switch (statement.what) {
      case What::line:
        if (model::holds(protocol_[statement.line].only_for, variant_)) add(actions, step(statement.line));
        break;
      case What::question: add(actions, question(statement)); break;
      case What::only_for:
        if (model::holds(statement.only_for, variant_)) put_block(actions, statement.block);
        break;
      case What::repeat: put_repeat(actions, statement); break;
      case What::call: add_group(actions, "do:" + step_graph::nmtoken(protocol_[statement.routine].name), protocol_[statement.routine].name, statement.block); break;
      case What::together: put_together(actions, statement); break;
      case What::finish: add(actions, ending(protocol_[statement.ending])); break;
      case What::resume: add(actions, begun("resume", wording::capitalised(wording::phrase(protocol_.tongue, wording::Phrase::go_back_where_stopped)))); break;
    }
  }

  Json step(model::LineId id) {
    const model::Line& line = protocol_[id];
    const wording::StepText text = wording::step_text(protocol_, variant_, line, {});
    Json action = begun(names_.of(id), act_line(text.act));
    put_said(action, "prefix", course_.label(id));
    put_said(action, "description", text.words);
    put_said(action, "textEquivalent", text.spoken);
    if (!line.details.critical_because.empty()) {
      action["priority"] = "stat";
      action["reason"] = Json::array({{{"text", xml_text(line.details.critical_because)}}});
    }
    put_line_sources(action, line);
    const std::uint32_t contact = wording::contact_time(protocol_, variant_, line, {}).seconds;
    const std::uint32_t time = contact > 0 ? contact : line.wait.seconds;
    if (time > 0) action["timingDuration"] = seconds(time);
    action["participant"] = Json::array({{{"type", "practitioner"}, {"role", {{"text", xml_text(protocol_[line.who].name)}}}}});
    action["requiredBehavior"] = "must";
    return action;
  }

  void put_line_sources(Json& action, const model::Line& line) {
    model::TechniqueId technique = line.technique;
    for (const model::Thing& thing : line.things) {
      if (!technique) technique = model::technique_of(protocol_, line, model::item_of(protocol_, thing, variant_));
    }
    if (technique) put_sources(action, protocol_[technique].sources);
    if (line.agent) put_sources(action, protocol_[line.agent].sources);
  }

  Json question(const model::Statement& statement) {
    const std::string key = names_.of(statement.arms.front().condition);
    Json action = begun(key, wording::question_phrase(protocol_, variant_, statement.arms.front().condition));
    action["groupingBehavior"] = "logical-group";
    action["selectionBehavior"] = "exactly-one";
    bool has_otherwise = false;
    std::size_t answer = 0;
    for (const auto& arm : statement.arms) {
      has_otherwise = has_otherwise || arm.is_otherwise;
      const std::string words = arm.is_otherwise ? "" : wording::condition_phrase(protocol_, variant_, arm.condition);
      action["action"].push_back(arm_of(key, ++answer, words, block(arm.block)));
    }
    if (!has_otherwise) action["action"].push_back(arm_of(key, ++answer, "", Json::array()));
    return action;
  }

  Json arm_of(const std::string& key, std::size_t answer, const std::string& words, Json inner) {
    const std::string said = words.empty() ? "otherwise" : words;
    Json action = group(fmt::format("{}:answer_{}", key, answer), said, std::move(inner));
    action["condition"] = Json::array({condition("applicability", said, key, std::to_string(answer))});
    return action;
  }

  Json condition(const char* kind, const std::string& said, const std::string& key, const std::string& answer) {
    return {{"kind", kind},
            {"expression", {{"description", xml_text(said)}, {"language", "text/fhirpath"}, {"expression", fmt::format("%`{}` = {}", ids_.of(key), answer)}}}};
  }

  void put_repeat(Json& actions, const model::Statement& statement) {
    const std::string key = names_.of(statement.until);
    const std::string until = wording::condition_phrase(protocol_, variant_, statement.until);
    Json loop = group(key, wording::question_phrase(protocol_, variant_, statement.until), block(statement.block));
    loop["description"] = wording::phrase(protocol_.tongue, wording::Phrase::times_with_the_first, {{"count", std::to_string(statement.at_most)}});
    loop["cardinalityBehavior"] = "multiple";
    loop["condition"] = Json::array({condition("stop", until, key, "1")});
    add(actions, std::move(loop));
    Json fallback = block(statement.fallback);
    if (fallback.empty()) return;
    Json given_up = group(key + ":still_not", wording::phrase(protocol_.tongue, wording::Phrase::still_not), std::move(fallback));
    given_up["condition"] = Json::array({condition("applicability", "not: " + until, key, "2")});
    add(actions, std::move(given_up));
  }

  /// A group for each person, of which none waits for the other.
  void put_together(Json& actions, const model::Statement& statement) {
    std::vector<model::RoleId> order;
    std::map<std::uint32_t, Json> lines;
    for (const model::Statement& inner : protocol_[statement.block].statements) {
      if (inner.what != model::Statement::What::line || !model::holds(protocol_[inner.line].only_for, variant_)) continue;
      const model::RoleId who = protocol_[inner.line].who;
      if (lines.try_emplace(who.value, Json::array()).second) order.push_back(who);
      add(lines[who.value], step(inner.line));
    }
    if (order.empty()) return;
    Json people = Json::array();
    for (const model::RoleId who : order) {
      people.push_back(group("at_once:" + step_graph::nmtoken(protocol_[who].name), protocol_[who].name, std::move(lines[who.value])));
      if (people.size() > 1) people.back()["relatedAction"] = Json::array({{{"actionId", people.front()["id"]}, {"relationship", "concurrent"}}});
    }
    add(actions, group("at_once", "", std::move(people)));
  }

  Json ending(const model::Ending& ending) {
    const std::string title = wording::phrase(protocol_.tongue, wording::Phrase::end) + " " + ending.name;
    Json action = begun("ending:" + step_graph::nmtoken(ending.name), title);
    if (!ending.continue_with.empty()) action["documentation"] = Json::array({{{"type", "successor"}, {"display", xml_text(ending.continue_with)}}});
    return action;
  }

  const model::Protocol& protocol_;
  const model::Variant& variant_;
  LegalIds& ids_;
  step_graph::NodeIds names_;
  const graph::Course& course_;
  std::map<std::string, int> counts_;
};

Json plan(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course) {
  const std::string chosen = model::variant_name(protocol, variant);
  LegalIds ids;
  Json json = {{"resourceType", "PlanDefinition"}};
  json["id"] = ids.of(protocol.document.number + (chosen.empty() ? "" : "." + chosen));
  json["language"] = protocol.tongue.tag;
  put_control(json, protocol.document, protocol);
  put_said(json, "subtitle", chosen);
  put_artifacts(json, protocol);
  json["action"] = ActionWriter(protocol, variant, course, ids).all();
  return json;
}

}  // namespace

std::string as_plan_definition(const model::Protocol& protocol, const std::vector<model::Variant>& variants, const std::vector<graph::Course>& courses) {
  if (variants.size() == 1) return plan(protocol, variants.front(), courses.front()).dump(2) + '\n';
  Json bundle = {{"resourceType", "Bundle"}, {"type", "collection"}, {"entry", Json::array()}};
  for (std::size_t v = 0; v < variants.size(); ++v) bundle["entry"].push_back({{"resource", plan(protocol, variants[v], courses[v])}});
  return bundle.dump(2) + '\n';
}

}  // namespace stepward::emit::fhir
