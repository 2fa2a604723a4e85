#include "effects/crossings.hpp"

#include <algorithm>

#include "effects/lines.hpp"
#include "model/variants.hpp"

namespace stepward::effects {
namespace {

using diagnostics::Code;
using model::Atom;
using model::RoleId;

Formula found(World& world, const Atom& atom) {
  Formula out;
  for (const Candidate& c : world.candidates(atom.thing, world.protocol().acts, false))
    for (model::FindingId f : atom.findings)
      if (const FieldId known = world.find_known(c.bearer, c.part, f)) out = out | (c.when & Formula::is(known, is_found));
  return out;
}

RoleId whose(World& world, RoleId given) { return given ? given : world.protocol().acts; }

Formula positive(World& world, const Atom& atom) {
  using W = Atom::What;
  switch (atom.what) {
    case W::found: return found(world, atom);
    case W::worn: {
      Formula out;
      for (const Candidate& c : world.candidates(atom.thing, world.protocol().acts, false)) {
        const RoleId p = atom.who ? atom.who : c.bearer.person;
        if (c.bearer.item) out = out | world.is_worn(p, c.bearer.item);
      }
      return out;
    }
    case W::hands_bare: {
      const auto layers = world.hands(whose(world, atom.who ? atom.who : atom.thing.of));
      return layers.empty() ? Formula::always() : layers.back().when;
    }
    case W::answer: return Formula::is(world.answer(atom.decision), atom.answer + 1u);
    case W::declared: return Formula::is(world.declared(atom.mark), 1);
    case W::recorded: return Formula::is(world.recorded(atom.record), 1);
    case W::in_zone: return Formula::is(world.zone(whose(world, atom.who)), atom.zone.value);
  }
  return Formula::never();
}

void report_undecided(Program& program, model::DecisionId decision, const Formula& when) {
  Report r;
  r.code = Code::F203;
  r.decision = decision;
  program.report(r, when & Formula::is(program.world().answer(decision), 0));
}

// Asking of a thing that nobody looked at, of a finding that ended, or for a decision that nobody made is a mistake at
// the question.
void report_unknown(Program& program, const model::Condition& condition, const Formula& when) {
  World& world = program.world();
  for (const Atom& atom : condition.atoms) {
    if (atom.what == Atom::What::answer) report_undecided(program, atom.decision, when);
    if (atom.what != Atom::What::found) continue;
    for (const Candidate& c : world.candidates(atom.thing, world.protocol().acts, false))
      for (model::FindingId f : atom.findings) {
        const FieldId known = world.find_known(c.bearer, c.part, f);
        Report r = about(Code::F201, c.bearer);
        r.finding = f;
        program.report(r, when & c.when & (known ? Formula::is(known, never_looked) : Formula::always()));
        if (!known) continue;
        r.code = Code::F202;
        program.report(r, when & c.when & Formula::is(known, is_ended));
      }
  }
}

class Crossing {
 public:
  Crossing(Program& program, graph::NodeId id) : program_(program), world_(program.world()), node_(world_.graph()[id]) {
    program.at(id, {});
  }

  std::vector<Edge> edges() {
    switch (node_.kind) {
      case graph::NodeKind::question: ask(); break;
      case graph::NodeKind::loop_test: test_loop(); break;
      case graph::NodeKind::finish: finish(); break;
      case graph::NodeKind::resume: resume(); break;
      case graph::NodeKind::off_the_end: off_the_end(); break;
      case graph::NodeKind::line:
      case graph::NodeKind::contact_end:
      case graph::NodeKind::choice: break;
    }
    return std::move(out_);
  }

 private:
  Edge& end(graph::NodeId target) {
    Edge e = program_.end_edge();
    e.target = target;
    out_.push_back(e);
    return out_.back();
  }

  void ask() {
    std::vector<Formula> conditions;
    for (const graph::Arm& arm : node_.arms) conditions.push_back(arm.condition ? question(world_, *arm.condition) : Formula::always());
    for (std::size_t i = 0; i < node_.arms.size(); ++i) {
      program_.begin_edge(program_.guard(conditions[i]));
      ask_up_to(i);
      for (std::size_t j = i + 1; j < node_.arms.size(); ++j)
        if (node_.arms[j].condition) report_skipped(j, conditions[i] & conditions[j]);
      end(node_.arms[i].target);
    }
    if (!node_.arms.empty() && !node_.arms.back().condition) return;
    program_.begin_edge(program_.guard(Formula::always()));
    ask_up_to(node_.arms.size());
    end(node_.next);
  }

