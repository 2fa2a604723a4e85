// A line as edges, what several verbs share, and the lines of words only.

#include "effects/lines.hpp"

#include <algorithm>

namespace stepward::effects {
namespace {

using diagnostics::Code;
using model::RoleId;
using What = model::Event::What;

}  // namespace

// ---------------------------------------------------------------- edges

std::vector<Edge> LineWriter::edges_of(graph::NodeId node) {
  const graph::Node& n = world_.graph()[node];
  const model::Line& line = protocol_[n.line];
  program_.at(node, n.line);
  manner_ = n.manner;
  if (n.kind == graph::NodeKind::line && line.verb == model::VerbKind::inspect) return inspect(node, line);
  if (n.kind == graph::NodeKind::line && line.verb == model::VerbKind::decide) return decide(node, line);
  return single(node, line);
}

std::vector<Edge> LineWriter::single(graph::NodeId node, const model::Line& line) {
  using V = model::VerbKind;
  const graph::Node& n = world_.graph()[node];
  program_.begin_edge(program_.guard(Formula::always()));
  if (n.kind == graph::NodeKind::contact_end) {
    contact_end(line);
  } else {
    switch (line.verb) {
      case V::doff: take_off(line); break;
      case V::don: put_on(line); break;
      case V::disinfect: wet(line); break;
      case V::clean: clean(line); break;
      case V::test: test(line); break;
      case V::act: act(line); break;
      case V::take: take(line, false); break;
      case V::pass: take(line, true); break;
      case V::move: move(line); break;
      case V::wait: wait(line); break;
      case V::declare:
      case V::record:
      case V::report:
      case V::call: say_only(line); break;
      case V::start_timer:
      case V::stop_timer: run_timer(line); break;
      case V::inspect:
      case V::decide: break;
    }
  }
  Edge e = program_.end_edge();
  e.target = n.next;
  return {e};
}

Moment LineWriter::event(What what, const model::Line& line, std::vector<Bearer> things) const {
  Moment m;
  m.what = what;
  m.asked = true;
  m.who = line.who;
  m.of = line.of;
  m.things = std::move(things);
  m.technique = line.technique;
  m.agent = line.agent;
  return m;
}

Formula LineWriter::nothing_there(const model::Line& line) {
  Formula something;
  for (const model::Thing& thing : line.things)
    for (const Candidate& c : world_.candidates(thing, line.who, true)) something = something | c.when;
  return world_.negate(something);
}

void LineWriter::line_alone(What what, const model::Line& line, const Formula& when, bool asked) {
  Moment m = event(what, line, {});
  m.asked = asked;
  program_.moment(m, when);
}

LineWriter::WornMoment LineWriter::ask_of_worn(What what, const model::Line& line, const std::vector<std::pair<Bearer, Formula>>& things) {
  Moment m = event(what, line, {});
  Formula any;
  for (const auto& [thing, there] : things) {
    m.things.push_back(thing);
    any = any | there;
    if (things.size() == 1) break;
    m.present.push_back(world_.scratch());
    program_.set(m.present.back(), 1, there, {});
  }
  const FieldId some = world_.scratch();
  program_.set(some, 1, any, {});
  program_.moment(m, any);
  line_alone(what, line, world_.negate(any), true);
  return {m, some};
}

void LineWriter::happens_to_worn(const WornMoment& worn, const model::Line& line) {
  Moment m = worn.moment;
  m.asked = false;
  program_.moment(m, Formula::is(worn.any, 1));
  line_alone(m.what, line, Formula::is(worn.any, 0), false);
}

// ---------------------------------------------------------------- pieces that several verbs share

std::vector<LineWriter::Piece> LineWriter::pieces(const model::Line& line, bool worn) {
  std::vector<Piece> out;
  for (const model::Thing& thing : line.things) {
    const auto item = world_.item_of(thing);
    if (!item) continue;
    out.push_back({*item, worn ? world_.is_worn(line.of, *item) : Formula::always()});
  }
  return out;
}

void LineWriter::keep_hands_off(const model::Line& line, RoleId of) {
  if (!of || of == line.who) return;
  const auto& off = protocol_[line.who].keeps_hands_off;
  if (std::find(off.begin(), off.end(), of) == off.end()) return;
  Report r;
  r.code = Code::P301;
  r.person = line.who;
  r.other = {Bearer::What::site, of, {}, {}, {}};
  r.has_other = true;
  program_.report(r, Formula::always());
}

void LineWriter::need_one_place(const model::Line& line, RoleId other, bool look) {
  if (!other || other == line.who || !world_.takes_part(other) || !world_.takes_part(line.who) || protocol_.zones.empty()) return;
  Formula together;
  for (std::size_t a = 0; a < protocol_.zones.size(); ++a)
    for (std::size_t b = 0; b < protocol_.zones.size(); ++b) {
      const auto& sight = protocol_.zones[a].in_sight_of;
      const auto& back = protocol_.zones[b].in_sight_of;
      const bool seen = std::find(sight.begin(), sight.end(), model::ZoneId(b)) != sight.end() ||
                        std::find(back.begin(), back.end(), model::ZoneId(a)) != back.end();
      if (a == b || (look && seen))
        together = together | (Formula::is(world_.zone(line.who), std::uint32_t(a)) & Formula::is(world_.zone(other), std::uint32_t(b)));
    }
  Report r;
  r.code = Code::P205;
  r.person = line.who;
  r.other = {Bearer::What::site, other, {}, {}, {}};
  r.has_other = true;
  program_.report(r, world_.negate(together));
}

void LineWriter::refuse_wet(const SurfaceAt& s, const Formula& when) {
  if (const FieldId wet = world_.find_wet(s)) program_.report(about(Code::P503, s.bearer), when & world_.is_wet(wet));
}

std::vector<Reachable> LineWriter::surfaces_of(const Candidate& c) {
  if (c.part == 0xFF) {
    auto out = world_.showing_surfaces(c.bearer);
    if (c.bearer.what == Bearer::What::site) out = {{{c.bearer, 0}, Formula::always()}};
    for (Reachable& r : out) r.when = r.when & c.when;
    return out;
  }
  return {{{c.bearer, c.part}, c.when}};
}

// ---------------------------------------------------------------- words only

void LineWriter::say_only(const model::Line& line) {
  using V = model::VerbKind;
  Moment m = event(What::declares, line, {});
  m.mark = line.mark;
  m.recipient = line.recipient;
  const auto both = [&](What what) {
    m.what = what;
    m.asked = true;
    program_.moment(m, Formula::always());
    m.asked = false;
    program_.moment(m, Formula::always());
  };
  if (line.verb == V::declare) {
    program_.set(world_.declared(line.mark), 1, Formula::always(), {Cause::What::declared, {}, 0xFF, {}, 0xFF});
    end_duties(model::AnswerKind::declaring, line.mark, nullptr, Formula::always());
    both(What::declares);
  } else if (line.verb == V::record) {
    for (model::RecordId record : line.records) {
      program_.set(world_.recorded(record), 1, Formula::always(), {Cause::What::recorded, {}, 0xFF, {}, 0xFF});
      m.record = record;
      both(What::records);
    }
  } else if (line.verb == V::report) {
    end_duties(model::AnswerKind::reporting, {}, nullptr, Formula::always());
    both(What::reports);
  } else {
    both(What::calls);
  }
}

// A timer that runs twice, or is stopped without having run, tells nobody how long something took.
void LineWriter::run_timer(const model::Line& line) {
  const bool starts = line.verb == model::VerbKind::start_timer;
  const FieldId running = world_.running(line.timer);
  Report r;
  r.code = starts ? Code::T802 : Code::T801;
  r.severity = diagnostics::default_severity(r.code);
  r.timer = line.timer;
  program_.report(r, Formula::is(running, starts ? 1 : 0));
  Moment m = event(starts ? What::timer_starts : What::timer_stops, line, {});
  m.timer = line.timer;
  program_.moment(m, Formula::always());
  program_.set(running, starts ? 1 : 0, Formula::always(), {Cause::What::counted, {}, 0xFF, {}, 0xFF});
  program_.mark_timer(line, starts);
  m.asked = false;
  program_.moment(m, Formula::always());
}

std::vector<Edge> LineWriter::decide(graph::NodeId node, const model::Line& line) {
  std::vector<Edge> out;
  for (std::uint32_t a = 0; a < protocol_[line.decision].answers.size(); ++a) {
    program_.begin_edge(program_.guard(Formula::always()));
    program_.set(world_.answer(line.decision), a + 1, Formula::always(), {Cause::What::answered, {}, 0xFF, {}, 0xFF});
    Moment m = event(What::answered, line, {});
    m.decision = line.decision;
    m.answer = a;
    program_.moment(m, Formula::always());
    m.asked = false;
    program_.moment(m, Formula::always());
    Edge e = program_.end_edge();
    e.target = world_.graph()[node].next;
    e.label = {EdgeLabel::What::answered, {}, a, {}};
    out.push_back(e);
  }
  return out;
}

void LineWriter::end_duties(model::AnswerKind kind, model::MarkId mark, const Bearer* thing, const Formula& when) {
  for (FieldId f : world_.all(FieldMeaning::What::owed)) {
    const FieldMeaning m = world_.fields()[f.value].meaning;
    if (thing && !(m.bearer == *thing)) continue;
    for (const model::Answer& a : protocol_[m.finding].answered_by) {
      if (a.kind != kind) continue;
      if (kind == model::AnswerKind::declaring && mark && protocol_.marks[mark.value].name != a.mark) continue;
      program_.set(f, 0, when, {});
    }
  }
}

}  // namespace stepward::effects
