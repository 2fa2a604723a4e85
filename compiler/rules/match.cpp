#include "rules/match.hpp"

#include <algorithm>

namespace stepward::rules {
namespace {

using effects::Bearer;
using effects::Formula;
using effects::Moment;
using model::Event;
using model::Person;
using model::RoleId;
using model::Subject;

using PersonWhat = Person::What;
using SubjectWhat = Subject::What;

bool names_bound_person(const Person& p) { return p.what == PersonWhat::that_person || p.what == PersonWhat::any_other_person; }
bool names_bound_item(const Subject& s) { return s.what == SubjectWhat::that_item || s.what == SubjectWhat::any_other_item; }

void look_into(const std::vector<Event>& events, Binds& out) {
  for (const Event& e : events) {
    out.person |= names_bound_person(e.who) || (e.subject.has_of && names_bound_person(e.subject.of)) || (e.to_given && names_bound_person(e.to));
    out.item |= names_bound_item(e.subject);
  }
}
void look_into(const std::vector<model::State>& states, Binds& out) {
  for (const model::State& s : states) {
    out.person |= names_bound_person(s.who) || (s.subject.has_of && names_bound_person(s.subject.of));
    out.item |= names_bound_item(s.subject);
  }
}

// The moment that an event of a rule listens to: "comes off" is a removal seen from the item.
Event::What listens_to(Event::What what) {
  switch (what) {
    case Event::What::comes_off: return Event::What::takes_off;
    case Event::What::hands_touch_unclean: return Event::What::touches;
    case Event::What::any_ending: return Event::What::ending;
    default: return what;
  }
}

// How many of the things a moment names can be the event's.
std::size_t relevant_things(const Moment& m) {
  return m.what == Event::What::touches ? std::min<std::size_t>(1, m.things.size()) : m.things.size();
}

Formula is_present(const Moment& m, std::size_t thing) {
  return m.present.empty() ? Formula::always() : Formula::is(m.present[thing], 1);
}

// When an item is among the things of a moment.
Formula is_among_things(const Moment& m, model::ItemId item) {
  Formula out;
  for (std::size_t i = 0; i < relevant_things(m); ++i)
    if (m.things[i].item == item) out = out | is_present(m, i);
  return out;
}

// Where an event names a thing without a part, these mean the whole of it.
bool means_the_whole(Event::What what) {
  return what == Event::What::disinfects || what == Event::What::cleans || what == Event::What::inspects || what == Event::What::not_found;
}

}  // namespace

bool is_own_event(Event::What what) {
  return what != Event::What::touches && what != Event::What::found && what != Event::What::not_found && what != Event::What::strikes &&
         what != Event::What::ending;
}

bool may_match(const Event& e, Event::What moment) {
  return e.what == Event::What::does_line ? is_own_event(moment) : listens_to(e.what) == moment;
}

Binds binds(const model::Rule& rule) {
  Binds out;
  for (const auto* events : {&rule.trigger, &rule.require, &rule.then, &rule.since, &rule.before}) look_into(events->events, out);
  for (const auto* states : {&rule.unless, &rule.while_states, &rule.always, &rule.at_end}) look_into(states->states, out);
  // Whose next line is waited for has to be remembered, also where nothing else in the rule speaks of that person.
  out.person |= rule.pattern == model::Pattern::right_after_each && std::any_of(rule.trigger.events.begin(), rule.trigger.events.end(), [](const Event& e) {
    return e.who.what == PersonWhat::anyone || e.who.what == PersonWhat::someone;
  });
  return out;
}

bool Matcher::person_is(const Person& person, RoleId who, const Binding& binding) const {
  switch (person.what) {
    case PersonWhat::role: return !person.role || who == person.role;
    case PersonWhat::anyone:
    case PersonWhat::someone: return std::find(person.except.begin(), person.except.end(), who) == person.except.end();
    case PersonWhat::that_person: return who == binding.person;
    case PersonWhat::any_other_person: return who != binding.person;
  }
  return false;
}

bool Matcher::item_is(const Subject& s, const Bearer& thing, const Binding& binding) const {
  const bool item = thing.item && (thing.what == Bearer::What::worn || thing.what == Bearer::What::fresh);
  for (const model::ItemOrKind& e : s.except) if (item && world_.is_of(thing.item, e)) return false;
  switch (s.what) {
    case SubjectWhat::any_item: return item;
    case SubjectWhat::that_item: return item && binding.item && thing.item == binding.item;
    case SubjectWhat::any_other_item: return item && thing.item != binding.item;
    case SubjectWhat::kind: return (item && world_.is_of(thing.item, {{}, s.kind})) ||
                                   (thing.what == Bearer::What::spot && protocol_[thing.spot].made_of == s.kind);
    case SubjectWhat::item: return item && thing.item == s.item;
    case SubjectWhat::site: return thing.what == Bearer::What::site && thing.site == s.site;
    case SubjectWhat::spot: return thing.what == Bearer::What::spot && thing.spot == s.spot;
    case SubjectWhat::anything: return true;
    case SubjectWhat::hands: return false;
  }
  return false;
}

Formula Matcher::thing_is(const Subject& s, const Bearer& thing, std::uint8_t part, RoleId doer, const Binding& binding) const {
  if (s.what == SubjectWhat::hands) {
    for (RoleId owner : world_.people()) {
      if (s.has_of ? !person_is(s.of, owner, binding) : owner != doer) continue;
      for (const effects::HandLayer& layer : world_.hands(owner)) if (layer.bearer == thing) return layer.when;
    }
    return Formula::never();
  }
  if (!item_is(s, thing, binding)) return Formula::never();
  const bool somebodys = thing.what == Bearer::What::worn || thing.what == Bearer::What::site;
  if (s.has_of && somebodys && !person_is(s.of, thing.person, binding)) return Formula::never();
  if (!s.part.empty()) {
    const auto named = thing.item ? world_.part_named(thing.item, s.part) : std::nullopt;
    if (!named || (part != 0xFF && part != *named)) return Formula::never();
  }
  return Formula::always();
}

Formula Matcher::subject(const Event& event, const Moment& m, const Binding& binding) const {
  Formula out;
  if (event.subject.part.empty() && means_the_whole(event.what) && m.part != 0xFF) return out;
  for (std::size_t i = 0; i < relevant_things(m); ++i)
    out = out | (thing_is(event.subject, m.things[i], m.part, m.who, binding) & is_present(m, i));
  if (event.subject.what != SubjectWhat::any_other_item) return out;
  // A set leaves in one moment: none of its items is another item to the others.
  return out & world_.negate(is_among_things(m, binding.item));
}

Formula Matcher::matches(const Event& e, const Moment& m, const Binding& binding) const {
  using W = Event::What;
  if (e.what == W::does_line)
    return is_own_event(m.what) && m.line && protocol_[m.line].details.known_as == e.line_id && person_is(e.who, m.who, binding) ? Formula::always()
                                                                                                                            : Formula::never();
  if (listens_to(e.what) != m.what) return Formula::never();
  const bool who = person_is(e.who, e.what == W::comes_off ? m.of : m.who, binding);
  switch (e.what) {
    case W::takes_off:
    case W::comes_off:
    case W::puts_on:
    case W::tests:
      if (!who || (e.technique && e.technique != m.technique)) return Formula::never();
      return subject(e, m, binding);
    case W::disinfects:
      return who && (!e.agent || e.agent == m.agent) ? subject(e, m, binding) : Formula::never();
    case W::cleans:
    case W::takes: return who ? subject(e, m, binding) : Formula::never();
    case W::inspects: {
      if (!who) return Formula::never();
      const auto& looked = protocol_[m.line].findings;
      if (e.finding && std::find(looked.begin(), looked.end(), e.finding) == looked.end()) return Formula::never();
      return subject(e, m, binding);
    }
    case W::found:
    case W::not_found: return e.finding == m.finding ? subject(e, m, binding) : Formula::never();
    case W::touches: return who ? subject(e, m, binding) : Formula::never();
    case W::hands_touch_unclean: return who ? world_.unclean(m.met) : Formula::never();
    case W::moves_to:
    case W::leaves: return who && e.zone == m.zone ? Formula::always() : Formula::never();
    case W::passes:
      return who && (!e.to_given || person_is(e.to, m.to, binding)) ? subject(e, m, binding) : Formula::never();
    case W::answered: return e.decision == m.decision && e.answer == m.answer ? Formula::always() : Formula::never();
    case W::declares: return who && e.mark == m.mark ? Formula::always() : Formula::never();
    case W::records: return who && e.record == m.record ? Formula::always() : Formula::never();
    case W::reports: return who && (!e.recipient || e.recipient == m.recipient) ? Formula::always() : Formula::never();
    case W::calls: return who ? Formula::always() : Formula::never();
    case W::timer_starts:
    case W::timer_stops: return e.timer == m.timer ? Formula::always() : Formula::never();
    case W::strikes: return e.interruption == m.interruption ? Formula::always() : Formula::never();
    case W::ending: return e.ending == m.ending ? Formula::always() : Formula::never();
    case W::any_ending: return Formula::always();
    case W::start:
    case W::does_line: return Formula::never();
  }
  return Formula::never();
}

Formula Matcher::binds_here(const Event& e, const Moment& m, const Binding& binding) const {
  if (binding.person && (e.what == Event::What::comes_off ? m.of : m.who) != binding.person) return Formula::never();
  const Formula about_it = binding.item ? is_among_things(m, binding.item) : Formula::always();
  return about_it.is_never() ? about_it : about_it & matches(e, m, binding);
}

std::vector<Binding> Matcher::bindings(const model::Rule& rule) const {
  const Binds needed = binds(rule);
  std::vector<Binding> out;
  std::vector<RoleId> persons = needed.person ? world_.people() : std::vector<RoleId>{RoleId()};
  for (RoleId p : persons) {
    if (!needed.item) { out.push_back({p, {}}); continue; }
    for (RoleId owner : world_.people())
      for (model::ItemId i : world_.wardrobe(owner)) {
        const Bearer b = world_.worn_bearer(owner, i);
        const bool wanted = std::any_of(rule.trigger.events.begin(), rule.trigger.events.end(), [&](const Event& e) { return item_is(e.subject, b, {}); });
        const bool listed = std::any_of(out.begin(), out.end(), [&](const Binding& have) { return have.person == p && have.item == i; });
        if (wanted && !listed) out.push_back({p, i});
      }
  }
  return out;
}

// ---------------------------------------------------------------- states

RoleId Matcher::person_of(const model::State& s, const Binding& binding) const {
  const Person& p = s.subject.has_of ? s.subject.of : s.who;
  if (p.what == PersonWhat::that_person && binding.person) return binding.person;
  if (p.what == PersonWhat::role && p.role) return p.role;
  return protocol_.acts;
}

std::vector<Bearer> Matcher::bearers(const Subject& s, RoleId person, const Binding& binding) const {
  std::vector<Bearer> out;
  if (s.what == SubjectWhat::site) out.push_back(world_.site_bearer(person, s.site));
  if (s.what == SubjectWhat::spot) out.push_back(world_.spot_bearer(s.spot));
  for (model::ItemId i : world_.wardrobe(person))
    if (const Bearer b = world_.worn_bearer(person, i); item_is(s, b, binding)) out.push_back(b);
  return out;
}

Formula Matcher::quality(const model::State& s, const Bearer& b) const {
  using Q = model::State::Quality;
  Formula out = s.quality == Q::clean || s.quality == Q::sterile ? Formula::always() : Formula::never();
  if (s.quality == Q::torn) {
    for (effects::FieldId f : world_.known_of(b, model::FindingMeans::barrier_broken)) out = out | Formula::is(f, effects::is_found);
    return out;
  }
  for (std::uint8_t part = 0; part < world_.parts_of(b); ++part) {
    const effects::SurfaceAt at{b, part};
    if (s.subject.part.empty() ? world_.is_inside(at) : world_.part_named(b.item, s.subject.part) != part) continue;
    switch (s.quality) {
      case Q::clean: out = out & world_.not_unclean(world_.level(at)); break;
      case Q::sterile: out = out & world_.sterile(world_.level(at)); break;
      case Q::soiled: out = out | Formula::is(world_.level(at), effects::kSoiled); break;
      case Q::wet: out = out | world_.is_wet(world_.wet(at)); break;
      case Q::torn: break;
    }
  }
  return out;
}

Formula Matcher::state(const model::State& s, const Binding& binding) const {
  using W = model::State::What;
  const RoleId person = person_of(s, binding);
  Formula out;
  switch (s.what) {
    case W::worn:
    case W::none_worn:
      for (const Bearer& b : bearers(s.subject, person, binding)) if (b.item) out = out | world_.is_worn(person, b.item);
      if (s.what == W::none_worn) out = world_.negate(out);
      break;
    case W::every_is:
      out = Formula::always();
      for (const Bearer& b : bearers(s.subject, person, binding))
        out = out & (quality(s, b) | (b.item ? world_.negate(world_.is_worn(person, b.item)) : Formula::never()));
      break;
    case W::is_level:
      if (s.subject.what == SubjectWhat::hands) {
        for (const effects::HandLayer& layer : world_.hands(person)) out = out | (layer.when & quality(s, layer.bearer));
      } else {
        out = Formula::always();
        for (const Bearer& b : bearers(s.subject, person, binding)) out = out & quality(s, b);
      }
      break;
    case W::in_zone: out = Formula::is(world_.zone(person), s.zone.value); break;
    case W::declared: out = Formula::is(world_.declared(s.mark), 1); break;
    case W::recorded: out = Formula::is(world_.recorded(s.record), 1); break;
    case W::answer: out = Formula::is(world_.answer(s.decision), s.answer + 1u); break;
    case W::hands_bare: if (auto layers = world_.hands(person); !layers.empty()) out = layers.back().when; break;
  }
  return s.negated ? world_.negate(out) : out;
}

Formula Matcher::holds(const model::States& states, const Binding& binding) const {
  Formula out = states.all ? Formula::always() : Formula::never();
  for (const model::State& s : states.states) out = states.all ? out & state(s, binding) : out | state(s, binding);
  return out;
}

}  // namespace stepward::rules
