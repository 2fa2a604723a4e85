#include "effects/program.hpp"

namespace stepward::effects {

using diagnostics::Code;

Report about(Code code, const Bearer& thing) {
  Report r;
  r.code = code;
  r.severity = diagnostics::default_severity(code);
  r.thing = thing;
  r.has_thing = true;
  return r;
}

void Program::at(graph::NodeId node, model::LineId line) { node_ = node; line_ = line; }

void Program::begin_edge(GuardId guard) {
  edge_guard_ = guard;
  first_op_ = static_cast<std::uint32_t>(system_.ops.size());
  world_.new_edge();
  said_.clear();
  handled_.clear();
}

Edge Program::end_edge() {
  for (const auto& [told, now] : to_tell_) set(told, 1, Formula::is(now, 1), {});
  to_tell_.clear();
  Edge e;
  e.guard = edge_guard_;
  e.first_op = first_op_;
  e.op_count = static_cast<std::uint32_t>(system_.ops.size()) - first_op_;
  return e;
}

GuardId Program::guard(const Formula& f) { return guards_.file(f); }

std::uint32_t Program::cause(const Cause& c) {
  if (system_.causes.empty()) system_.causes.emplace_back();
  if (c.what == Cause::What::none) return 0;
  // Causes of one edge repeat next to each other; looking further back would cost more than it saves.
  if (system_.causes.back() == c) return static_cast<std::uint32_t>(system_.causes.size() - 1);
  system_.causes.push_back(c);
  return static_cast<std::uint32_t>(system_.causes.size() - 1);
}

void Program::set(FieldId a, std::uint32_t value, const Formula& when, const Cause& why) {
  if (!when.is_never()) system_.ops.push_back({OpKind::set, guard(when), a, {}, value, cause(why)});
}
void Program::raise(FieldId a, std::uint32_t value, const Formula& when, const Cause& why) {
  if (!when.is_never()) system_.ops.push_back({OpKind::raise, guard(when), a, {}, value, cause(why)});
}
void Program::lift(FieldId a, FieldId b, const Formula& when) {
  if (!when.is_never()) system_.ops.push_back({OpKind::lift, guard(when), a, b, 0, 0});
}
void Program::lift_suspect(FieldId a, FieldId b, const Formula& when, const Cause& why) {
  if (!when.is_never()) system_.ops.push_back({OpKind::lift_suspect, guard(when), a, b, 0, cause(why)});
}
void Program::copy(FieldId a, FieldId b, const Formula& when, const Cause& why) {
  if (!when.is_never()) system_.ops.push_back({OpKind::copy, guard(when), a, b, 0, cause(why)});
}
void Program::moment(Moment m, const Formula& when) {
  if (when.is_never()) return;
  m.line = line_;
  system_.moments.push_back(std::move(m));
  system_.ops.push_back({OpKind::moment, guard(when), {}, {}, static_cast<std::uint32_t>(system_.moments.size() - 1), 0});
}

void Program::mark_timer(const model::Line& line, bool starts) {
  for (std::uint32_t t = 0; t < system_.timings.size(); ++t) {
    const Timing& timing = system_.timings[t];
    if (starts ? timing.timer_line != line_ : world_.protocol()[timing.timer_line].timer != line.timer) continue;
    // An at-least bound is broken as soon as the timer is about to be stopped.
    system_.marks.push_back({starts ? Mark::What::begins : Mark::What::ends, t, !starts && !timing.at_most, line_, node_});
    system_.ops.push_back({OpKind::mark, guard(Formula::always()), {}, {}, static_cast<std::uint32_t>(system_.marks.size() - 1), 0});
  }
}

void Program::report(Report r, const Formula& when, const std::vector<Bearer>& held_with) {
  Formula said = when;
  std::vector<FieldId> told;
  if (hold_back_ == HoldBack::yes && r.severity == diagnostics::Severity::error) {
    if (r.has_thing) told.push_back(world_.told(r.thing));
    for (const Bearer& b : held_with) told.push_back(world_.told(b));
    for (FieldId f : told) said = said & Formula::is(f, 0);
  }
  if (said.is_never()) return;
  r.node = node_;
  r.line = line_;
  system_.reports.push_back(r);
  const GuardId g = guard(said);
  system_.ops.push_back({OpKind::report, g, {}, {}, static_cast<std::uint32_t>(system_.reports.size() - 1), 0});
  // What one step finds is found together; it is told, and held back from then on, when the step is over.
  if (told.empty()) return;
  const FieldId now = world_.scratch();
  set(now, 1, said, {});
  for (FieldId f : told) to_tell_.emplace_back(f, now);
}

// ---------------------------------------------------------------- laws of touch

std::vector<Program::Hand> Program::hands_now(model::RoleId p, const std::vector<model::ItemId>& without) {
  std::vector<Hand> out;
  for (HandLayer& layer : world_.hands(p, without)) {
    if (layer.when.is_never()) continue;
    Hand hand{std::move(layer), {}, world_.scratch()};
    for (Reachable& r : world_.showing_surfaces(hand.layer.bearer, without)) {
      r.when = r.when & hand.layer.when;
      if (r.when.is_never()) continue;
      lift(hand.level, world_.level(r.surface), r.when);
      hand.surfaces.push_back(std::move(r));
    }
    out.push_back(std::move(hand));
  }
  return out;
}

bool Program::protected_clean(const Bearer& b) const {
  if (b.what == Bearer::What::site) return true;
  return b.what == Bearer::What::worn && world_.protocol()[b.item].clothing;
}

void Program::harms_of_meeting(const Hand& hand, model::RoleId doer, const SurfaceAt& s, const Formula& when, bool is_treated) {
  const Bearer& thing = s.bearer;
  const FieldId level = world_.level(s);
  const Formula hand_unclean = world_.unclean(hand.level), thing_clean = Formula::is(level, kClean);
  const auto once = [&](Code code, const Formula& holds, const std::vector<Bearer>& with) {
    auto [at, fresh] = said_.try_emplace({int(code), thing, hand.layer.bearer});
    if (fresh) at->second = world_.scratch();
    const Formula now = holds & Formula::is(at->second, 0);
    Report r = about(code, thing);
    r.other = hand.layer.bearer;
    r.has_other = true;
    r.person = doer;
    r.is_treated = is_treated;
    report(r, now, with);
    set(at->second, 1, holds, {});
  };
  const bool mucous = (thing.what == Bearer::What::site && world_.protocol()[thing.site].nature == model::SiteNature::mucous) ||
                      (thing.what == Bearer::What::worn && world_.worn_on_mucous(thing.item));
  const bool of_another = (thing.what == Bearer::What::worn || thing.what == Bearer::What::site) && thing.person != doer;
  const bool fixture = thing.what == Bearer::What::spot && !world_.protocol()[thing.spot].meant_for_dirty;
  // Dirt that an item gives the hand in this line is no harm to the same item, so only the first meeting counts.
  auto [met, fresh] = handled_.try_emplace({hand.layer.bearer, thing});
  if (fresh) met->second = world_.scratch();
  const Formula first = when & Formula::is(met->second, 0);
  if (mucous) once(Code::P101, first & hand_unclean, {hand.layer.bearer});
  if (hand.layer.bearer.what == Bearer::What::site) once(Code::P102, when & world_.unclean(level), {hand.layer.bearer});
  if (!mucous && protected_clean(thing)) once(Code::P103, when & hand_unclean & thing_clean, {hand.layer.bearer});
  if (!mucous && !protected_clean(thing) && (of_another || fixture)) once(Code::P106, first & hand_unclean & thing_clean, {hand.layer.bearer});
  if (world_.knows_sterile())
    once(Code::P107, when & world_.sterile(level) & world_.negate(world_.sterile(hand.level)), {hand.layer.bearer});
  set(met->second, 1, when, {});
}

void Program::meet(const std::vector<Hand>& hands, model::RoleId doer, const SurfaceAt& s, const Formula& when, bool is_harm, bool is_treated) {
  const FieldId level = world_.level(s);
  const FieldId met = world_.scratch();
  lift(met, level, when);
  for (const Hand& hand : hands) {
    const Formula now = when & hand.layer.when;
    if (now.is_never()) continue;
    Moment m;
    m.what = model::Event::What::touches;
    m.who = doer;
    m.things = {s.bearer, hand.layer.bearer};
    m.part = s.part;
    m.met = met;
    m.asked = true;
    moment(m, now);
    if (is_harm) harms_of_meeting(hand, doer, s, now, is_treated);
    m.asked = false;
    moment(m, now);
    const Cause why{Cause::What::meets, hand.layer.bearer, 0xFF, s.bearer, s.part};
    const Formula thing_rises = now & world_.unclean(hand.level) & world_.not_unclean(level);
    spread_told(hand.layer.bearer, s.bearer, thing_rises);
    before_rise(s, thing_rises);
    lift_suspect(level, hand.level, now, why);
    after_rise(s, now);
    end_overdue(s, now);
    for (const Reachable& r : hand.surfaces) {
      if (r.surface == s) continue;
      const FieldId own = world_.level(r.surface);
      const Formula hand_rises = now & r.when & world_.unclean(met) & world_.not_unclean(own);
      spread_told(s.bearer, r.surface.bearer, hand_rises);
      before_rise(r.surface, hand_rises);
      lift_suspect(own, met, now & r.when, why);
      after_rise(r.surface, now & r.when);
    }
    // The next meeting of this line is made with the hand as it is now.
    lift_suspect(hand.level, met, now, {});
  }
}

void Program::rub(const SurfaceAt& a, const SurfaceAt& b, const Formula& when, Cause::What why) {
  const FieldId from_a = world_.scratch(), from_b = world_.scratch();
  lift(from_a, world_.level(a), when);
  lift(from_b, world_.level(b), when);
  reach_from(from_a, a.bearer, b, when, why, true);
  reach_from(from_b, b.bearer, a, when, why, true);
}

void Program::reach_from(FieldId dirt, const Bearer& from, const SurfaceAt& s, const Formula& when, Cause::What why, bool is_harm) {
  const FieldId level = world_.level(s);
  const Formula rises = when & world_.unclean(dirt) & world_.not_unclean(level);
  const auto harm = [&](Code code, const Formula& holds) {
    auto [at, fresh] = said_.try_emplace({int(code), s.bearer, Bearer{}});
    if (fresh) at->second = world_.scratch();
    Report r = about(code, s.bearer);
    r.other = from;
    r.has_other = true;
    r.person = s.bearer.person;
    report(r, holds & Formula::is(at->second, 0), {from});
    set(at->second, 1, holds, {});
  };
  if (is_harm && protected_clean(s.bearer)) harm(Code::P103, when & world_.unclean(dirt) & Formula::is(level, kClean));
  if (is_harm && world_.knows_sterile())
    harm(Code::P107, when & world_.negate(world_.sterile(dirt)) & world_.sterile(level));
  spread_told(from, s.bearer, rises);
  before_rise(s, rises);
  lift_suspect(level, dirt, when, {why, from, 0xFF, s.bearer, s.part});
  after_rise(s, when);
}

void Program::soil_to(const SurfaceAt& s, std::uint32_t value, const Formula& when, const Cause& why, bool suffered) {
  const FieldId level = world_.level(s);
  if (value >= kSuspect) before_rise(s, when & world_.not_unclean(level));
  if (suffered && s.bearer.what == Bearer::What::site)
    set(world_.reached(s.bearer), 1, when & world_.not_unclean(level), why);
  raise(level, value, when, why);
  after_rise(s, when);
}

// A rise of what shows ends "no soil found" there.
void Program::before_rise(const SurfaceAt& s, const Formula& rises) {
  const Bearer known_on = s.bearer;
  for (FieldId f : world_.known_of(known_on, model::FindingMeans::surface_soiled)) {
    const std::uint8_t part = world_.fields()[f.value].meaning.part;
    if (part != 0xFF && part != s.part) continue;
    set(f, is_ended, rises & world_.shows(s) & Formula::is(f, is_not_found), {});
  }
  end_overdue(s, rises);
}

// What stays wet because nobody waited is dry again once somebody touches it.
void Program::end_overdue(const SurfaceAt& s, const Formula& when) {
  if (const FieldId wet = world_.find_wet(s)) set(wet, 0, when & world_.is_overdue(wet), {});
}

void Program::after_rise(const SurfaceAt& s, const Formula& when) {
  if (s.bearer.what != Bearer::What::worn || !world_.may_be_torn(s.bearer)) return;
  lift(world_.worst(s.bearer), world_.level(s), when & world_.shows(s));
}

void Program::spread_told(const Bearer& from, const Bearer& to, const Formula& rises) {
  if (hold_back_ == HoldBack::no || from == to) return;
  set(world_.told(to), 1, rises & Formula::is(world_.told(from), 1), {});
}

void Program::expose(model::RoleId p, const Formula& when, model::ZoneId zone) {
  const model::Zone& z = world_.protocol()[zone];
  if (z.exposes == model::Exposes::nothing) return;
  for (model::ItemId i : world_.wardrobe(p)) {
    const Bearer b = world_.worn_bearer(p, i);
    Formula any_raised;
    for (const Reachable& r : world_.showing_surfaces(b)) {
      if (z.exposes == model::Exposes::front_only && world_.reach(r.surface) != model::Reach::exposed) continue;
      soil_to(r.surface, kSuspect, when & r.when, {Cause::What::exposed, b, 0xFF, b, r.surface.part}, false);
      any_raised = any_raised | r.when;
    }
    set(world_.unlooked(b), 1, when & any_raised, {});
  }
  forget_unfound(p, when);
}

void Program::forget_unfound(model::RoleId p, const Formula& when) {
  for (model::ItemId i : world_.wardrobe(p))
    for (auto means : {model::FindingMeans::surface_soiled, model::FindingMeans::barrier_broken, model::FindingMeans::skin_showing})
      for (FieldId f : world_.known_of(world_.worn_bearer(p, i), means))
        set(f, is_ended, when & Formula::is(f, is_not_found), {});
}

}  // namespace stepward::effects
