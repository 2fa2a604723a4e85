// Disinfecting, cleaning, testing, touching, taking and passing.

#include "effects/lines.hpp"

#include <algorithm>
#include <map>

namespace stepward::effects {
namespace {

using diagnostics::Code;
using model::ItemId;
using model::RoleId;
using What = model::Event::What;

}  // namespace

// ---------------------------------------------------------------- disinfect, clean

void LineWriter::wet(const model::Line& line) {
  const model::Agent& agent = protocol_[line.agent];
  const bool is_treated = !line.without_waiting && manner_ != graph::Manner::cut_short;
  line_alone(What::disinfects, line, nothing_there(line), true);
  for (const model::Thing& thing : line.things) {
    for (const Candidate& c : world_.candidates(thing, line.who, true)) {
      keep_hands_off(line, c.bearer.person);
      Moment m = event(What::disinfects, line, {c.bearer});
      m.part = c.part;
      program_.moment(m, c.when);
      refuse_gloved(line, c);
      for (const Reachable& r : surfaces_of(c)) {
        refuse_wet(r.surface, r.when);
        for (const auto& hand : program_.hands_now(line.who)) {
          // A hand does not meet itself.
          if (hand.layer.bearer == c.bearer) continue;
          program_.meet({hand}, line.who, r.surface, r.when, true, is_treated);
        }
        if (line.without_waiting) program_.set(world_.wet(r.surface), world_.wet_value({line.who, line.agent}), r.when, {Cause::What::wetted, c.bearer, c.part, c.bearer, r.surface.part});
      }
      if (is_left_overdue(line, c))
        for (const Reachable& r : surfaces_of(c)) program_.set(world_.wet(r.surface), world_.overdue_value({line.who, line.agent}), r.when, {});
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
  // What it disinfects, it does later; the line itself is over.
  if (line.without_waiting) line_alone(What::does_line, line, Formula::always(), false);
}

/// Hands touch the next thing at once, and nobody waits for them.
bool LineWriter::is_left_overdue(const model::Line& line, const Candidate& c) const {
  return manner_ == graph::Manner::cut_short && world_.may_be_overdue(c.bearer) && !line.without_waiting;
}

/// Whoever changes the order of two lines and then comes to bare hands sees the gloves on them.
void LineWriter::refuse_gloved(const model::Line& line, const Candidate& c) {
  if (manner_ != graph::Manner::out_of_turn || c.bearer.what != Bearer::What::site || c.bearer.person != line.who || !protocol_[c.bearer.site].is_hands) return;
  for (const HandLayer& layer : world_.hands(line.who))
    if (layer.bearer.what == Bearer::What::worn) {
      Report r = about(Code::P401, c.bearer);
      r.other = layer.bearer;
      r.has_other = true;
      program_.report(r, c.when & layer.when);
    }
}

void LineWriter::contact_end(const model::Line& line) {
  // Whether or not anything becomes clean by it, the line is done.
  line_alone(What::does_line, line, Formula::always(), false);
  if (manner_ == graph::Manner::cut_short) return;
  for (const model::Thing& thing : line.things)
    for (const Candidate& c : world_.candidates(thing, line.who, true)) {
      Formula done = Formula::always();
      for (const Reachable& r : surfaces_of(c)) {
        const FieldId level = world_.level(r.surface);
        const Formula soiled = r.when & Formula::is(level, kSoiled);
        program_.report(about(Code::P502, c.bearer), soiled);
        done = done & world_.negate(soiled);
        const Cause why{Cause::What::disinfected, c.bearer, c.part, c.bearer, r.surface.part};
        rise_to_clean(level, line.agent, r.when, why);
        if (c.bearer.what == Bearer::What::site) program_.set(world_.reached(c.bearer), 0, r.when & world_.negate(soiled), why);
      }
      if (program_.holds_back()) program_.set(world_.told(c.bearer), 0, c.when & done, {});
      Moment m = event(What::disinfects, line, {c.bearer});
      m.asked = false;
      m.part = c.part;
      program_.moment(m, c.when & done & (c.bearer.what == Bearer::What::worn ? world_.is_worn(c.bearer.person, c.bearer.item) : Formula::always()));
    }
  if (world_.knows_overdue()) end_overdue(line);
}

// What is soiled stays as it is.
void LineWriter::rise_to_clean(FieldId level, model::AgentId agent, const Formula& when, const Cause& why) {
  if (protocol_[agent].leaves_sterile)
    program_.set(level, kSterile, when & Formula::test(level, (1u << kClean) | (1u << kSuspect)), why);
  else
    program_.set(level, kClean, when & Formula::is(level, kSuspect), why);
}

void LineWriter::wait(const model::Line& line) {
  line_alone(What::does_line, line, Formula::always(), true);
  if (line.wait_contact_time && manner_ == graph::Manner::cut_short) leave_overdue(line);
  else if (line.wait_contact_time) {
    if (world_.knows_overdue()) end_overdue_by_wait(line);
    end_wetness(line);
  }
  line_alone(What::does_line, line, Formula::always(), false);
}

void LineWriter::leave_overdue(const model::Line& line) {
  for (FieldId f : world_.all(FieldMeaning::What::wet))
    for (const Wetting& wetting : world_.wettings())
      if (wetting.doer == line.who) program_.set(f, world_.overdue_value(wetting), Formula::is(f, world_.wet_value(wetting)), {});
}

/// Whoever waits as long at something else has waited for what is overdue as well.
void LineWriter::end_overdue(const model::Line& line) {
  std::vector<Candidate> treated;
  for (const model::Thing& thing : line.things)
    for (Candidate& c : world_.candidates(thing, line.who, true)) treated.push_back(std::move(c));
  end_overdue_where(line, [&](FieldId wet, const Wetting& wetting) {
    Formula long_enough;
    for (const Candidate& c : treated)
      if (world_.contact_time(line.agent, c.bearer).seconds >= seconds_asked(wet, wetting)) long_enough = long_enough | c.when;
    return long_enough;
  });
}

/// The same where the wait is a line of its own: it is as long as what is wet by then asks for.
void LineWriter::end_overdue_by_wait(const model::Line& line) {
  end_overdue_where(line, [&](FieldId wet, const Wetting& wetting) {
    Formula long_enough;
    for (FieldId other : world_.all(FieldMeaning::What::wet))
      for (const Wetting& waited : world_.wettings())
        if (other != wet && waited.doer == line.who && seconds_asked(other, waited) >= seconds_asked(wet, wetting)) long_enough = long_enough | Formula::is(other, world_.wet_value(waited));
    return long_enough;
  });
}

std::uint32_t LineWriter::seconds_asked(FieldId wet, const Wetting& wetting) const {
  return world_.contact_time(wetting.agent, world_.fields()[wet.value].meaning.bearer).seconds;
}

void LineWriter::end_overdue_where(const model::Line& line, const std::function<Formula(FieldId, const Wetting&)>& long_enough) {
  for (FieldId f : world_.all(FieldMeaning::What::wet))
    for (const Wetting& wetting : world_.wettings())
      if (wetting.doer == line.who) end_overdue_of(f, wetting, long_enough(f, wetting));
}

void LineWriter::end_overdue_of(FieldId wet, const Wetting& wetting, const Formula& long_enough) {
  const FieldMeaning m = world_.fields()[wet.value].meaning;
  const Formula ends = long_enough & Formula::is(wet, world_.overdue_value(wetting));
  rise_to_clean(world_.level({m.bearer, m.part}), wetting.agent, ends, {Cause::What::disinfected, m.bearer, m.part, m.bearer, m.part});
  program_.set(wet, 0, ends, {});
}

void LineWriter::end_wetness(const model::Line& line) {
  std::vector<Bearer> bearers;
  for (FieldId f : world_.all(FieldMeaning::What::wet)) {
    const FieldMeaning m = world_.fields()[f.value].meaning;
    if (std::find(bearers.begin(), bearers.end(), m.bearer) == bearers.end()) bearers.push_back(m.bearer);
  }
  for (const Bearer& b : bearers)
    for (const Wetting& wetting : world_.wettings())
      if (wetting.doer == line.who) end_wetness_of(line, b, wetting);
}

// All that shows was wetted: the whole thing is disinfected. Else only the parts that were.
void LineWriter::end_wetness_of(const model::Line& line, const Bearer& b, const Wetting& wetting) {
  Formula any_wet, stays_soiled, all_wet = Formula::always();
  std::map<std::uint8_t, FieldId> parts;  // part → whether this wetting ends on it now
  for (FieldId f : world_.all(FieldMeaning::What::wet)) {
    const FieldMeaning m = world_.fields()[f.value].meaning;
    if (m.bearer != b) continue;
    const FieldId now = parts[m.part] = world_.scratch();
    program_.set(now, 1, Formula::is(f, world_.wet_value(wetting)), {});
    any_wet = any_wet | Formula::is(now, 1);
    stays_soiled = stays_soiled | (Formula::is(now, 1) & Formula::is(world_.level({b, m.part}), kSoiled));
  }
  for (const Reachable& shown : surfaces_of({b, 0xFF, Formula::always()})) {
    const auto part = parts.find(shown.surface.part);
    all_wet = all_wet & (world_.negate(shown.when) | (part == parts.end() ? Formula::never() : Formula::is(part->second, 1)));
  }
  const FieldId done = world_.scratch();
  program_.report(about(Code::P502, b), stays_soiled);
  program_.set(done, 1, any_wet & world_.negate(stays_soiled), {});
  for (const auto& [part, now] : parts) end_wetness_of_part({b, part}, now, wetting.agent);
  if (b.what == Bearer::What::site) program_.set(world_.reached(b), 0, Formula::is(done, 1), {});
  if (program_.holds_back()) program_.set(world_.told(b), 0, Formula::is(done, 1), {});
  Moment m = event(What::disinfects, line, {b});
  m.asked = false;
  m.agent = wetting.agent;
  program_.moment(m, Formula::is(done, 1) & all_wet);
  for (const auto& [part, now] : parts) {
    m.part = part;
    program_.moment(m, Formula::is(done, 1) & Formula::is(now, 1) & world_.negate(all_wet));
  }
}

void LineWriter::end_wetness_of_part(const SurfaceAt& s, FieldId now, model::AgentId agent) {
  const FieldId level = world_.level(s);
  const Cause why{Cause::What::disinfected, s.bearer, s.part, s.bearer, s.part};
  rise_to_clean(level, agent, Formula::is(now, 1), why);
  program_.set(world_.wet(s), 0, Formula::is(now, 1), why);
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
    line_alone(What::cleans, line, goes_on & nothing_there(line), true);
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
        for (const auto& hand : program_.hands_now(line.who)) {
          if (hand.layer.bearer == c.bearer) continue;
          refuse_wet(r.surface, r.when & hand.layer.when & Formula::is(soil, 1));
          program_.meet({hand}, line.who, r.surface, r.when & Formula::is(soil, 1), true);
        }
      }
      const Cause why{Cause::What::cleaned, c.bearer, c.part, c.bearer, c.part};
      for (const Reachable& r : surfaces_of(c))
        program_.set(world_.level(r.surface), kSuspect, r.when & Formula::is(soil, 1) & Formula::is(world_.level(r.surface), kSoiled), why);
      const Bearer memory = world_.remembered_on(thing, c.bearer);
      for (FieldId f : world_.known_of(memory, model::FindingMeans::surface_soiled))
        program_.set(f, is_ended, now & world_.negate(Formula::is(f, never_looked)), why);
      if (const FieldId unseen = world_.find_missed(memory, model::FindingMeans::surface_soiled)) program_.set(unseen, 0, now, {});
      end_duties(model::AnswerKind::cleaning, {}, &memory, now);
      m.asked = false;
      program_.moment(m, now);
    }
  }
}

