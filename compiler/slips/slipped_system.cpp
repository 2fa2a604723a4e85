#include "slips/slipped_system.hpp"

#include <algorithm>

#include "effects/from_graph.hpp"
#include "effects/ways.hpp"
#include "explore/redo.hpp"
#include "graph/from_model.hpp"
#include "model/variants.hpp"
#include "rules/weave.hpp"

namespace stepward::slips {
namespace {

using effects::EdgeLabel;
using Field = effects::FieldMeaning::What;

/// Without a clause that could hold.
constexpr explore::PackedGuard never{};

void add_ways(effects::System& system, const graph::GraphWithSlips& graph) {
  std::vector<effects::Way> ways;
  for (const graph::SlipWay& w : graph.ways) {
    effects::Edge e;
    e.guard = effects::GuardId(0u);
    e.by = w.slipped;
    e.target = w.leads_to;
    e.label.what = EdgeLabel::What::slips;
    e.label.slip = w.kind;
    ways.push_back({w.at, e});
  }
  effects::add_ways(system, ways);
}

/// Whether a look at `thing` is one at what the field is about.
bool looks_at(const model::Protocol& protocol, const model::Variant& variant, const model::Thing& thing, const effects::Bearer& b) {
  const auto is_hands = [&](model::SiteId s) { return protocol[s].is_hands; };
  switch (b.what) {
    case effects::Bearer::What::site: return thing.what == model::Thing::What::hands || thing.site == b.site;
    case effects::Bearer::What::spot: return thing.spot == b.spot;
    case effects::Bearer::What::worn:
    case effects::Bearer::What::fresh: break;
  }
  const auto& on = protocol[b.item].worn_on;
  if (thing.what == model::Thing::What::hands) return std::any_of(on.begin(), on.end(), is_hands);
  return model::item_of(protocol, thing, variant) == b.item;
}

/// What was missed and is found on this edge.
std::vector<explore::Slot> seen_on(const model::Protocol& protocol, const SlippedSystem& s, const effects::Edge& edge) {
  std::vector<explore::Slot> out;
  if (edge.label.what != EdgeLabel::What::looked) return out;
  const model::Line& line = protocol[s.ways.graph[edge.by].line];
  for (std::size_t f = 0; f < s.system.fields.size(); ++f) {
    const effects::FieldMeaning& m = s.system.fields[f].meaning;
    if (m.what != Field::missed) continue;
    for (std::size_t look = 0; look < edge.label.found.size(); ++look) {
      const model::FindingMeans means = protocol[line.findings[look % line.findings.size()]].means;
      const bool it = edge.label.found[look] && static_cast<std::uint32_t>(means) == m.index && looks_at(protocol, s.ways.graph.variant, line.things[look / line.findings.size()], m.bearer);
      if (it) { out.push_back(s.packed.fields[f]); break; }
    }
  }
  return out;
}

explore::Signs signs_of(const model::Protocol& protocol, const SlippedSystem& s) {
  explore::Signs out;
  for (effects::ReportId r : s.packed.reports) out.reports.push_back(weight_of(protocol, s.system.reports[r.value]));
  const auto is_note = [&](const explore::PackedOp& op) { return op.what == explore::PackedOp::Do::report && out.reports[op.value] == explore::Weight::note; };
  for (std::uint32_t e = 0; e < s.packed.edges.size(); ++e) {
    out.may_note.push_back(explore::may_pass(s.packed, e, is_note));
    out.seen_by.push_back(e < s.packed.first_strike ? seen_on(protocol, s, s.system.edges[e]) : std::vector<explore::Slot>());
  }
  return out;
}

}  // namespace

SlippedSystem slipped_system(const model::Protocol& advised, const model::Variant& variant) {
  SlippedSystem out;
  out.ways = graph::with_slips(advised, graph::from_model(advised, variant, graph::Contexts::apart));
  effects::Lowered lowered = rules::woven(advised, out.ways.graph, effects::HoldBack::no);
  add_ways(lowered.system, out.ways);
  out.whole = lowered.system;
  out.whole.fields = lowered.world.fields();
  out.system = effects::finish(std::move(lowered), true);
  out.packed = explore::pack(out.system, true);
  for (std::uint32_t e = 0; e < out.system.edges.size(); ++e) {
    if (out.system.edges[e].label.what != EdgeLabel::What::slips) continue;
    out.way_edges.push_back(e);
    out.packed.edges[e].guard = never;
  }
  out.signs = signs_of(advised, out);
  out.course = graph::number_steps(advised, variant);
  return out;
}

}  // namespace stepward::slips