  // A later arm that holds as well is skipped, and what was found with it: `check` decides whether that matters.
  void report_skipped(std::size_t arm, const Formula& both) {
    for (const Atom& atom : node_.arms[arm].condition->atoms) {
      if (atom.what != Atom::What::found || atom.negated) continue;
      for (const Candidate& c : world_.candidates(atom.thing, world_.protocol().acts, false))
        for (model::FindingId f : atom.findings) {
          const FieldId known = world_.find_known(c.bearer, c.part, f);
          if (!known) continue;
          Report r = about(Code::F601, c.bearer);
          r.severity = diagnostics::Severity::note;
          r.finding = f;
          r.skipped_arm = std::uint32_t(arm);
          program_.report(r, both & c.when & Formula::is(known, is_found));
        }
    }
  }

  void ask_up_to(std::size_t arm) {
    for (std::size_t i = 0; i <= arm && i < node_.arms.size(); ++i)
      if (node_.arms[i].condition) report_unknown(program_, *node_.arms[i].condition, Formula::always());
  }

  void test_loop() {
    const FieldId counter = world_.loop(node_.loop);
    const Formula done = question(world_, *node_.until);
    const auto edge = [&](const Formula& when, std::uint32_t count, graph::NodeId target) {
      program_.begin_edge(program_.guard(when));
      report_unknown(program_, *node_.until, Formula::always());
      program_.set(counter, count, Formula::always(), {Cause::What::counted, {}, 0xFF, {}, 0xFF});
      end(target);
    };
    edge(done, 0, node_.next);
    edge(Formula::is(counter, node_.at_most - 1), 0, node_.fallback);
    for (std::uint32_t c = 0; c + 1 < node_.at_most; ++c) edge(Formula::is(counter, c), c + 1, node_.body);
  }

  void resume() {
    program_.begin_edge(program_.guard(Formula::always()));
    Edge& e = end({});
    e.goes_back = node_.handler;
  }

  void off_the_end() {
    program_.begin_edge(program_.guard(Formula::always()));
    Report r;
    r.code = Code::F101;
    program_.report(r, Formula::always());
    end({}).ends = true;
  }

  void finish() {
    const model::Ending& ending = world_.protocol()[node_.ending];
    program_.begin_edge(program_.guard(Formula::always()));
    duties_due(program_, model::Deadline::any_ending, ending.normal, {}, {});
    if (ending.normal) normal_ending(ending);
    Moment m;
    m.asked = true;
    m.what = model::Event::What::ending;
    m.ending = node_.ending;
    program_.moment(m, Formula::always());
    m.asked = false;
    program_.moment(m, Formula::always());
    end({}).ends = true;
  }

  Report at_ending(Report r) const { r.ending = node_.ending; return r; }

  void normal_ending(const model::Ending& ending) {
    for (FieldId f : world_.all(FieldMeaning::What::reached)) {
      const Bearer body = world_.fields()[f.value].meaning.bearer;
      Formula nothing_declared = Formula::always();
      for (std::size_t m = 0; m < world_.protocol().marks.size(); ++m)
        nothing_declared = nothing_declared & Formula::is(world_.declared(model::MarkId(m)), 0);
      program_.report(at_ending(about(Code::P602, body)), Formula::is(f, 1) & world_.unclean(world_.level({body, 0})) & nothing_declared);
    }
    for (RoleId p : world_.people()) still_worn(ending, p);
    for (std::size_t t = 0; t < world_.protocol().timers.size(); ++t) {
      Report r = at_ending({});
      r.code = Code::T803;
      r.timer = model::TimerId(t);
      program_.report(r, Formula::is(world_.running(model::TimerId(t)), 1));
    }
    for (const model::Ending::Where& w : ending.where) {
      Report r = at_ending({});
      r.code = Code::P702;
      r.person = w.who;
      r.zone = w.zone;
      program_.report(r, world_.negate(Formula::is(world_.zone(w.who), w.zone.value)));
    }
    for (const model::Thing& thing : ending.clean)
      for (const Candidate& c : world_.candidates(thing, world_.protocol().acts, false)) {
        Formula dirty;
        for (std::uint8_t part = 0; part < world_.parts_of(c.bearer); ++part)
          if (c.part == 0xFF ? !world_.is_inside({c.bearer, part}) : c.part == part) dirty = dirty | world_.unclean(world_.level({c.bearer, part}));
        program_.report(at_ending(about(Code::P703, c.bearer)), dirty & c.when);
      }
  }

