#include "emit/bpmn/bpmn.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

#include <fmt/format.h>
#include <pugixml.hpp>

#include "emit/bpmn/catches.hpp"
#include "emit/bpmn/diagram.hpp"
#include "emit/bpmn/ids.hpp"
#include "emit/xml_text.hpp"

namespace stepward::emit::bpmn {
namespace {

using pugi::xml_node;
using What = Shape::What;

xml_node child(xml_node parent, const char* name, const std::string& id = "", const std::string& said = "") {
  xml_node node = parent.append_child((std::string("bpmn:") + name).c_str());
  if (!id.empty()) node.append_attribute("id") = id.c_str();
  if (!said.empty()) node.append_attribute("name") = xml_text(said).c_str();
  return node;
}

void say_as_text(xml_node parent, const char* name, const std::string& said) {
  if (!said.empty()) child(parent, name).text() = xml_text(said).c_str();
}

/// Words for people in a place that is made for formulas: said by their language.
void expression(xml_node parent, const char* name, const std::string& said) {
  xml_node node = child(parent, name);
  node.append_attribute("xsi:type") = "bpmn:tFormalExpression";
  node.append_attribute("language") = "urn:stepward:words";
  node.text() = xml_text(said).c_str();
}

/// The processes of one chart. Everything of it has ids that begin with `key`.
class ProcessWriter {
 public:
  ProcessWriter(xml_node root, const Chart& chart, const Flows& flows, Ids& ids) : root_(root), chart_(chart), flows_(flows), ids_(ids) {}

  void write() {
    categories();
    errors();
    resources();
    collaboration();
    course();
    for (std::size_t b = 0; b < chart_.bands.size(); ++b) {
      if (chart_.bands[b].what == Band::What::box) box(b);
    }
  }

 private:
  /// Phases are groups, and groups are named by categories.
  void categories() {
    xml_node category = child(root_, "category", ids_.of("phases"), "phase");
    for (const Band& band : chart_.bands) {
      if (band.what != Band::What::phase) continue;
      xml_node value = child(category, "categoryValue", ids_.of("phase:" + band.id));
      value.append_attribute("value") = xml_text(band.title).c_str();
    }
  }

  void errors() {
    std::set<std::string> named;
    for (const Band& band : chart_.bands) {
      for (const Shape& shape : band.shapes) {
        if (shape.what != What::ending || band.what == Band::What::phase || !named.insert(error_key(shape)).second) continue;
        xml_node error = child(root_, "error", ids_.of(error_key(shape)), shape.text);
        error.append_attribute("errorCode") = xml_text(error_key(shape)).c_str();
      }
    }
  }

  void resources() {
    for (const std::string& person : chart_.people) child(root_, "resource", ids_.of("person:" + person), person);
  }

  void collaboration() {
    xml_node all = child(root_, "collaboration", ids_.of("collaboration"), chart_.title + (chart_.variant.empty() ? "" : ": " + chart_.variant));
    say_as_text(all, "documentation", chart_.caution);
    pool(all, "course", chart_.title);
    for (const Band& band : chart_.bands) {
      if (band.what == Band::What::box) pool(all, band.id, band.label + " " + band.title);
    }
  }

  void pool(xml_node parent, const std::string& key, const std::string& said) {
    child(parent, "participant", ids_.of("pool:" + key), said).append_attribute("processRef") = ids_.of("process:" + key).c_str();
  }

  xml_node process(const std::string& key, const std::string& said, const std::string& more) {
    xml_node node = child(root_, "process", ids_.of("process:" + key), said);
    node.append_attribute("isExecutable") = false;
    say_as_text(node, "documentation", more);
    return node;
  }

  void course() {
    xml_node node = process("course", chart_.title, fmt::format("{} {} {}", chart_.number, chart_.version, chart_.status));
    std::vector<std::size_t> phases, breaches;
    for (std::size_t b = 0; b < chart_.bands.size(); ++b) {
      if (chart_.bands[b].what == Band::What::phase) phases.push_back(b);
      if (chart_.bands[b].what == Band::What::breach) breaches.push_back(b);
    }
    xml_node set = lanes(node, "course", phases);
    if (!breaches.empty()) {
      // Without an interruption there are only catches, which have no hint.
      xml_node lane = child(set, "lane", ids_.of("lane:course:any_time"), chart_.bands[breaches.front()].hint);
      for (const std::size_t b : breaches) child(lane, "flowNodeRef").text() = ids_.of("sub:" + chart_.bands[b].id).c_str();
    }
    for (const std::size_t b : phases) shapes(node, b);
    for (const std::size_t b : breaches) interruption(node, b);
    for (const std::size_t b : phases) flows(node, b);
    for (const std::size_t b : phases) {
      xml_node group = child(node, "group", ids_.of("group:" + chart_.bands[b].id));
      group.append_attribute("categoryValueRef") = ids_.of("phase:" + chart_.bands[b].id).c_str();
    }
  }