// ---------------------------------------------------------------- test, act, take, pass

void LineWriter::test(const model::Line& line) {
  std::vector<Piece> set;
  std::vector<std::pair<Bearer, Formula>> things;
  for (const model::Thing& thing : line.things)
    if (const auto item = world_.item_of(thing)) {
      const RoleId owner = thing.of ? thing.of : protocol_.acts;
      set.push_back({*item, world_.is_worn(owner, *item)});
      things.emplace_back(world_.worn_bearer(owner, *item), set.back().there);
      keep_hands_off(line, owner);
      need_one_place(line, owner, false);
      program_.report(about(Code::P402, things.back().first), world_.negate(set.back().there));
    }
  const WornMoment tests = ask_of_worn(What::tests, line, things);
  model::Line with_owner = line;
  with_owner.of = !line.things.empty() && line.things.front().of ? line.things.front().of : protocol_.acts;
  handle(with_owner, set, {});
  brush(with_owner, set);
  happens_to_worn(tests, line);
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
  const ItemId item = line.things.empty() ? ItemId() : world_.item_of(line.things.front()).value_or(ItemId());
  if (pass) need_one_place(line, line.to, false);
  std::vector<Bearer> things;
  if (item) things.push_back(world_.fresh_bearer(item));
  Moment m = event(pass ? What::passes : What::takes, line, things);
  m.to = line.to;
  program_.moment(m, Formula::always());
  if (item) {
    fresh_copy(item, pass);
    const Bearer fresh = world_.fresh_bearer(item);
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

}  // namespace stepward::effects
