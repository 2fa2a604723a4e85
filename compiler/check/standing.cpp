#include "check/standing.hpp"

#include <algorithm>
#include <functional>
#include <map>

#include "effects/crossings.hpp"
#include "effects/from_graph.hpp"
#include "graph/from_model.hpp"

namespace stepward::check {
namespace {

using effects::Bearer;
using effects::Formula;
using effects::SurfaceAt;

/// One thing that can be true of somebody at a moment, and how a standing remembers it.
struct Fact {
  Formula when;
  std::function<void(Standing&)> note;
};

class Facts {
 public:
  explicit Facts(effects::World& world) : world_(world), protocol_(world.protocol()), who_(protocol_.acts) {}

  std::vector<Fact> all() {
    for (model::ItemId i : world_.wardrobe(who_)) {
      const std::string name = protocol_[i].name;
      add(world_.is_worn(who_, i), [name](Standing& s) { s.worn.insert(name); });
      for (std::uint8_t part = 0; part < protocol_[i].surfaces.size(); ++part)
        add_level({world_.worn_bearer(who_, i), part}, world_.is_worn(who_, i), protocol_[i].surfaces[part].name, name);
      for (model::ItemId j : world_.wardrobe(who_)) add_order(i, j);
    }
    for (std::size_t s = 0; s < protocol_.sites.size(); ++s)
      add_level({world_.site_bearer(who_, model::SiteId(s)), 0}, Formula::always(), "", protocol_.sites[s].name);
    for (std::size_t z = 0; z < protocol_.zones.size(); ++z) {
      const std::string name = protocol_.zones[z].name;
      add(Formula::is(world_.zone(who_), static_cast<std::uint32_t>(z)), [name](Standing& s) { s.zones.insert(name); });
    }
    return std::move(facts_);
  }

 private:
  void add(Formula when, std::function<void(Standing&)> note) { facts_.push_back({std::move(when), std::move(note)}); }

  void add_level(const SurfaceAt& surface, const Formula& when, const std::string& part, const std::string& thing) {
    add(when & world_.unclean(world_.level(surface)), [part, thing](Standing& s) { s.unclean.insert({thing, part}); });
  }

  void add_order(model::ItemId upper, model::ItemId lower) {
    if (upper == lower || !world_.order(who_, upper, lower)) return;
    const std::string above = protocol_[upper].name, below = protocol_[lower].name;
    add(world_.is_worn(who_, upper) & world_.is_worn(who_, lower) & world_.above(who_, upper, lower),
        [above, below](Standing& s) { s.above.insert({above, below}); });
  }

  effects::World& world_;
  const model::Protocol& protocol_;
  model::RoleId who_;
  std::vector<Fact> facts_;
};

/// Appends one report a fact to the edges of endings, which stand at the end of their operations anew.
class Asking {
 public:
  Asking(effects::Lowered& lowered, std::vector<Fact> facts)
      : system_(lowered.system), guards_(system_.guards), facts_(std::move(facts)) {
    for (const Fact& fact : facts_) {
      reports_.push_back(static_cast<std::uint32_t>(system_.reports.size()));
      effects::Report r;
      r.severity = diagnostics::Severity::note;
      system_.reports.push_back(r);
      when_.push_back(guards_.file(fact.when));
    }
  }

  void ask_at(graph::NodeId node) {
    for (std::uint32_t e = 0; e < system_.nodes[node.value].count; ++e) {
      effects::Edge& edge = system_.edges[system_.nodes[node.value].first + e];
      const auto first = static_cast<std::uint32_t>(system_.ops.size());
      for (std::uint32_t i = 0; i < edge.op_count; ++i) {
        const effects::Op op = system_.ops[edge.first_op + i];
        system_.ops.push_back(op);
      }
      for (std::size_t f = 0; f < facts_.size(); ++f)
        if (!facts_[f].when.is_never()) system_.ops.push_back({effects::OpKind::report, when_[f], {}, {}, reports_[f], 0});
      edge.first_op = first;
      edge.op_count = static_cast<std::uint32_t>(system_.ops.size()) - first;
    }
  }

  void note(std::uint32_t report, Standing& standing) const {
    if (report >= reports_.front()) facts_[report - reports_.front()].note(standing);
  }

 private:
  effects::System& system_;
  effects::GuardBook guards_;
  std::vector<Fact> facts_;
  std::vector<std::uint32_t> reports_;
  std::vector<effects::GuardId> when_;
};

/// `next` is a number; behind it the ending may say the title.
bool leads_to(const model::Ending& ending, const std::string& next) {
  return ending.normal && (ending.continue_with.empty() || next.empty() || (ending.continue_with + ' ').rfind(next + ' ', 0) == 0);
}

}  // namespace

model::Protocol before_the_first_line(const model::Protocol& protocol) {
  model::Protocol still = protocol;
  still.phases.clear();
  still.interruptions.clear();
  still.lines.clear();
  still.blocks.clear();
  return still;
}

Standing standing_at_start(const model::Protocol& still, const model::Variant& variant) {
  const graph::Graph graph = graph::from_model(still, variant, graph::Contexts::apart);
  effects::Lowered lowered = effects::from_graph(still, graph, effects::HoldBack::no);
  Standing standing;
  for (const Fact& fact : Facts(lowered.world).all())
    if (effects::holds_at_start(fact.when, lowered.world.fields())) fact.note(standing);
  return standing;
}

Arrival standing_at_ending(const model::Protocol& protocol, const model::Variant& variant, const std::string& next,
                           const Options& options) {
  Arrival arrival;
  const graph::Graph graph = graph::from_model(protocol, variant, graph::Contexts::apart);
  effects::Lowered lowered = effects::from_graph(protocol, graph, effects::HoldBack::no);
  Asking asking(lowered, Facts(lowered.world).all());
  for (std::uint32_t n = 0; n < graph.nodes.size(); ++n)
    if (graph.nodes[n].kind == graph::NodeKind::finish && leads_to(protocol[graph.nodes[n].ending], next)) asking.ask_at(graph::NodeId(n));
  const effects::System system = effects::finish(std::move(lowered), true);
  const explore::Packed packed = explore::pack(system, true);
  const explore::Result result = explore::walk(packed, {options.interruptions, options.limit});
  arrival.complete = result.complete && packed.fits;
  for (const explore::Found& f : result.found) {
    const effects::ReportId report = packed.reports[f.report];
    arrival.has_error |= system.reports[report.value].severity == diagnostics::Severity::error;
    asking.note(report.value, arrival.standing);
  }
  arrival.reached = !arrival.standing.zones.empty();
  return arrival;
}

}  // namespace stepward::check
