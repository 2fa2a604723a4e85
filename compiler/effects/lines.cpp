#include "effects/lines.hpp"

#include <algorithm>

#include "model/variants.hpp"

namespace stepward::effects {
namespace {

using diagnostics::Code;
using model::ItemId;
using model::RoleId;
using What = model::Event::What;

std::vector<ItemId> items_of(const auto& pieces) {
  std::vector<ItemId> out;
  for (const auto& p : pieces) out.push_back(p.item);
  return out;
}

bool has(const std::vector<ItemId>& list, ItemId i) { return std::find(list.begin(), list.end(), i) != list.end(); }

}  // namespace

// ---------------------------------------------------------------- edges

std::vector<Edge> LineWriter::edges_of(graph::NodeId node) {
  const graph::Node& n = world_.graph()[node];
  const model::Line& line = protocol_[n.line];
  program_.at(node, n.line);
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
  const FieldMeaning m{FieldMeaning::What::wet, s.bearer, s.part, {}, {}, 0, 0};
  for (std::size_t i = 0; i < world_.fields().size(); ++i)
    if (world_.fields()[i].meaning == m) program_.report(about(Code::P503, s.bearer), when & Formula::is(FieldId(i), 1));
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

std::vector<Reachable> LineWriter::named_surfaces(const model::TechniqueThing& t, const model::Line& line, const std::vector<Piece>& set,
                                                  const ItemId* only) {
  using T = model::TechniqueThing::What;
  std::vector<Reachable> out;
  const auto add_item = [&](ItemId item, const Formula& when) {
    const Bearer b = world_.worn_bearer(line.of, item);
    if (t.part.empty()) {
      for (Reachable& r : world_.showing_surfaces(b)) out.push_back({r.surface, r.when & when});
    } else if (const auto part = world_.part_named(item, t.part)) {
      out.push_back({{b, *part}, when});
    }
  };
  const RoleId whose = line.of;
  switch (t.what) {
    case T::it:
      for (const Piece& p : set) if (!only || p.item == *only) add_item(p.item, p.there);
      break;
    case T::item:
    case T::kind: {
      // Handled, it is one of the set; brushed, it is whatever that person wears.
      const model::ItemOrKind want{t.item, t.kind};
      if (only) {
        for (const Piece& p : set) if (p.item == *only && world_.is_of(p.item, want)) add_item(p.item, p.there);
      } else {
        for (ItemId i : world_.wardrobe(whose)) if (world_.is_of(i, want)) add_item(i, world_.is_worn(whose, i));
      }
      break;
    }
    case T::site: out.push_back({{world_.site_bearer(whose, t.site), 0}, Formula::always()}); break;
    case T::what_it_covers:
      for (const Piece& p : set)
        if (!only || p.item == *only)
          for (Reachable& r : world_.beneath(whose, p.item)) out.push_back({r.surface, r.when & p.there});
      break;
  }
  return out;
}

void LineWriter::handle(const model::Line& line, const std::vector<Piece>& set, const std::vector<ItemId>& gone) {
  const bool own_hand_leaves = line.who == line.of &&
      std::any_of(gone.begin(), gone.end(), [&](ItemId i) { return world_.is_hand_item(i); });
  const auto one = [&](const model::Handled& h, const ItemId* item) {
    for (const Reachable& r : named_surfaces(h.thing, line, set, item)) {
      const bool beneath = own_hand_leaves && world_.is_inside(r.surface) && has(gone, r.surface.bearer.item);
      refuse_wet(r.surface, r.when);
      program_.meet(program_.hands_now(line.who, beneath || line.verb == model::VerbKind::don ? gone : std::vector<ItemId>{}), line.who,
                    r.surface, r.when, true);
    }
  };
  for (const Piece& p : set)
    for (const model::Handled& h : handling(line, p))
      if (h.thing.what != model::TechniqueThing::What::site || p.item == set.front().item) one(h, &p.item);
}

const std::vector<model::Handled>& LineWriter::handling(const model::Line& line, const Piece& piece) const {
  static const std::vector<model::Handled> nothing;
  const model::TechniqueId t = model::technique_of(protocol_, line, piece.item);
  return t ? protocol_[t].handles : nothing;
}

void LineWriter::brush(const model::Line& line, const std::vector<Piece>& set) {
  if (set.empty()) return;
  const model::TechniqueId t = model::technique_of(protocol_, line, set.front().item);
  if (!t) return;
  for (const model::Brush& b : protocol_[t].brushes) {
    if (!b.always) continue;
    for (const Reachable& what : named_surfaces(b.what, line, set, nullptr))
      for (const Reachable& against : named_surfaces(b.against, line, set, nullptr))
        program_.rub(what.surface, against.surface, what.when & against.when, Cause::What::brushes);
  }
}

// Ordinary hands: a glove that is not clean outside dirties what is beneath as it leaves.
void LineWriter::pull_off(const model::Line& line, const std::vector<Piece>& set) {
  if (protocol_.reading == model::HandReading::perfect) return;
  std::vector<Piece> gloves;
  for (const Piece& p : set) if (world_.is_hand_item(p.item)) gloves.push_back(p);
  std::stable_sort(gloves.begin(), gloves.end(), [&](const Piece& a, const Piece& b) { return world_.has_clause(a.item, b.item) && !world_.has_clause(b.item, a.item); });
  const auto gone = items_of(set);
  for (const Piece& glove : gloves) {
    const Bearer b = world_.worn_bearer(line.of, glove.item);
    const FieldId dirt = world_.scratch();
    for (std::uint8_t part = 0; part < world_.parts_of(b); ++part)
      if (!world_.is_inside({b, part})) program_.lift(dirt, world_.level({b, part}), glove.there);
    for (HandLayer& layer : world_.hands(line.of, gone))
      for (Reachable& r : world_.showing_surfaces(layer.bearer, gone))
        program_.reach_from(dirt, b, r.surface, glove.there & layer.when & r.when, Cause::What::pulled_off, false);
  }
}

void LineWriter::rest_inside(const model::Line& line, const Piece& piece) {
  if (!protocol_[piece.item].inside_rests) return;
  using T = model::TechniqueThing::What;
  const auto& handles = handling(line, piece);
  const auto speaks_of_it = [&](const model::TechniqueThing& t) {
    return t.what == T::it || ((t.what == T::item || t.what == T::kind) && world_.is_of(piece.item, {t.item, t.kind}));
  };
  if (std::any_of(handles.begin(), handles.end(), [&](const model::Handled& h) { return h.held_away && speaks_of_it(h.thing); })) return;
  const Bearer b = world_.worn_bearer(line.of, piece.item);
  const FieldId dirt = world_.scratch();
  for (std::uint8_t part = 0; part < world_.parts_of(b); ++part)
    if (world_.is_inside({b, part})) program_.lift(dirt, world_.level({b, part}), piece.there);
  for (Reachable& r : world_.beneath(line.of, piece.item))
    program_.reach_from(dirt, b, r.surface, piece.there & r.when, Cause::What::rests_inside, true);
}

// ---------------------------------------------------------------- take off

void LineWriter::refuse_removal(const model::Line& line, const std::vector<Piece>& set) {
  const auto gone = items_of(set);
  for (const Piece& p : set) {
    const Bearer b = world_.worn_bearer(line.of, p.item);
    program_.report(about(Code::P402, b), world_.negate(p.there));
    for (ItemId upper : world_.wardrobe(line.of)) {
      if (has(gone, upper)) continue;
      Report r = about(Code::P401, b);
      r.other = world_.worn_bearer(line.of, upper);
      r.has_other = true;
      program_.report(r, p.there & world_.locked_by(line.of, upper, p.item), {r.other});
    }
    program_.report(about(Code::P801, b), p.there & Formula::is(world_.unlooked(b), 1));
    for (std::uint8_t part = 0; part < world_.parts_of(b); ++part) refuse_wet({b, part}, p.there);
  }
  // What the place needs must still be met by something else.
  for (std::size_t z = 0; z < protocol_.zones.size(); ++z)
    for (const model::ItemOrKind& need : protocol_.zones[z].needs) {
      Formula met_still, met_now;
      for (ItemId i : world_.wardrobe(line.of)) {
        if (!world_.is_of(i, need)) continue;
        (has(gone, i) ? met_now : met_still) = (has(gone, i) ? met_now : met_still) | world_.is_worn(line.of, i);
      }
      if (met_now.is_never()) continue;
      const Piece& first = *std::find_if(set.begin(), set.end(), [&](const Piece& p) { return world_.is_of(p.item, need); });
      Report r = about(Code::P202, world_.worn_bearer(line.of, first.item));
      r.zone = model::ZoneId(z);
      program_.report(r, met_now & world_.negate(met_still) & Formula::is(world_.zone(line.of), std::uint32_t(z)));
    }
}

void LineWriter::leave(const model::Line& line, const std::vector<Piece>& set) {
  const auto gone = items_of(set);
  // What comes into view is no longer known to be free of soil.
  for (ItemId i : world_.wardrobe(line.of)) {
    if (has(gone, i)) continue;
    const Bearer b = world_.worn_bearer(line.of, i);
    for (std::uint8_t part = 0; part < world_.parts_of(b); ++part) {
      const Formula appears = world_.shows({b, part}, gone) & world_.negate(world_.shows({b, part}));
      for (FieldId f : world_.known_of(b, model::FindingMeans::surface_soiled)) {
        const std::uint8_t known_part = world_.fields()[f.value].meaning.part;
        if (known_part == 0xFF || known_part == part) program_.set(f, is_ended, appears & Formula::is(f, is_not_found), {});
      }
      if (!world_.known_of(b, model::FindingMeans::barrier_broken).empty()) program_.lift(world_.worst(b), world_.level({b, part}), appears);
    }
  }
  for (const Piece& p : set) {
    const Bearer b = world_.worn_bearer(line.of, p.item);
    const Cause why{Cause::What::leaves, b, 0xFF, b, 0xFF};
    for (FieldId f : world_.fields_about(b)) {
      using M = FieldMeaning::What;
      const M what = world_.fields()[f.value].meaning.what;
      const std::uint32_t rest = what == M::level   ? world_.new_level(p.item, world_.fields()[f.value].meaning.part)
                                 : what == M::worst ? kClean
                                                    : 0;
      if (what == M::known) program_.set(f, is_ended, p.there & world_.negate(Formula::is(f, never_looked)), why);
      else if (what == M::owed && !removal_answers(protocol_[world_.fields()[f.value].meaning.finding])) continue;
      else if (what != M::worn) program_.set(f, rest, p.there, why);
    }
    if (program_.holds_back()) program_.set(world_.told(b), 0, p.there, {});
    program_.set(world_.worn(line.of, p.item), 0, p.there, why);
  }
}

void LineWriter::take_off(const model::Line& line) {
  const auto all = pieces(line, true);
  if (all.empty()) return;
  keep_hands_off(line, line.of);
  need_one_place(line, line.of, false);
  Moment m = event(What::takes_off, line, {});
  // One line is one event, also where its things leave one after the other.
  Formula any;
  for (const Piece& p : all) {
    m.things.push_back(world_.worn_bearer(line.of, p.item));
    any = any | p.there;
    if (all.size() == 1) break;
    m.present.push_back(world_.scratch());
    program_.set(m.present.back(), 1, p.there, {});
  }
  const FieldId took_something = world_.scratch();
  program_.set(took_something, 1, any, {});
  program_.moment(m, any);
  for (const auto& set : sets_of(line, all)) remove(line, set);
  m.asked = false;
  program_.moment(m, Formula::is(took_something, 1));
}

std::vector<std::vector<LineWriter::Piece>> LineWriter::sets_of(const model::Line& line, const std::vector<Piece>& all) const {
  if (line.together || all.size() == 1) return {all};
  std::vector<std::vector<Piece>> out;
  for (const Piece& p : all) out.push_back({p});
  return out;
}

void LineWriter::remove(const model::Line& line, const std::vector<Piece>& set) {
  std::vector<std::pair<Bearer, Formula>> leaving;
  for (const Piece& p : set) leaving.emplace_back(world_.worn_bearer(line.of, p.item), p.there);
  duties_due(program_, model::Deadline::any_removal, false, line.of, leaving);
  refuse_removal(line, set);
  handle(line, set, items_of(set));
  brush(line, set);
  pull_off(line, set);
  for (const Piece& p : set) rest_inside(line, p);
  leave(line, set);
}

// ---------------------------------------------------------------- put on

void LineWriter::refuse_putting_on(const model::Line& line, const Piece& p) {
  const Bearer b = world_.worn_bearer(line.of, p.item);
  program_.report(about(Code::P403, b), world_.is_worn(line.of, p.item));
  for (ItemId upper : world_.wardrobe(line.of)) {
    if (upper == p.item || world_.can_lie_above(p.item, upper)) continue;
    Report r = about(Code::P404, b);
    r.other = world_.worn_bearer(line.of, upper);
    r.has_other = true;
    program_.report(r, world_.is_worn(line.of, upper), {r.other});
  }
  if (world_.is_hand_item(p.item)) {
    for (const auto& hand : program_.hands_now(line.of)) {
      Report r = about(Code::P104, b);
      r.other = hand.layer.bearer;
      r.has_other = true;
      program_.report(r, hand.layer.when & world_.unclean(hand.level), {hand.layer.bearer});
    }
    if (line.who != line.of)
      for (const auto& hand : program_.hands_now(line.who)) {
        Report r = about(Code::P105, b);
        r.other = hand.layer.bearer;
        r.has_other = true;
        r.person = line.who;
        program_.report(r, hand.layer.when & world_.unclean(hand.level), {hand.layer.bearer});
      }
  }
  for (std::size_t f = 0; f < protocol_.findings.size(); ++f)
    if (const FieldMeaning m{FieldMeaning::What::owed, b, 0xFF, {}, model::FindingId(f), 0, 0};
        std::any_of(world_.fields().begin(), world_.fields().end(), [&](const Field& x) { return x.meaning == m; })) {
      Report r = about(Code::P601, b);
      r.finding = model::FindingId(f);
      program_.report(r, Formula::is(world_.owed(b, model::FindingId(f)), 1) & Formula::is(world_.in_hand(p.item), 1));
    }
  for (model::SiteId site : protocol_[p.item].worn_on) {
    const Bearer body = world_.site_bearer(line.of, site);
    program_.report(about(Code::P602, body), Formula::is(world_.reached(body), 1) & world_.unclean(world_.level({body, 0})));
  }
}

void LineWriter::go_on(const model::Line& line, const Piece& p) {
  const Bearer b = world_.worn_bearer(line.of, p.item), fresh = world_.fresh_bearer(p.item);
  const Cause why{Cause::What::goes_on, b, 0xFF, b, 0xFF};
  const FieldId was_in_hand = world_.scratch();
  program_.lift(was_in_hand, world_.in_hand(p.item), Formula::always());
  for (std::uint8_t part = 0; part < world_.parts_of(b); ++part) {
    program_.set(world_.level({b, part}), world_.new_level(p.item, part), Formula::is(was_in_hand, 0), why);
    program_.copy(world_.level({b, part}), world_.level({fresh, part}), Formula::is(was_in_hand, 1), why);
    program_.set(world_.level({fresh, part}), world_.new_level(p.item, part), Formula::always(), {});
  }
  program_.set(world_.in_hand(p.item), 0, Formula::always(), why);
  for (FieldId f : world_.fields_about(b)) {
    using M = FieldMeaning::What;
    const M what = world_.fields()[f.value].meaning.what;
    if (what == M::known) program_.set(f, is_ended, world_.negate(Formula::is(f, never_looked)), {});
    else if (what == M::owed) program_.set(f, 0, Formula::is(was_in_hand, 1), {});
    else if (what == M::unlooked || what == M::told || what == M::wet) program_.set(f, 0, Formula::always(), {});
    else if (what == M::worst) program_.set(f, kClean, Formula::always(), {});
  }
  // Whoever goes on last lies above, where the pair allows both.
  for (ItemId other : world_.wardrobe(line.of))
    if (const auto pair = world_.order(line.of, p.item, other))
      program_.set(*pair, p.item.value > other.value ? 1 : 0, Formula::always(), {});
  program_.set(world_.worn(line.of, p.item), 1, Formula::always(), why);
  if (!world_.known_of(b, model::FindingMeans::barrier_broken).empty())
    for (const Reachable& r : world_.showing_surfaces(b)) program_.lift(world_.worst(b), world_.level(r.surface), r.when);
}

void LineWriter::put_on(const model::Line& line) {
  const auto set = pieces(line, false);
  keep_hands_off(line, line.of);
  need_one_place(line, line.of, false);
  std::vector<Bearer> things;
  for (const Piece& p : set) things.push_back(world_.worn_bearer(line.of, p.item));
  Moment m = event(What::puts_on, line, things);
  for (const Piece& p : set) refuse_putting_on(line, p);
  program_.moment(m, Formula::always());
  for (const Piece& p : set) go_on(line, p);
  handle(line, set, line.who == line.of ? items_of(set) : std::vector<ItemId>{});
  brush(line, set);
  for (const Piece& p : set) rest_inside(line, p);
  m.asked = false;
  program_.moment(m, Formula::always());
}

// ---------------------------------------------------------------- disinfect, clean

void LineWriter::wet(const model::Line& line) {
  const model::Agent& agent = protocol_[line.agent];
  for (const model::Thing& thing : line.things) {
    for (const Candidate& c : world_.candidates(thing, line.who, true)) {
      keep_hands_off(line, c.bearer.person);
      Moment m = event(What::disinfects, line, {c.bearer});
      m.part = c.part;
      program_.moment(m, c.when);
      for (const Reachable& r : surfaces_of(c)) {
        refuse_wet(r.surface, r.when);
        for (const auto& hand : program_.hands_now(line.who)) {
          // A hand does not meet itself.
          if (hand.layer.bearer == c.bearer) continue;
          program_.meet({hand}, line.who, r.surface, r.when, true);
        }
        if (line.without_waiting) program_.set(world_.wet(r.surface), 1, r.when, {Cause::What::wetted, c.bearer, c.part, c.bearer, r.surface.part});
      }
      const auto on = [&](const std::vector<model::Target>& list) {
        return std::any_of(list.begin(), list.end(), [&](const model::Target& t) { return world_.matches(t, c.bearer); });
      };
      if (c.bearer.what == Bearer::What::worn)
        program_.report(about(Code::P801, c.bearer), c.when & world_.is_worn(c.bearer.person, c.bearer.item) & Formula::is(world_.unlooked(c.bearer), 1));
      need_one_place(line, c.bearer.person, false);
      if (on(agent.never_on)) program_.report(about(Code::P501, c.bearer), c.when);
      else if (!on(agent.works_on)) program_.report(about(Code::P505, c.bearer), c.when);
    }
  }
}

void LineWriter::contact_end(const model::Line& line) {
  for (const model::Thing& thing : line.things)
    for (const Candidate& c : world_.candidates(thing, line.who, true)) {
      Formula done = Formula::always();
      for (const Reachable& r : surfaces_of(c)) {
        const FieldId level = world_.level(r.surface);
        const Formula soiled = r.when & Formula::is(level, kSoiled);
        program_.report(about(Code::P502, c.bearer), soiled);
        done = done & world_.negate(soiled);
        const Cause why{Cause::What::disinfected, c.bearer, c.part, c.bearer, r.surface.part};
        if (protocol_[line.agent].leaves_sterile)
          program_.set(level, kSterile, r.when & Formula::test(level, (1u << kClean) | (1u << kSuspect)), why);
        else
          program_.set(level, kClean, r.when & Formula::is(level, kSuspect), why);
        if (c.bearer.what == Bearer::What::site) program_.set(world_.reached(c.bearer), 0, r.when & world_.negate(soiled), why);
      }
      if (program_.holds_back()) program_.set(world_.told(c.bearer), 0, c.when & done, {});
      Moment m = event(What::disinfects, line, {c.bearer});
      m.asked = false;
      m.part = c.part;
      program_.moment(m, c.when & done & (c.bearer.what == Bearer::What::worn ? world_.is_worn(c.bearer.person, c.bearer.item) : Formula::always()));
    }
}

void LineWriter::wait(const model::Line& line) {
  if (!line.wait_contact_time) return;
  std::vector<Bearer> bearers;
  for (FieldId f : world_.all(FieldMeaning::What::wet)) {
    const FieldMeaning m = world_.fields()[f.value].meaning;
    if (std::find(bearers.begin(), bearers.end(), m.bearer) == bearers.end()) bearers.push_back(m.bearer);
  }
  for (const Bearer& b : bearers) {
    Formula any_wet, stays_soiled;
    std::vector<std::pair<std::uint8_t, FieldId>> parts;
    for (FieldId f : world_.all(FieldMeaning::What::wet))
      if (const FieldMeaning m = world_.fields()[f.value].meaning; m.bearer == b) parts.emplace_back(m.part, f);
    for (const auto& [part, f] : parts) {
      any_wet = any_wet | Formula::is(f, 1);
      stays_soiled = stays_soiled | (Formula::is(f, 1) & Formula::is(world_.level({b, part}), kSoiled));
    }
    const FieldId done = world_.scratch();
    program_.report(about(Code::P502, b), stays_soiled);
    program_.set(done, 1, any_wet & world_.negate(stays_soiled), {});
    for (const auto& [part, f] : parts) {
      const FieldId level = world_.level({b, part});
      const Cause why{Cause::What::disinfected, b, part, b, part};
      program_.set(level, kClean, Formula::is(f, 1) & Formula::is(level, kSuspect), why);
      program_.set(f, 0, Formula::is(f, 1), why);
    }
    if (b.what == Bearer::What::site) program_.set(world_.reached(b), 0, Formula::is(done, 1), {});
    Moment e = event(What::disinfects, line, {b});
    e.asked = false;
    program_.moment(e, Formula::is(done, 1));
  }
}

void LineWriter::clean(const model::Line& line) {
  for (const model::Thing& thing : line.things) {
    const auto candidates = world_.candidates(thing, line.who, true);
    Formula any_soil;
    for (const Candidate& c : candidates)
      for (const Reachable& r : surfaces_of(c)) any_soil = any_soil | (r.when & Formula::is(world_.level(r.surface), kSoiled));
    Formula nothing_struck = Formula::always();
    for (std::size_t i = 0; i < protocol_.interruptions.size(); ++i)
      nothing_struck = nothing_struck & Formula::is(world_.struck(model::InterruptionId(i)), 0);
    const FieldId soil = world_.scratch();
    program_.set(soil, 1, any_soil, {});
    // With nothing to clean the line is passed over if a handler may have cleaned; else it is a mistake that is made.
    const Formula goes_on = Formula::is(soil, 1) | nothing_struck;
    Formula others;
    for (const Candidate& c : candidates) {
      // The first one is meant where none is there at all.
      const bool first = &c == &candidates.front();
      for (std::size_t i = 1; first && i < candidates.size(); ++i) others = others | candidates[i].when;
      const Formula meant = first ? world_.negate(others) : c.when;
      program_.report(about(Code::P504, c.bearer), meant & Formula::is(soil, 0) & nothing_struck);
      keep_hands_off(line, c.bearer.person);
      need_one_place(line, c.bearer.person, false);
      const Formula now = c.when & Formula::is(soil, 1);
      Moment m = event(What::cleans, line, {c.bearer});
      m.part = c.part;
      program_.moment(m, c.when & goes_on);
      for (const Reachable& r : surfaces_of(c)) {
        for (const auto& hand : program_.hands_now(line.who))
          if (!(hand.layer.bearer == c.bearer)) program_.meet({hand}, line.who, r.surface, r.when & Formula::is(soil, 1), true);
      }
      const Cause why{Cause::What::cleaned, c.bearer, c.part, c.bearer, c.part};
      for (const Reachable& r : surfaces_of(c))
        program_.set(world_.level(r.surface), kSuspect, r.when & Formula::is(soil, 1) & Formula::is(world_.level(r.surface), kSoiled), why);
      const Bearer memory = world_.remembered_on(thing, c.bearer);
      for (FieldId f : world_.known_of(memory, model::FindingMeans::surface_soiled))
        program_.set(f, is_ended, now & world_.negate(Formula::is(f, never_looked)), why);
      end_duties(model::AnswerKind::cleaning, {}, &memory, now);
      m.asked = false;
      program_.moment(m, now);
    }
  }
}

// ---------------------------------------------------------------- test, act, take, pass

void LineWriter::test(const model::Line& line) {
  std::vector<Piece> set;
  std::vector<Bearer> things;
  for (const model::Thing& thing : line.things)
    if (const auto item = world_.item_of(thing)) {
      const RoleId owner = thing.of ? thing.of : protocol_.acts;
      set.push_back({*item, world_.is_worn(owner, *item)});
      things.push_back(world_.worn_bearer(owner, *item));
      keep_hands_off(line, owner);
      need_one_place(line, owner, false);
      program_.report(about(Code::P402, things.back()), world_.negate(set.back().there));
    }
  Moment m = event(What::tests, line, things);
  program_.moment(m, Formula::always());
  model::Line with_owner = line;
  with_owner.of = !line.things.empty() && line.things.front().of ? line.things.front().of : protocol_.acts;
  handle(with_owner, set, {});
  brush(with_owner, set);
  m.asked = false;
  program_.moment(m, Formula::always());
}

void LineWriter::act(const model::Line& line) {
  Moment m = event(What::does_line, line, {});
  program_.moment(m, Formula::always());
  for (const model::Thing& thing : line.things)
    for (const Candidate& c : world_.candidates(thing, line.who, true)) {
      keep_hands_off(line, c.bearer.person);
      need_one_place(line, c.bearer.person, false);
      for (const Reachable& r : surfaces_of(c)) {
        refuse_wet(r.surface, r.when);
        program_.meet(program_.hands_now(line.who), line.who, r.surface, r.when, true);
      }
      for (FieldId f : world_.known_of(c.bearer, model::FindingMeans::skin_showing))
        program_.set(f, is_ended, c.when & world_.negate(Formula::is(f, never_looked)), {});
    }
  m.asked = false;
  program_.moment(m, Formula::always());
}

void LineWriter::fresh_copy(ItemId item, bool unless_in_hand) {
  const Bearer fresh = world_.fresh_bearer(item), own = world_.worn_bearer(protocol_.acts, item);
  const Formula now = unless_in_hand ? Formula::is(world_.in_hand(item), 0) : Formula::always();
  const FieldId anew = world_.scratch();
  program_.set(anew, 1, now, {});
  for (std::uint8_t part = 0; part < world_.parts_of(fresh); ++part) program_.set(world_.level({fresh, part}), world_.new_level(item, part), Formula::is(anew, 1), {});
  const Formula not_worn = world_.negate(world_.is_worn(protocol_.acts, item)) & Formula::is(anew, 1);
  for (FieldId f : world_.fields_about(own)) {
    const auto what = world_.fields()[f.value].meaning.what;
    if (what == FieldMeaning::What::known) program_.set(f, is_ended, not_worn & world_.negate(Formula::is(f, never_looked)), {});
    if (what == FieldMeaning::What::owed) program_.set(f, 0, not_worn, {});
  }
  program_.set(world_.in_hand(item), 1, Formula::always(), {Cause::What::passed, fresh, 0xFF, fresh, 0xFF});
}

void LineWriter::take(const model::Line& line, bool pass) {
  const auto item = line.things.empty() ? std::nullopt : world_.item_of(line.things.front());
  if (pass) need_one_place(line, line.to, false);
  std::vector<Bearer> things;
  if (item) things.push_back(world_.fresh_bearer(*item));
  Moment m = event(pass ? What::passes : What::takes, line, things);
  m.to = line.to;
  program_.moment(m, Formula::always());
  if (item) {
    fresh_copy(*item, pass);
    const Bearer fresh = world_.fresh_bearer(*item);
    const auto hands = program_.hands_now(line.who);
    for (const auto& hand : hands) {
      Report r = about(Code::P105, fresh);
      r.other = hand.layer.bearer;
      r.has_other = true;
      r.person = line.who;
      program_.report(r, hand.layer.when & world_.unclean(hand.level), {hand.layer.bearer});
    }
    for (const Reachable& s : world_.showing_surfaces(fresh)) program_.meet(program_.hands_now(line.who), line.who, s.surface, Formula::always(), true);
    if (pass)
      for (const Reachable& s : world_.showing_surfaces(fresh)) program_.meet(program_.hands_now(line.to), line.to, s.surface, Formula::always(), true);
  }
  m.asked = false;
  program_.moment(m, Formula::always());
}

// ---------------------------------------------------------------- move

void LineWriter::move(const model::Line& line) {
  const RoleId p = line.who;
  const FieldId at = world_.zone(p);
  const model::Zone& z = protocol_[line.zone];
  Formula led;
  Formula from_higher;
  for (std::size_t from = 0; from < protocol_.zones.size(); ++from) {
    const Formula here = Formula::is(at, std::uint32_t(from));
    if (protocol_.zones[from].risk > z.risk) from_higher = from_higher | here;
    for (const model::Border& border : protocol_.zones[from].leads_to) if (border.to == line.zone) led = led | here;
  }
  Report r;
  r.zone = line.zone;
  r.person = p;
  r.code = Code::P204;
  program_.report(r, world_.negate(led));
  const auto& may = protocol_[p].may_enter;
  if (!may.empty() && std::find(may.begin(), may.end(), line.zone) == may.end()) {
    r.code = Code::P203;
    program_.report(r, Formula::always());
  }
  if (z.risk == model::Risk::low) {
    const auto carried = [&](const Bearer& b, const Formula& when) {
      Formula dirty;
      for (std::uint8_t part = 0; part < world_.parts_of(b); ++part)
        if (!world_.is_inside({b, part})) dirty = dirty | world_.unclean(world_.level({b, part}));
      Report c = about(Code::P201, b);
      c.zone = line.zone;
      c.person = p;
      program_.report(c, dirty & when & from_higher);
    };
    for (ItemId i : world_.wardrobe(p)) {
      Formula lets;
      for (std::size_t from = 0; from < protocol_.zones.size(); ++from)
        for (const model::Border& border : protocol_.zones[from].leads_to)
          if (border.to == line.zone && std::any_of(border.lets_through.begin(), border.lets_through.end(), [&](const auto& w) { return world_.is_of(i, w); }))
            lets = lets | Formula::is(at, std::uint32_t(from));
      carried(world_.worn_bearer(p, i), world_.is_worn(p, i) & world_.negate(lets));
    }
    for (std::size_t s = 0; s < protocol_.sites.size(); ++s) carried(world_.site_bearer(p, model::SiteId(s)), Formula::always());
  }
  for (ItemId i : world_.wardrobe(p))
    for (std::uint8_t part = 0; part < protocol_[i].surfaces.size(); ++part) refuse_wet({world_.worn_bearer(p, i), part}, world_.is_worn(p, i));
  Moment m = event(What::moves_to, line, {});
  m.zone = line.zone;
  program_.moment(m, Formula::always());
  Moment leaving = event(What::leaves, line, {});
  for (std::size_t from = 0; from < protocol_.zones.size(); ++from) {
    leaving.zone = model::ZoneId(from);
    leaving.asked = true;
    program_.moment(leaving, Formula::is(at, std::uint32_t(from)));
    leaving.asked = false;
    program_.moment(leaving, Formula::is(at, std::uint32_t(from)));
  }
  program_.set(at, line.zone.value, Formula::always(), {Cause::What::moved, {}, 0xFF, {}, 0xFF});
  program_.expose(p, Formula::always(), line.zone);
  for (const model::ItemOrKind& need : z.needs) {
    Formula met;
    for (ItemId i : world_.wardrobe(p)) if (world_.is_of(i, need)) met = met | world_.is_worn(p, i);
    Report missing;
    missing.code = Code::P202;
    missing.zone = line.zone;
    missing.person = p;
    missing.other = {Bearer::What::fresh, {}, need.item, {}, {}};
    missing.kind = need.kind;
    program_.report(missing, world_.negate(met));
  }
  m.asked = false;
  program_.moment(m, Formula::always());
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
