// What is worn: handling by a technique, taking off, putting on.

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
    case T::site: {
      // A brush meets what is worn over a site, not the site through it. What is handled is what the author says.
      const SurfaceAt site{world_.site_bearer(whose, t.site), 0};
      out.push_back({site, only ? Formula::always() : world_.shows(site, items_of(set))});
      break;
    }
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
  if (manner_ == graph::Manner::clumsy && !says_what_it_may_brush(t)) grasp_outside(line, set);
  if (!t) return;
  for (const model::Brush& b : protocol_[t].brushes) {
    if (!b.always && manner_ != graph::Manner::clumsy) continue;
    for (const Reachable& what : named_surfaces(b.what, line, set, nullptr))
      for (const Reachable& against : named_surfaces(b.against, line, set, nullptr))
        program_.rub(what.surface, against.surface, what.when & against.when, Cause::What::brushes);
  }
}

bool LineWriter::says_what_it_may_brush(model::TechniqueId t) const {
  if (!t) return false;
  const auto& brushes = protocol_[t].brushes;
  return std::any_of(brushes.begin(), brushes.end(), [](const model::Brush& b) { return !b.always; });
}

// Where no technique says what goes wrong, the hands take hold of the outside. What is sterile brings nothing onto them, and need not stay so once it comes off.
void LineWriter::grasp_outside(const model::Line& line, const std::vector<Piece>& set) {
  std::vector<ItemId> gone;
  for (const Piece& p : set)
    if (world_.is_hand_item(p.item)) gone.push_back(p.item);
  for (const Piece& p : set)
    for (const Reachable& r : world_.showing_surfaces(world_.worn_bearer(line.of, p.item))) {
      // The one glove takes hold of the other; what is worn beneath it meets neither.
      if (world_.reach(r.surface) != model::Reach::exposed || (line.who == line.of && has(gone, p.item))) continue;
      const Formula met = line.verb == model::VerbKind::doff ? world_.negate(world_.sterile(world_.level(r.surface))) : Formula::always();
      program_.meet(program_.hands_now(line.who), line.who, r.surface, r.when & p.there & met, true);
    }
}

// Whoever pulls may tear the glove that does it.
void LineWriter::tear_glove(const model::Line& line) {
  for (const HandLayer& layer : world_.hands(line.who))
    if (const FieldId torn = world_.find_missed(layer.bearer, model::FindingMeans::barrier_broken)) program_.set(torn, 1, layer.when, {});
}

// A tear that nobody saw let through what the outside met, as long as the thing was worn.
void LineWriter::let_through(const std::vector<Piece>& set, model::RoleId of) {
  for (const Piece& p : set) {
    const Bearer b = world_.worn_bearer(of, p.item);
    if (const FieldId torn = world_.find_missed(b, model::FindingMeans::barrier_broken)) find_tear(b, p.there & Formula::is(torn, 1));
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
      if (world_.may_be_torn(b)) program_.lift(world_.worst(b), world_.level({b, part}), appears);
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
  std::vector<std::pair<Bearer, Formula>> things;
  for (const Piece& p : all) things.emplace_back(world_.worn_bearer(line.of, p.item), p.there);
  // One line is one event, also where its things leave one after the other.
  const WornMoment takes_off = ask_of_worn(What::takes_off, line, things);
  if (manner_ == graph::Manner::tearing) tear_glove(line);
  for (const auto& set : sets_of(line, all)) remove(line, set);
  happens_to_worn(takes_off, line);
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
  let_through(set, line.of);
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
    else if (what == M::missed) program_.set(f, 0, Formula::is(was_in_hand, 0), {});
    else if (what == M::unlooked || what == M::told || what == M::wet) program_.set(f, 0, Formula::always(), {});
    else if (what == M::worst) program_.set(f, kClean, Formula::always(), {});
  }
  // Whoever goes on last lies above, where the pair allows both.
  for (ItemId other : world_.wardrobe(line.of))
    if (const auto pair = world_.order(line.of, p.item, other))
      program_.set(*pair, p.item.value > other.value ? 1 : 0, Formula::always(), {});
  program_.set(world_.worn(line.of, p.item), 1, Formula::always(), why);
  if (world_.may_be_torn(b))
    for (const Reachable& r : world_.showing_surfaces(b)) program_.lift(world_.worst(b), world_.level(r.surface), r.when);
}

// Whatever went on before it in the same line is worn by now: it may be in the way, or be the hand.
void LineWriter::put_on_next(const model::Line& line, const Piece& p) {
  refuse_putting_on(line, p);
  go_on(line, p);
  handle(line, {p}, line.who == line.of ? std::vector<ItemId>{p.item} : std::vector<ItemId>{});
  brush(line, {p});
  rest_inside(line, p);
}

void LineWriter::put_on(const model::Line& line) {
  const auto set = pieces(line, false);
  keep_hands_off(line, line.of);
  need_one_place(line, line.of, false);
  std::vector<Bearer> things;
  for (const Piece& p : set) things.push_back(world_.worn_bearer(line.of, p.item));
  Moment m = event(What::puts_on, line, things);
  program_.moment(m, Formula::always());
  for (const Piece& p : set) put_on_next(line, p);
  if (manner_ == graph::Manner::tearing) tear_glove(line);
  m.asked = false;
  program_.moment(m, Formula::always());
}

}  // namespace stepward::effects