  void box(std::size_t b) {
    const Band& band = chart_.bands[b];
    xml_node node = process(band.id, band.label + " " + band.title, band.hint);
    lanes(node, band.id, {b});
    shapes(node, b);
    flows(node, b);
  }

  xml_node lanes(xml_node process, const std::string& key, const std::vector<std::size_t>& bands) {
    xml_node set = child(process, "laneSet", ids_.of("lanes:" + key));
    std::map<std::size_t, xml_node> made;
    for (const std::size_t b : bands) {
      const Lanes lanes = lanes_of(chart_, chart_.bands[b]);
      for (std::size_t lane = 0; lane < lanes.people.size(); ++lane) {
        if (made.count(lane) > 0) continue;
        const std::string name = chart_.people.empty() ? "" : chart_.people[lanes.people[lane]];
        made[lane] = child(set, "lane", ids_.of(fmt::format("lane:{}:{}", key, lane)), name);
      }
      for (std::size_t s = 0; s < lanes.of_shapes.size(); ++s) {
        const Shape& shape = chart_.bands[b].shapes[s];
        if (flows_.is_drawn(b, s)) child(made[lanes.of_shapes[s]], "flowNodeRef").text() = ids_.of(shape.id).c_str();
      }
    }
    return set;
  }

  void interruption(xml_node process, std::size_t b) {
    const Band& band = chart_.bands[b];
    xml_node node = child(process, "subProcess", ids_.of("sub:" + band.id), (band.label.empty() ? "" : band.label + " ") + band.title);
    node.append_attribute("triggeredByEvent") = true;
    say_as_text(node, "documentation", band.hint);
    shapes(node, b);
    flows(node, b);
  }

  void shapes(xml_node parent, std::size_t b) {
    const Band& band = chart_.bands[b];
    for (std::size_t s = 0; s < band.shapes.size(); ++s) {
      if (flows_.is_drawn(b, s)) shape(parent, b, s);
    }
  }

  void shape(xml_node parent, std::size_t b, std::size_t s) {
    const Band& band = chart_.bands[b];
    const Shape& shape = band.shapes[s];
    xml_node node = child(parent, element(shape), ids_.of(shape.id), name_in_diagram(band, shape));
    attributes(node, b, s);
    documentation(node, shape);
    if (band.what == Band::What::phase) child(node, "categoryValueRef").text() = ids_.of("phase:" + band.id).c_str();
    for (const Flow* flow : flows_.into(b, s)) child(node, "incoming").text() = ids_.of(flow->id).c_str();
    for (const Flow* flow : flows_.out_of(b, s)) child(node, "outgoing").text() = ids_.of(flow->id).c_str();
    events(node, band, shape);
    if (shape.what == What::step) {
      xml_node performer = child(node, "performer", ids_.of("by:" + shape.id));
      child(performer, "resourceRef").text() = ids_.of("person:" + shape.who).c_str();
    }
  }

  static const char* element(const Shape& shape) {
    switch (shape.what) {
      case What::entry: return "startEvent";
      case What::step: return "manualTask";
      case What::box: return "callActivity";
      case What::question: return "exclusiveGateway";
      case What::fork:
      case What::join: return "parallelGateway";
      case What::ending:
      case What::resume:
      case What::back:
      case What::loose_end:
      case What::onward: return "endEvent";
    }
    return "";
  }

  void attributes(xml_node node, std::size_t b, std::size_t s) {
    const Band& band = chart_.bands[b];
    const Shape& shape = band.shapes[s];
    if (shape.what == What::box) node.append_attribute("calledElement") = ids_.of("process:" + id_of_box(shape.box)).c_str();
    if (shape.what == What::entry && band.what == Band::What::breach) node.append_attribute("isInterrupting") = !comes_back(band);
    if (shape.what != What::question) return;
    const Flow* otherwise = flows_.otherwise(b, s);
    if (otherwise) node.append_attribute("default") = ids_.of(otherwise->id).c_str();
  }

  std::string id_of_box(const std::string& label) const {
    const auto box = std::find_if(chart_.bands.begin(), chart_.bands.end(), [&](const Band& b) { return b.what == Band::What::box && b.label == label; });
    return box == chart_.bands.end() ? label : box->id;
  }