  void still_worn(const model::Ending& ending, RoleId p) {
    std::vector<model::ItemId> listed;
    bool any_list = false;
    for (const model::Ending::Wears& wears : ending.wears) {
      if (wears.who != p) continue;
      any_list = true;
      for (const model::Wearing& w : wears.wearing)
        if (model::holds(w.only_for, world_.graph().variant))
          if (const auto item = world_.item_of(w.thing)) listed.push_back(*item);
    }
    const auto& people = world_.protocol().people;
    const bool ends_dressed = std::any_of(people.begin(), people.end(), [&](const model::PersonStart& s) { return s.role == p && s.ends_dressed; });
    if (!any_list && ends_dressed && p != world_.protocol().acts) return;
    for (model::ItemId i : world_.wardrobe(p)) {
      const bool expected = std::find(listed.begin(), listed.end(), i) != listed.end();
      const Bearer b = world_.worn_bearer(p, i);
      if (!expected && !world_.protocol()[i].stays_on) program_.report(at_ending(about(Code::P701, b)), world_.is_worn(p, i));
    }
    for (model::ItemId i : listed) {
      Report r = at_ending(about(Code::P702, world_.worn_bearer(p, i)));
      r.person = p;
      program_.report(r, world_.negate(world_.is_worn(p, i)));
    }
  }

