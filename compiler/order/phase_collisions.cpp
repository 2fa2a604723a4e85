#include "order/phase_collisions.hpp"

#include <algorithm>
#include <bit>
#include <memory>

#include "base/side_by_side.hpp"
#include "model/variants.hpp"
#include "order/collision_story.hpp"
#include "order/phase_orders.hpp"
#include "rules/advice.hpp"

namespace stepward::order {
namespace {

using model::Statement;

/// A phase of one variant, ready to be asked.
struct OpenedPhase {
  model::Protocol protocol;               ///< rules are advice, and what is for some variants only stands in the phase itself
  graph::OpenRun run;
  OpenVariant variant;
  bool is_whole = true;                   ///< false: it has more lines than can be put around one choice
  std::vector<std::size_t> walks;         ///< whose variants differ in nothing but names
};

/// The statements of a block that this variant has. Deep as blocks nest.
void put_in_line(const model::Protocol& protocol, model::BlockId block, const model::Variant& variant, std::vector<Statement>& out) {
  for (const Statement& s : protocol[block].statements) {
    if (s.what == Statement::What::only_for) {
      if (model::holds(s.only_for, variant)) put_in_line(protocol, s.block, variant, out);
    } else if (s.what != Statement::What::line || model::holds(protocol[s.line].only_for, variant)) {
      out.push_back(s);
    }
  }
}

bool ends_a_run(const Statement& s) { return s.what == Statement::What::finish || s.what == Statement::What::resume; }

std::unique_ptr<OpenedPhase> opened_phase(const model::Protocol& protocol, const model::Variant& variant, model::PhaseId phase) {
  auto out = std::make_unique<OpenedPhase>();
  out->protocol = rules::with_rules_as_advice(protocol);
  const model::BlockId block = protocol.phases[phase.value].block;
  std::vector<Statement> lines;
  put_in_line(protocol, block, variant, lines);
  const auto count = static_cast<std::uint32_t>(std::find_if(lines.begin(), lines.end(), ends_a_run) - lines.begin());
  out->is_whole = count <= most_lines_of_a_phase;
  out->run = {block, out->is_whole ? 0 : count - most_lines_of_a_phase, std::min(count, most_lines_of_a_phase)};
  out->protocol.blocks[block.value].statements = std::move(lines);
  if (count < 2) return nullptr;
  out->variant = open_variant(out->protocol, variant, {out->run});
  return out;
}

/// What one phase of one variant gave.
struct Asked {
  std::vector<PhaseCollision> pairs;
  bool complete = true;
  std::uint64_t states = 0;
};

/// Asks one phase, situation by situation.
class PairFinder {
 public:
  PairFinder(const model::Protocol& protocol, const OpenedPhase& opened, model::PhaseId phase, const PhaseOptions& options)
      : protocol_(protocol), opened_(opened), phase_id_(phase), phase_(protocol, opened.variant, phase, options.interruptions, options.limit),
        orders_(phase_, options.most_places) {}

  Asked run() {
    const std::vector<std::uint32_t> beginnings = phase_.beginnings();
    for (std::uint32_t at : beginnings)
      if (orders_.is_complete() && lines_left(at) > 1) ask(at);
    out_.complete = orders_.is_complete();
    out_.states = phase_.states();
    return std::move(out_);
  }

 private:
  std::uint32_t lines_left(std::uint32_t at) const { return phase_.lines() - static_cast<std::uint32_t>(std::popcount(phase_.done(at))); }

  void ask(std::uint32_t at) {
    const auto any = orders_.that_keeps(0, at);
    if (!any) return;
    for (Broken one : each_of(any->broken)) {
      const auto with_one = orders_.that_keeps(one, at);
      if (!with_one) continue;
      Broken partners = with_one->broken;
      for (Broken other : each_of(with_one->broken))
        if ((partners & other) && !is_known(one, other)) ask_pair(at, one, *with_one, other, partners);
    }
  }

  /// What a kept order shows of other partners is taken along.
  void ask_pair(std::uint32_t at, Broken one, const TriedOrder& with_one, Broken other, Broken& partners) {
    const auto with_other = orders_.that_keeps(other, at);
    if (!with_other) return;
    const auto with_both = orders_.that_keeps(one | other, at);
    if (with_both) partners &= with_both->broken;
    else if (orders_.is_complete()) note(at, one, with_one, other, *with_other);
  }

  static std::vector<Broken> each_of(Broken broken) {
    std::vector<Broken> out;
    for (broken &= ~without_rule; broken != 0; broken &= broken - 1) out.push_back(broken & ~(broken - 1));
    return out;
  }

  model::RuleId rule(Broken one) const { return phase_.rules()[static_cast<std::size_t>(std::countr_zero(one))]; }

  bool is_known(Broken one, Broken other) const {
    const auto [a, b] = std::minmax({rule(one), rule(other)});  // a list: the pair holds copies
    return std::any_of(out_.pairs.begin(), out_.pairs.end(), [a = a, b = b](const PhaseCollision& p) { return p.one == a && p.other == b; });
  }

