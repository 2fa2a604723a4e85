#include "check/quiet_walk.hpp"

#include <algorithm>

#include "effects/from_graph.hpp"
#include "graph/from_model.hpp"

namespace stepward::check {
namespace {

std::vector<HandSurfaces> hand_surfaces(effects::World& world) {
  std::vector<HandSurfaces> all;
  for (const model::RoleId person : world.people()) {
    for (const effects::HandLayer& layer : world.hands(person)) {
      HandSurfaces hand{person, layer.bearer, layer.when, {}};
      for (const effects::Reachable& shown : world.showing_surfaces(layer.bearer)) hand.surfaces.push_back({world.level(shown.surface), shown.when});
      all.push_back(std::move(hand));
    }
  }
  return all;
}

}  // namespace

bool QuietWalk::holds(const effects::Clauses& any, const std::uint64_t* state) const {
  return std::any_of(any.begin(), any.end(), [&](const effects::Clause& clause) {
    return std::all_of(clause.begin(), clause.end(), [&](const effects::Test& t) { return t.allowed >> value(state, t.field) & 1; });
  });
}

QuietWalk quiet_walk(const model::Protocol& protocol, const model::Variant& variant, std::uint64_t limit, unsigned workers) {
  QuietWalk out{graph::from_model(protocol, variant), {}, {}, explore::Result(), {}};
  effects::Lowered lowered = effects::from_graph(protocol, out.graph, effects::HoldBack::no);
  out.hands = hand_surfaces(lowered.world);
  out.system = lowered.system;
  out.system.fields = lowered.world.fields();
  out.packed = explore::pack(effects::finish(std::move(lowered), false), false);
  explore::Options how;
  how.interruptions = false;
  how.limit = limit;
  how.threads = workers;
  if (out.system.causes.empty()) out.system.causes.emplace_back();
  if (out.packed.fits) out.result = explore::walk(out.packed, how);
  return out;
}

}  // namespace stepward::check
