// Looks: every combination of what may be found is an edge of its own.

#include <algorithm>

#include "effects/lines.hpp"

namespace stepward::effects {
namespace {

using diagnostics::Code;
using model::FindingMeans;

}  // namespace

// When this outcome of one look can be.
Formula LineWriter::possible(const model::Line& line, const Look& look, bool found) {
  const FindingMeans means = protocol_[look.finding].means;
  Formula can, nothing_there = Formula::always();
  for (const Candidate& c : world_.candidates(look.thing, line.who, true)) {
    Formula visible, unclean, soiled;
    for (const Reachable& r : world_.showing_surfaces(c.bearer)) {
      if (c.part != 0xFF && c.part != r.surface.part) continue;
      const Formula now = r.when & c.when;
      visible = visible | now;
      unclean = unclean | (now & world_.unclean(world_.level(r.surface)));
      soiled = soiled | (now & Formula::is(world_.level(r.surface), kSoiled));
    }
    const bool item = c.bearer.item ? true : false;
    const Bearer memory = world_.remembered_on(look.thing, c.bearer);
    nothing_there = nothing_there & world_.negate(visible);
    // What was missed once is there to be seen by the next who looks.
    const FieldId missed = world_.find_missed(memory, means);
    const Formula unseen = missed ? Formula::is(missed, 1) : Formula::never();
    switch (means) {
      case FindingMeans::surface_soiled: can = can | (found ? unclean : visible & world_.negate(soiled | unseen)); break;
      case FindingMeans::barrier_broken: {
        if (!item) { if (!found) can = can | visible; break; }
        const FieldId known = world_.find_known(memory, c.part, look.finding);
        const Formula already = known ? Formula::is(known, is_found) : Formula::never();
        can = can | (found ? visible : visible & world_.negate(already | unseen));
        break;
      }
      case FindingMeans::skin_showing: if (item || !found) can = can | visible; break;
    }
  }
  return found ? can : can | nothing_there;
}

// When a candidate can be looked at.
Formula LineWriter::can_be_seen(const Candidate& c) {
  return c.when & (c.part == 0xFF ? world_.anything_shows(c.bearer) : world_.shows({c.bearer, c.part}));
}

void LineWriter::find_tear(const Bearer& b, const Formula& when) {
  if (b.what != Bearer::What::worn) return;
  const FieldId worst = world_.scratch();
  program_.lift(worst, world_.worst(b), when);
  for (Reachable& r : world_.beneath(b.person, b.item)) {
    const Formula now = when & r.when;
    if (r.surface.bearer.what == Bearer::What::site)
      program_.set(world_.reached(r.surface.bearer), 1, now & world_.unclean(worst) & world_.not_unclean(world_.level(r.surface)), {});
    program_.reach_from(worst, b, r.surface, now, Cause::What::torn, false);
  }
}

// It is there, as bad as it can be, and stays until somebody sees it.
void LineWriter::overlook(const Candidate& c, const Bearer& memory, FindingMeans means) {
  const Formula visible = can_be_seen(c);
  if (means == FindingMeans::surface_soiled)
    for (const Reachable& r : world_.showing_surfaces(c.bearer))
      if (c.part == 0xFF || c.part == r.surface.part)
        program_.set(world_.level(r.surface), kSoiled, visible & r.when & Formula::is(world_.level(r.surface), kSuspect), {});
  if (const FieldId missed = world_.find_missed(memory, means)) program_.set(missed, 1, visible, {});
}

void LineWriter::outcome(const model::Line& line, const Look& look, bool found, bool overlooked) {
  const FindingMeans means = protocol_[look.finding].means;
  for (const Candidate& c : world_.candidates(look.thing, line.who, true)) {
    const Formula visible = can_be_seen(c);
    if (visible.is_never()) continue;
    const Bearer memory = world_.remembered_on(look.thing, c.bearer);
    const Cause why{Cause::What::looked, c.bearer, c.part, c.bearer, c.part};
    Moment m = event(found ? model::Event::What::found : model::Event::What::not_found, line, {memory});
    m.part = c.part;
    m.finding = look.finding;
    program_.moment(m, visible);
    m.asked = false;
    program_.moment(m, visible);
    if (found && means == FindingMeans::surface_soiled)
      for (const Reachable& r : world_.showing_surfaces(c.bearer))
        if (c.part == 0xFF || c.part == r.surface.part)
          program_.set(world_.level(r.surface), kSoiled, visible & r.when & Formula::is(world_.level(r.surface), kSuspect), why);
    if (found && means == FindingMeans::barrier_broken) find_tear(c.bearer, visible);
    if (overlooked) overlook(c, memory, means);
    else if (const FieldId missed = world_.find_missed(memory, means); missed && found) program_.set(missed, 0, visible, {});
    if (!found && !overlooked && means == FindingMeans::barrier_broken && c.bearer.what == Bearer::What::worn) {
      const FieldId worst = world_.worst(c.bearer);
      program_.set(worst, kClean, visible, {});
      for (const Reachable& r : world_.showing_surfaces(c.bearer)) program_.lift(worst, world_.level(r.surface), visible & r.when);
    }
    if (const FieldId known = world_.find_known(memory, c.part, look.finding)) program_.set(known, found ? is_found : is_not_found, visible, why);
    if (found && !protocol_[look.finding].answered_by.empty()) program_.set(world_.owed(memory, look.finding), 1, visible, why);
    if (c.bearer.what == Bearer::What::worn) program_.set(world_.unlooked(c.bearer), 0, visible, why);
  }
}

std::vector<Edge> LineWriter::inspect(graph::NodeId node, const model::Line& line) {
  std::vector<Look> looks;
  for (const model::Thing& thing : line.things) for (model::FindingId f : line.findings) looks.push_back({thing, f});
  std::vector<Edge> out;
  const bool overlooking = manner_ == graph::Manner::overlooking;
  const std::size_t overlooked = overlooking ? world_.graph()[node].look : looks.size();
  for (std::uint32_t combination = 0; combination < (1u << looks.size()); ++combination) {
    if (overlooking && (combination >> overlooked & 1)) continue;
    // The outcome without any finding comes first: it is the trouble-free path.
    Formula can = Formula::always();
    for (std::size_t i = 0; i < looks.size(); ++i) can = can & possible(line, looks[i], i == overlooked || (combination >> i & 1));
    if (can.is_never()) continue;
    program_.begin_edge(program_.guard(can));
    line_alone(model::Event::What::inspects, line, nothing_there(line), true);
    std::vector<Bearer> things;
    for (const model::Thing& thing : line.things) {
      Formula seen;
      Bearer first{};
      for (const Candidate& c : world_.candidates(thing, line.who, true)) {
        if (!seen.is_never() || first.person || first.item || first.site || first.spot) {} else first = c.bearer;
        seen = seen | (can_be_seen(c));
        need_one_place(line, c.bearer.person, true);
        things.push_back(world_.remembered_on(thing, c.bearer));
      }
      program_.report(about(Code::P405, first), world_.negate(seen));
      for (const Candidate& c : world_.candidates(thing, line.who, true)) {
        Moment m = event(model::Event::What::inspects, line, {world_.remembered_on(thing, c.bearer)});
        m.part = c.part;
        program_.moment(m, c.when);
      }
    }
    for (std::size_t i = 0; i < looks.size(); ++i) outcome(line, looks[i], combination >> i & 1, i == overlooked);
    for (const model::Thing& thing : line.things)
      for (const Candidate& c : world_.candidates(thing, line.who, true)) {
        const Formula visible = can_be_seen(c);
        Moment m = event(model::Event::What::inspects, line, {world_.remembered_on(thing, c.bearer)});
        m.asked = false;
        m.part = c.part;
        program_.moment(m, visible);
      }
    Edge e = program_.end_edge();
    e.target = world_.graph()[node].next;
    e.label.what = EdgeLabel::What::looked;
    for (std::size_t i = 0; i < looks.size(); ++i) e.label.found.push_back(combination >> i & 1);
    out.push_back(e);
  }
  return out;
}

bool removal_answers(const model::Finding& finding) {
  return std::any_of(finding.answered_by.begin(), finding.answered_by.end(),
                     [](const model::Answer& a) { return a.kind == model::AnswerKind::removal; });
}

void duties_due(Program& program, model::Deadline moment, bool at_normal_ending, model::RoleId person,
                const std::vector<std::pair<Bearer, Formula>>& leaving) {
  World& world = program.world();
  for (FieldId f : world.all(FieldMeaning::What::owed)) {
    const FieldMeaning m = world.fields()[f.value].meaning;
    const model::Finding& finding = world.protocol()[m.finding];
    const model::Deadline due = finding.before;
    const bool falls_due = due == moment || (at_normal_ending && due != model::Deadline::any_ending);
    if (!falls_due || (person && m.bearer.person != person)) continue;
    Formula when = Formula::is(f, 1);
    for (const auto& [b, there] : leaving)
      if (removal_answers(finding) && b == m.bearer) when = when & world.negate(there);
    Report r = about(diagnostics::Code::P601, m.bearer);
    r.finding = m.finding;
    program.report(r, when);
  }
}

}  // namespace stepward::effects
