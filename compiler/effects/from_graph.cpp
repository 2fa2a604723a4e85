#include "effects/from_graph.hpp"

#include <algorithm>

#include "effects/crossings.hpp"
#include "effects/simplify.hpp"

namespace stepward::effects {
namespace {

using model::RoleId;

// At the start each person is exposed to the place where they begin; the initial values carry that.
void expose_at_start(World& world) {
  for (const model::PersonStart& person : world.protocol().people) {
    if (!person.zone) continue;
    const model::Zone& zone = world.protocol()[person.zone];
    if (zone.exposes == model::Exposes::nothing) continue;
    for (model::ItemId i : world.wardrobe(person.role)) {
      const Bearer b = world.worn_bearer(person.role, i);
      bool raised = false;
      for (const Reachable& r : world.showing_surfaces(b)) {
        if (zone.exposes == model::Exposes::front_only && world.reach(r.surface) != model::Reach::exposed) continue;
        if (!holds_at_start(r.when, world.fields())) continue;
        world.set_initial(world.level(r.surface), kSuspect);
        raised = true;
      }
      if (raised) world.set_initial(world.unlooked(b), 1);
      if (raised && world.may_be_torn(b)) world.set_initial(world.worst(b), kSuspect);
    }
  }
}

class GraphLowering {
 public:
  GraphLowering(const model::Protocol& protocol, const graph::Graph& graph, HoldBack hold_back)
      : lowered_{World(protocol, graph), {}}, graph_(graph), program_(lowered_.world, lowered_.system, hold_back) {}

  Lowered lower() {
    expose_at_start(lowered_.world);
    program_.cause({});
    lowered_.system.start = graph_.start;
    bound_timers();
    lowered_.system.interruptions = static_cast<std::uint32_t>(graph_.handler_start.size());
    for (std::uint32_t n = 0; n < graph_.nodes.size(); ++n) lower_node(graph::NodeId(n));
    for (const auto& leads_to : graph_.strikes_lead_to)
      for (std::uint32_t i = 0; i < leads_to.size(); ++i) {
        Edge e = strike(program_, model::InterruptionId(i));
        e.target = leads_to[i];
        lowered_.system.strikes.push_back(std::move(e));
      }
    return std::move(lowered_);
  }

 private:
  void lower_node(graph::NodeId id) {
    const graph::Node& node = graph_[id];
    std::vector<Edge> edges;
    if (!node.stands_beside) edges = edges_from(id);
    for (graph::NodeId beside : node.instead)
      for (Edge& e : edges_from(beside)) edges.push_back(std::move(e));
    Edges place;
    place.first = static_cast<std::uint32_t>(lowered_.system.edges.size());
    place.count = static_cast<std::uint32_t>(edges.size());
    place.context = node.context;
    place.first_strike = node.context * lowered_.system.interruptions;
    place.strike_count = graph::is_standing(node) ? lowered_.system.interruptions : 0;
    // What is open is settled before the line is begun: nothing strikes between.
    place.may_be_struck = graph::is_standing(node) || node.kind == graph::NodeKind::choice;
    place.struck_returns_to = node.struck_returns_to ? node.struck_returns_to : id;
    for (Edge& e : edges) lowered_.system.edges.push_back(std::move(e));
    lowered_.system.nodes.push_back(place);
  }

  // Every line that starts a timer and says how long it is to run has a clock of its own.
  void bound_timers() {
    std::vector<model::LineId> seen;
    for (const graph::Node& node : graph_.nodes) {
      if (!node.line || std::find(seen.begin(), seen.end(), node.line) != seen.end()) continue;
      seen.push_back(node.line);
      const model::Line& line = lowered_.world.protocol()[node.line];
      if (line.verb != model::VerbKind::start_timer) continue;
      if (line.at_least) lowered_.system.timings.push_back({false, line.at_least->seconds, {}, node.line});
      if (line.at_most) lowered_.system.timings.push_back({true, line.at_most->seconds, {}, node.line});
    }
  }

  std::vector<Edge> edges_from(graph::NodeId id) {
    const graph::Node& node = graph_[id];
    const bool is_line = node.kind == graph::NodeKind::line || node.kind == graph::NodeKind::contact_end;
    std::vector<Edge> edges = is_line ? LineWriter(program_).edges_of(id) : crossing(program_, id);
    for (Edge& e : edges) e.by = id;
    return edges;
  }

  Lowered lowered_;
  const graph::Graph& graph_;
  Program program_;
};

}  // namespace

System finish(Lowered lowered, bool reduce) {
  // What is asked of hands depends on which gloves are on.
  std::vector<FieldId> modes;
  for (model::ItemId i : lowered.world.hand_items(lowered.world.protocol().acts))
    if (modes.size() < 3) modes.push_back(lowered.world.worn(lowered.world.protocol().acts, i));
  lowered.system.fields = lowered.world.take_fields();
  simplify(lowered.system, reduce, modes);
  return std::move(lowered.system);
}

Lowered from_graph(const model::Protocol& protocol, const graph::Graph& graph, HoldBack hold_back) {
  return GraphLowering(protocol, graph, hold_back).lower();
}

}  // namespace stepward::effects