  static bool comes_back(const Band& band) {
    return std::any_of(band.shapes.begin(), band.shapes.end(), [](const Shape& s) { return s.what == What::resume; });
  }

  static void documentation(xml_node node, const Shape& shape) {
    for (const std::string* said : {&shape.words, &shape.clock, &shape.critical_word}) say_as_text(node, "documentation", *said);
  }

  void refer_to_error(xml_node node, const Shape& by, const Shape& ending) {
    child(node, "errorEventDefinition", ids_.of("with:" + by.id)).append_attribute("errorRef") = ids_.of(error_key(ending)).c_str();
  }

  void events(xml_node node, const Band& band, const Shape& shape) {
    if (is_catch(band)) {
      if (shape.what == What::entry) refer_to_error(node, shape, band.shapes.back());
      return;
    }
    if (shape.what == What::entry && band.what == Band::What::breach) {
      expression(child(node, "conditionalEventDefinition", ids_.of("when:" + shape.id)), "condition", band.title);
    }
    if (shape.what != What::ending) return;
    if (band.what != Band::What::phase) {
      refer_to_error(node, shape, shape);
    } else if (shape.emergency) {
      child(node, "terminateEventDefinition", ids_.of("with:" + shape.id));
    }
  }

  void flows(xml_node parent, std::size_t b) {
    for (const Flow& flow : flows_.all()) {
      if (flow.band != b) continue;
      xml_node node = child(parent, "sequenceFlow", ids_.of(flow.id), flow.way->label);
      node.append_attribute("sourceRef") = ids_.of(flow.from).c_str();
      node.append_attribute("targetRef") = ids_.of(flow.to).c_str();
      if (!flow.condition.empty()) expression(node, "conditionExpression", flow.condition);
    }
  }

  xml_node root_;
  const Chart& chart_;
  const Flows& flows_;
  Ids& ids_;
};

xml_node definitions(pugi::xml_document& document, const Chart& chart) {
  xml_node declaration = document.append_child(pugi::node_declaration);
  declaration.append_attribute("version") = "1.0";
  declaration.append_attribute("encoding") = "UTF-8";
  xml_node root = document.append_child("bpmn:definitions");
  for (const auto& [name, value] : {std::pair{"xmlns:bpmn", "http://www.omg.org/spec/BPMN/20100524/MODEL"},
                                    {"xmlns:bpmndi", "http://www.omg.org/spec/BPMN/20100524/DI"},
                                    {"xmlns:dc", "http://www.omg.org/spec/DD/20100524/DC"},
                                    {"xmlns:di", "http://www.omg.org/spec/DD/20100524/DI"},
                                    {"xmlns:xsi", "http://www.w3.org/2001/XMLSchema-instance"}}) {
    root.append_attribute(name) = value;
  }
  root.append_attribute("id") = "definitions";
  root.append_attribute("name") = xml_text(chart.title).c_str();
  root.append_attribute("targetNamespace") = ("urn:stepward:" + Ids::plain(chart.number)).c_str();
  root.append_attribute("exporter") = "Stepward";
  root.append_attribute("exporterVersion") = STEPWARD_VERSION;
  return root;
}

}  // namespace

std::string name_in_diagram(const Band& band, const Shape& shape) {
  if (shape.what == What::entry) return band.what == Band::What::breach ? band.title : "";
  return (shape.number.empty() ? "" : shape.number + " ") + shape.text;
}

std::string as_bpmn(const std::vector<PlacedChart>& placed) {
  std::vector<PlacedChart> charts;
  for (const PlacedChart& each : placed) charts.push_back({with_catches(each.chart), each.bands});
  pugi::xml_document document;
  xml_node root = definitions(document, charts.front().chart);
  std::vector<Ids> ids;
  std::vector<Flows> flows;
  flows.reserve(charts.size());
  for (std::size_t c = 0; c < charts.size(); ++c) {
    ids.emplace_back(charts.size() == 1 ? "" : fmt::format("v{}.", c + 1));
    flows.emplace_back(charts[c].chart);
    ProcessWriter(root, charts[c].chart, flows.back(), ids.back()).write();
  }
  for (std::size_t c = 0; c < charts.size(); ++c) put_diagram(root, charts[c], flows[c], ids[c]);
  std::ostringstream text;
  document.save(text, " ", pugi::format_default, pugi::encoding_utf8);
  return text.str();
}

}  // namespace stepward::emit::bpmn
