#include "emit/bpmn/diagram.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "emit/flow_chart/lettering.hpp"

namespace stepward::emit::bpmn {
namespace {

using pugi::xml_node;
using What = Shape::What;

std::string figure(double number) {
  std::string text = fmt::format("{:.1f}", number);
  if (text.compare(text.size() - 2, 2, ".0") == 0) text.resize(text.size() - 2);
  return text == "-0" ? "0" : text;
}

void put_bounds(xml_node parent, const Area& area) {
  xml_node bounds = parent.append_child("dc:Bounds");
  bounds.append_attribute("x") = figure(area.left).c_str();
  bounds.append_attribute("y") = figure(area.top).c_str();
  bounds.append_attribute("width") = figure(area.right - area.left).c_str();
  bounds.append_attribute("height") = figure(area.bottom - area.top).c_str();
}

class DiagramWriter {
 public:
  DiagramWriter(xml_node root, const PlacedChart& placed, const Flows& flows, Ids& ids)
      : chart_(placed.chart), flows_(flows), ids_(ids), places_(places_of(placed)) {
    xml_node diagram = root.append_child("bpmndi:BPMNDiagram");
    diagram.append_attribute("id") = ids_.of("diagram").c_str();
    plane_ = diagram.append_child("bpmndi:BPMNPlane");
    plane_.append_attribute("id") = ids_.of("plane").c_str();
    plane_.append_attribute("bpmnElement") = ids_.of("collaboration").c_str();
  }

  void write() {
    for (const PoolPlace& pool : places_.pools) put_pool(pool);
    for (std::size_t b = 0; b < chart_.bands.size(); ++b) {
      if (chart_.bands[b].what == Band::What::phase) put_shape("group:" + chart_.bands[b].id, places_.bands[b].frame);
      if (chart_.bands[b].what != Band::What::breach) continue;
      put_shape("sub:" + chart_.bands[b].id, places_.bands[b].frame).append_attribute("isExpanded") = true;
    }
    for (std::size_t b = 0; b < chart_.bands.size(); ++b) put_band(b);
    for (const Flow& flow : flows_.all()) put_flow(flow);
  }

 private:
  xml_node put_shape(const std::string& key, const Area& area) {
    xml_node shape = plane_.append_child("bpmndi:BPMNShape");
    shape.append_attribute("id") = ids_.of("di:" + key).c_str();
    shape.append_attribute("bpmnElement") = ids_.of(key).c_str();
    put_bounds(shape, area);
    return shape;
  }

  void put_pool(const PoolPlace& pool) {
    const Band& first = chart_.bands[pool.bands.front()];
    const std::string key = first.what == Band::What::box ? first.id : "course";
    put_shape("pool:" + key, pool.area).append_attribute("isHorizontal") = true;
    for (std::size_t lane = 0; lane < pool.lanes.size(); ++lane) {
      put_shape(fmt::format("lane:{}:{}", key, lane), pool.lanes[lane].area).append_attribute("isHorizontal") = true;
    }
    if (pool.at_any_time.bottom > 0) put_shape("lane:course:any_time", pool.at_any_time).append_attribute("isHorizontal") = true;
  }

  void put_band(std::size_t b) {
    const Band& band = chart_.bands[b];
    for (std::size_t s = 0; s < band.shapes.size(); ++s) {
      if (!flows_.is_drawn(b, s)) continue;
      const Area& area = places_.bands[b].shapes[s];
      xml_node shape = put_shape(band.shapes[s].id, area);
      if (band.shapes[s].what == What::question) shape.append_attribute("isMarkerVisible") = true;
      const std::string name = name_in_diagram(band, band.shapes[s]);
      const bool inside = band.shapes[s].what == What::step || band.shapes[s].what == What::box;
      if (!inside && !name.empty()) put_name_below(shape, area, name);
    }
  }

  /// Tools write the name of a gateway or an event beside it; below there is room.
  static void put_name_below(xml_node shape, const Area& area, const std::string& name) {
    const double lines = static_cast<double>(flow_chart::wrapped(name, 9).size());
    const double middle = (area.left + area.right) / 2;
    put_bounds(shape.append_child("bpmndi:BPMNLabel"), {middle - 55, area.bottom + 3, middle + 55, area.bottom + 3 + 14 * lines});
  }

  void put_flow(const Flow& flow) {
    xml_node edge = plane_.append_child("bpmndi:BPMNEdge");
    edge.append_attribute("id") = ids_.of("di:" + flow.id).c_str();
    edge.append_attribute("bpmnElement") = ids_.of(flow.id).c_str();
    std::vector<Point> points = places_.bands[flow.band].ways[flow.position];
    for (const auto& [band, way] : flow.through) {
      const auto& more = places_.bands[band].ways[way];
      points.insert(points.end(), more.begin(), more.end());
    }
    for (const Point& point : points) {
      xml_node waypoint = edge.append_child("di:waypoint");
      waypoint.append_attribute("x") = figure(point.x).c_str();
      waypoint.append_attribute("y") = figure(point.y).c_str();
    }
    if (flow.way->label.empty()) return;
    const Point middle = places_.bands[flow.band].labels[flow.position];
    const double half = flow_chart::width_in_ems(flow.way->label) * 11 / 2 + 3;
    put_bounds(edge.append_child("bpmndi:BPMNLabel"), {middle.x - half, middle.y - 7, middle.x + half, middle.y + 7});
  }

  const Chart& chart_;
  const Flows& flows_;
  Ids& ids_;
  Places places_;
  xml_node plane_;
};

}  // namespace

void put_diagram(xml_node root, const PlacedChart& placed, const Flows& flows, Ids& ids) { DiagramWriter(root, placed, flows, ids).write(); }

}  // namespace stepward::emit::bpmn
