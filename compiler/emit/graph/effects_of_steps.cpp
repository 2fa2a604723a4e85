#include "emit/graph/effects_of_steps.hpp"

#include "effects/as_read.hpp"
#include "rules/weave.hpp"
#include "wording/story.hpp"

namespace stepward::emit::step_graph {
namespace {

using effects::Cause;

/// The word for a cause; empty for what is only bookkeeping of the walk.
const char* word_for(Cause::What what) {
  switch (what) {
    case Cause::What::meets: return "meets";
    case Cause::What::pulled_off: return "is_pulled_off_over";
    case Cause::What::brushes: return "brushes";
    case Cause::What::rests_inside: return "inside_rests_on";
    case Cause::What::leaves: return "comes_off";
    case Cause::What::goes_on: return "goes_on";
    case Cause::What::disinfected: return "is_disinfected";
    case Cause::What::wetted: return "is_wetted";
    case Cause::What::cleaned: return "is_cleaned";
    case Cause::What::looked: return "is_looked_at";
    case Cause::What::torn: return "tear_reaches";
    case Cause::What::exposed: return "place_reaches";
    case Cause::What::passed: return "is_taken_in_hand";
    case Cause::What::none:
    case Cause::What::moved:
    case Cause::What::answered:
    case Cause::What::declared:
    case Cause::What::recorded:
    case Cause::What::struck:
    case Cause::What::happens:
    case Cause::What::remembered:
    case Cause::What::counted: return "";
  }
  return "";
}

/// Whether the cause names the thing in `first` only, in `second` only, or in both.
enum class Names : std::uint8_t { first, second, both };
Names names_of(Cause::What what) {
  switch (what) {
    case Cause::What::leaves:
    case Cause::What::goes_on:
    case Cause::What::passed: return Names::first;
    case Cause::What::disinfected:
    case Cause::What::wetted:
    case Cause::What::cleaned:
    case Cause::What::looked:
    case Cause::What::torn:
    case Cause::What::exposed:
    case Cause::What::happens: return Names::second;
    case Cause::What::none:
    case Cause::What::meets:
    case Cause::What::pulled_off:
    case Cause::What::brushes:
    case Cause::What::rests_inside:
    case Cause::What::moved:
    case Cause::What::answered:
    case Cause::What::declared:
    case Cause::What::recorded:
    case Cause::What::struck:
    case Cause::What::remembered:
    case Cause::What::counted: return Names::both;
  }
  return Names::both;
}

/// "neck band of plastic apron"; the thing alone where no surface is meant.
std::string surface_name(const model::Protocol& protocol, const effects::Bearer& bearer, std::uint8_t part) {
  const std::string thing = wording::bearer_name(protocol, bearer);
  if (!bearer.item || part >= protocol[bearer.item].surfaces.size()) return thing;
  return protocol[bearer.item].surfaces[part].name + " of " + thing;
}

Effect effect_of(const model::Protocol& protocol, const Cause& cause) {
  const Names names = names_of(cause.what);
  Effect effect{word_for(cause.what), "", ""};
  if (names != Names::second) effect.first = surface_name(protocol, cause.first, cause.first_part);
  if (names == Names::second) effect.first = surface_name(protocol, cause.second, cause.second_part);
  if (names == Names::both) effect.second = surface_name(protocol, cause.second, cause.second_part);
  return effect;
}

void read_op(const model::Protocol& protocol, const effects::System& system, const effects::Op& op, model::LineId line,
             StepFacts& facts) {
  if (op.kind == effects::OpKind::report) {
    const effects::Report& report = system.reports[op.value];
    if (report.rule) facts.rules[line].insert(protocol[report.rule].number);
    return;
  }
  const Cause& cause = system.causes[op.cause];
  if (*word_for(cause.what) != '\0') facts.effects[line].insert(effect_of(protocol, cause));
}

}  // namespace

StepFacts facts_of_steps(const model::Protocol& protocol, const graph::Graph& graph) {
  effects::Lowered lowered = rules::woven(protocol, graph, effects::HoldBack::no);
  const effects::System system = effects::as_read(std::move(lowered));
  StepFacts facts;
  for (std::size_t n = 0; n < graph.nodes.size() && n < system.nodes.size(); ++n) {
    if (!graph.nodes[n].line) continue;
    const effects::Edges& edges = system.nodes[n];
    for (std::uint32_t e = edges.first; e < edges.first + edges.count; ++e) {
      const effects::Edge& edge = system.edges[e];
      for (std::uint32_t o = edge.first_op; o < edge.first_op + edge.op_count; ++o) {
        read_op(protocol, system, system.ops[o], graph.nodes[n].line, facts);
      }
    }
  }
  return facts;
}

}  // namespace stepward::emit::step_graph