  Program& program_;
  World& world_;
  const graph::Node& node_;
  std::vector<Edge> out_;
};

// ---------------------------------------------------------------- interruptions

void falls(Program& program, RoleId p) {
  World& world = program.world();
  Formula dirty_floor;
  for (std::size_t z = 0; z < world.protocol().zones.size(); ++z)
    if (world.protocol().zones[z].risk != model::Risk::low) dirty_floor = dirty_floor | Formula::is(world.zone(p), std::uint32_t(z));
  for (model::ItemId i : world.wardrobe(p)) {
    const Bearer b = world.worn_bearer(p, i);
    for (const Reachable& r : world.showing_surfaces(b))
      if (world.reach(r.surface) == model::Reach::exposed)
        program.soil_to(r.surface, kSuspect, dirty_floor & r.when, {Cause::What::happens, b, 0xFF, b, r.surface.part}, true);
  }
  for (std::size_t s = 0; s < world.protocol().sites.size(); ++s) {
    if (world.protocol().sites[s].nature == model::SiteNature::mucous) continue;
    const Bearer body = world.site_bearer(p, model::SiteId(s));
    program.soil_to({body, 0}, kSuspect, dirty_floor & world.shows({body, 0}), {Cause::What::happens, body, 0xFF, body, 0}, true);
  }
}

void soiled(Program& program, const Candidate& c) {
  World& world = program.world();
  const auto land_on = [&](const Bearer& b, const Formula& when, bool only_exposed, std::uint32_t value) {
    for (const Reachable& r : world.showing_surfaces(b)) {
      if (c.part != 0xFF && b == c.bearer && c.part != r.surface.part) continue;
      if (only_exposed && world.reach(r.surface) != model::Reach::exposed) continue;
      program.soil_to(r.surface, value, when & r.when, {Cause::What::happens, b, 0xFF, b, r.surface.part}, true);
    }
  };
  switch (c.bearer.what) {
    case Bearer::What::spot: land_on(c.bearer, c.when, false, kSoiled); break;
    case Bearer::What::worn:
    case Bearer::What::fresh: land_on(c.bearer, c.when, false, kSuspect); break;
    case Bearer::What::site:
      land_on(c.bearer, c.when, false, kSoiled);
      for (model::ItemId i : world.wardrobe(c.bearer.person)) {
        const auto& on = world.protocol()[i].worn_on;
        if (std::find(on.begin(), on.end(), c.bearer.site) != on.end()) land_on(world.worn_bearer(c.bearer.person, i), c.when, true, kSuspect);
      }
      break;
  }
}

void torn(Program& program, const Candidate& c) {
  World& world = program.world();
  if (c.bearer.what != Bearer::What::worn) return;
  for (const Reachable& r : world.beneath(c.bearer.person, c.bearer.item))
    program.soil_to(r.surface, kSuspect, c.when & world.is_worn(c.bearer.person, c.bearer.item) & r.when,
                    {Cause::What::happens, c.bearer, 0xFF, r.surface.bearer, r.surface.part}, true);
}

// A hand that meets something by accident: what it dirties on a body is suffered, not caused.
void touches(Program& program, const model::Happening& h) {
  World& world = program.world();
  const auto meet = [&](const Reachable& r, bool only_exposed) {
    if (only_exposed && world.reach(r.surface) != model::Reach::exposed) return;
    for (const auto& hand : program.hands_now(h.who)) {
      if (r.surface.bearer.what == Bearer::What::site)
        program.set(world.reached(r.surface.bearer), 1,
                    r.when & hand.layer.when & world.unclean(hand.level) & world.not_unclean(world.level(r.surface)), {});
      if (hand.layer.bearer.what == Bearer::What::site)
        program.set(world.reached(hand.layer.bearer), 1,
                    r.when & hand.layer.when & world.unclean(world.level(r.surface)) & world.not_unclean(world.level({hand.layer.bearer, 0})), {});
      program.meet({hand}, h.who, r.surface, r.when, false);
    }
  };
  if (h.thing.what == model::Thing::What::role) {
    std::vector<model::ItemId> in_order = world.wardrobe(h.thing.role);
    std::sort(in_order.begin(), in_order.end());
    for (model::ItemId i : in_order)
      for (const Reachable& r : world.showing_surfaces(world.worn_bearer(h.thing.role, i))) meet(r, true);
    return;
  }
  for (const Candidate& c : world.candidates(h.thing, h.who, true))
    for (const Reachable& r : world.showing_surfaces(c.bearer))
      if (c.part == 0xFF || c.part == r.surface.part) meet({r.surface, r.when & c.when}, false);
}

}  // namespace

Formula question(World& world, const model::Condition& condition) {
  Formula out = condition.all ? Formula::always() : Formula::never();
  for (const Atom& atom : condition.atoms) {
    Formula f = positive(world, atom);
    if (atom.negated) f = world.negate(f);
    out = condition.all ? out & f : out | f;
  }
  return out;
}

bool holds_at_start(const Formula& formula, const std::vector<Field>& fields) {
  return std::any_of(formula.clauses().begin(), formula.clauses().end(), [&](const Clause& c) {
    return std::all_of(c.begin(), c.end(), [&](const Test& t) { return t.allowed >> fields[t.field.value].initial & 1; });
  });
}

std::vector<Edge> crossing(Program& program, graph::NodeId node) { return Crossing(program, node).edges(); }

Edge strike(Program& program, model::InterruptionId id) {
  World& world = program.world();
  program.at({}, {});
  program.begin_edge(program.guard(Formula::is(world.struck(id), 0)));
  program.set(world.struck(id), 1, Formula::always(), {Cause::What::struck, {}, 0xFF, {}, 0xFF});
  Moment m;
  m.what = model::Event::What::strikes;
  m.asked = true;
  m.interruption = id;
  program.moment(m, Formula::always());
  for (const model::Happening& h : world.protocol()[id].happens) {
    using W = model::Happening::What;
    switch (h.what) {
      case W::soiled: for (const Candidate& c : world.candidates(h.thing, world.protocol().acts, false)) soiled(program, c); break;
      case W::torn: for (const Candidate& c : world.candidates(h.thing, world.protocol().acts, false)) torn(program, c); break;
      case W::touches: touches(program, h); break;
      case W::falls: falls(program, h.who); break;
      case W::nothing: break;
    }
  }
  m.asked = false;
  program.moment(m, Formula::always());
  Edge e = program.end_edge();
  e.label.what = EdgeLabel::What::strikes;
  e.label.interruption = id;
  return e;
}

}  // namespace stepward::effects