  void note(std::uint32_t at, Broken one, const TriedOrder& with_one, Broken other, const TriedOrder& with_other) {
    if (rule(other) < rule(one)) return note(at, other, with_other, one, with_one);
    PhaseCollision made;
    made.one = rule(one);
    made.other = rule(other);
    made.phase = phase_id_;
    made.left = lines_left(at);
    made.keeps_one = places(with_one.lines);
    made.keeps_other = places(with_other.lines);
    made.at = places({static_cast<std::uint32_t>(std::countr_one(phase_.done(at)))}).front();
    made.steps = phase_.steps_to(at);
    tell(at, with_one, with_other, made);
    out_.pairs.push_back(std::move(made));
  }

  std::vector<source::Span> places(const std::vector<std::uint32_t>& lines) const {
    std::vector<source::Span> out;
    const auto& statements = opened_.protocol[opened_.run.block].statements;
    for (std::uint32_t line : lines) out.push_back(statements[opened_.run.first + line].span);
    return out;
  }

  /// What matters of the past is what either breach asks of it.
  void tell(std::uint32_t at, const TriedOrder& with_one, const TriedOrder& with_other, PhaseCollision& made) {
    std::vector<BrokenRun> runs;
    if (auto run = phase_.run_that_breaks(at, with_other.lines, made.one)) runs.push_back(std::move(*run));
    if (auto run = phase_.run_that_breaks(at, with_one.lines, made.other)) runs.push_back(std::move(*run));
    made.story = story_of_situation(protocol_, opened_.protocol, opened_.variant, runs);
    if (made.story.empty()) made.story.push_back({"", phase_.done(at) == 0 ? "this phase begins" : "everything so far is done as it is written", false});
  }

  const model::Protocol& protocol_;
  const OpenedPhase& opened_;
  model::PhaseId phase_id_;
  OpenPhase phase_;
  PhaseOrders orders_;
  Asked out_;
};

/// The variants in which the walks found a rule broken in this phase, alike ones together.
std::vector<std::unique_ptr<OpenedPhase>> opened_variants(const model::Protocol& protocol, const std::vector<check::VariantWalk>& walks, model::PhaseId phase) {
  std::vector<std::unique_ptr<OpenedPhase>> out;
  for (std::size_t w = 0; w < walks.size(); ++w) {
    if (!walks[w].broken_in.count(phase)) continue;
    auto opened = opened_phase(protocol, walks[w].variant, phase);
    if (!opened) continue;
    const auto alike = std::find_if(out.begin(), out.end(), [&](const auto& other) { return explore::walk_alike(other->variant.packed, opened->variant.packed); });
    if (alike != out.end()) { (*alike)->walks.push_back(w); continue; }
    opened->walks.push_back(w);
    out.push_back(std::move(opened));
  }
  return out;
}

/// One phase, all variants: a pair is told by its earliest situation.
void ask_phase(const model::Protocol& protocol, const std::vector<check::VariantWalk>& walks, model::PhaseId phase, const PhaseOptions& options, PhaseCollisions& out) {
  std::vector<PhaseCollision> pairs;
  std::optional<UntriedPhase> untried;
  for (const auto& opened : opened_variants(protocol, walks, phase)) {
    if (untried && !untried->too_many_lines) break;  // what can be said of the phase is said
    Asked asked = PairFinder(protocol, *opened, phase, options).run();
    if ((!asked.complete || !opened->is_whole) && !untried) untried = UntriedPhase{phase, asked.complete, asked.states};
    for (PhaseCollision& pair : asked.pairs) {
      pair.variants = opened->walks.size();
      const auto known = std::find_if(pairs.begin(), pairs.end(), [&](const PhaseCollision& p) { return p.one == pair.one && p.other == pair.other; });
      if (known == pairs.end()) { pairs.push_back(std::move(pair)); continue; }
      pair.variants += known->variants;
      if (pair.steps < known->steps) *known = std::move(pair);
      else known->variants = pair.variants;
    }
  }
  std::stable_sort(pairs.begin(), pairs.end(), [](const PhaseCollision& a, const PhaseCollision& b) { return a.steps < b.steps; });
  out.pairs = std::move(pairs);
  if (untried) out.untried.push_back(*untried);
}

}  // namespace

PhaseCollisions phase_collisions(const model::Protocol& protocol, const std::vector<check::VariantWalk>& walks, const PhaseOptions& options) {
  std::set<model::PhaseId> phases;
  for (const check::VariantWalk& walk : walks) phases.insert(walk.broken_in.begin(), walk.broken_in.end());
  const std::vector<model::PhaseId> in_turn(phases.begin(), phases.end());
  std::vector<PhaseCollisions> by_phase(in_turn.size());
  side_by_side(in_turn.size(), options.workers, [&](std::size_t i) { ask_phase(protocol, walks, in_turn[i], options, by_phase[i]); });
  PhaseCollisions out;
  for (PhaseCollisions& each : by_phase) {
    std::move(each.pairs.begin(), each.pairs.end(), std::back_inserter(out.pairs));
    out.untried.insert(out.untried.end(), each.untried.begin(), each.untried.end());
  }
  return out;
}

}  // namespace stepward::order
