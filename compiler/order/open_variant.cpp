#include "order/open_variant.hpp"

#include "effects/formula.hpp"
#include "effects/from_graph.hpp"
#include "effects/ways.hpp"
#include "rules/weave.hpp"

namespace stepward::order {
namespace {

using effects::FieldId;
using effects::Formula;

/// The ways that leave each choice.
class ChoiceWays {
 public:
  explicit ChoiceWays(effects::Lowered& lowered) : lowered_(lowered), guards_(lowered.system.guards) {}

  std::vector<FieldId> add(const graph::Choice& choice) {
    std::vector<FieldId> done;
    for (std::size_t i = 0; i < choice.begins.size(); ++i) done.push_back(lowered_.world.monitor(UINT32_MAX - 2, fields_++, 1, 0));
    Formula all = Formula::always();
    for (std::uint32_t i = 0; i < done.size(); ++i) {
      add_way(choice, i, Formula::is(done[i], 0), choice.begins[i], {done[i]}, 1);
      all = all & Formula::is(done[i], 1);
    }
    add_way(choice, static_cast<std::uint32_t>(done.size()), all, choice.after, done, 0);
    return done;
  }

  void finish() { effects::add_ways(lowered_.system, ways_); }

 private:
  void add_way(const graph::Choice& choice, std::uint32_t line, const Formula& when, graph::NodeId target, const std::vector<FieldId>& set, std::uint32_t to) {
    effects::System& system = lowered_.system;
    effects::Edge e;
    e.guard = guards_.file(when);
    e.first_op = static_cast<std::uint32_t>(system.ops.size());
    e.op_count = static_cast<std::uint32_t>(set.size());
    for (FieldId f : set) system.ops.push_back({effects::OpKind::set, effects::GuardId(0u), f, {}, to, 0});
    e.by = choice.node;
    e.target = target;
    e.label.answer = line;  // which line it is, for whoever reads the walk
    ways_.push_back({choice.node, e});
  }

  effects::Lowered& lowered_;
  effects::GuardBook guards_;
  std::vector<effects::Way> ways_;
  std::uint32_t fields_ = 0;
};

/// The graph lowered, with the ways of its choices. `done`: the fields of their lines.
effects::Lowered lowered_open(const model::Protocol& protocol, const graph::GraphWithChoices& open, std::vector<std::vector<FieldId>>& done) {
  effects::Lowered lowered = rules::woven(protocol, open.graph, effects::HoldBack::no);
  if (lowered.system.causes.empty()) lowered.system.causes.emplace_back();
  ChoiceWays ways(lowered);
  for (const graph::Choice& choice : open.choices) done.push_back(ways.add(choice));
  ways.finish();
  return lowered;
}

}  // namespace

OpenVariant open_variant(const model::Protocol& protocol, const model::Variant& variant, const std::vector<graph::OpenRun>& runs) {
  OpenVariant out;
  out.open = graph::with_open_order(protocol, variant, runs);
  out.system = effects::finish(lowered_open(protocol, out.open, out.done), true);
  out.packed = explore::pack(out.system, true);
  explore::drop_what_was_packed(out.system);
  return out;
}

effects::System open_as_lowered(const model::Protocol& protocol, const graph::GraphWithChoices& open) {
  std::vector<std::vector<FieldId>> done;
  effects::Lowered lowered = lowered_open(protocol, open, done);
  lowered.system.fields = lowered.world.take_fields();
  return std::move(lowered.system);
}

}  // namespace stepward::order
