// Section 6: does this moment meet that event, does this world meet that state?
#include <algorithm>

#include "rule_memory.hpp"

namespace stepward::oracle {
namespace {

/// The one person of the first event that is bound: its doer, else whose thing it is, else to whom.
const Person* bound_person(const Event& event) {
  if (event.who.what == Person::What::anyone) return &event.who;
  if (event.subject.has_of && event.subject.of.what == Person::What::anyone) return &event.subject.of;
  if (event.to_given && event.to.what == Person::What::anyone) return &event.to;
  return nullptr;
}

bool is_excepted(const Person& person, RoleId who) {
  return std::find(person.except.begin(), person.except.end(), who) != person.except.end();
}

/// `who` none: the fact has no such person; then only a person that the event leaves open fits.
bool fits_person(const RuleView& view, const Event* bound_in, const Person& person, RoleId who) {
  switch (person.what) {
    case Person::What::role: return !person.role || person.role == who;
    case Person::What::anyone: {
      const bool is_bound = view.binds && bound_in != nullptr && bound_person(*bound_in) == &person;
      return who && !is_excepted(person, who) && (!is_bound || who == view.binding.person);
    }
    case Person::What::someone: return who && !is_excepted(person, who);
    case Person::What::that_person: return who && who == view.binding.person;
    case Person::What::any_other_person: return who && who != view.binding.person && !is_excepted(person, who);
  }
  return false;
}

bool is_excepted(const RuleView& view, const Subject& subject, ItemId item) {
  return std::any_of(subject.except.begin(), subject.except.end(),
                     [&](const ItemOrKind& entry) { return meets_need(view.c, entry, item); });
}

/// An item fits what the event says of items, `that item` and the rest included.
bool fits_item(const RuleView& view, const Subject& subject, ItemId item) {
  if (is_excepted(view, subject, item)) return false;
  const bool is_bound = view.binds && subject.any;
  switch (subject.what) {
    case Subject::What::any_item: return !view.binds || item == view.binding.item;
    case Subject::What::that_item: return item == view.binding.item;
    case Subject::What::any_other_item: return item != view.binding.item;
    case Subject::What::kind: return is_of_kind(view.c, item, subject.kind) && (!is_bound || item == view.binding.item);
    case Subject::What::item: return item == subject.item;
    case Subject::What::anything: return true;
    case Subject::What::site:
    case Subject::What::spot:
    case Subject::What::hands: return false;
  }
  return false;
}

bool fits_object(const RuleView& view, const Subject& subject, const Object& object, bool object_is_hand) {
  if (subject.what == Subject::What::anything) return true;
  if (subject.what == Subject::What::hands) return object_is_hand;
  switch (object.what) {
    case Object::What::item:
    case Object::What::fresh: return fits_item(view, subject, object.item());
    case Object::What::site: return subject.what == Subject::What::site && subject.site == object.site();
    case Object::What::spot:
      if (subject.what == Subject::What::kind) return view.c.protocol[object.spot()].made_of == subject.kind;
      return subject.what == Subject::What::spot && subject.spot == object.spot();
  }
  return false;
}

/// "Where an event names a thing without a part, disinfects, cleans, inspects and not found mean the whole of it, all
/// others any part; a named part is met by the whole thing, too."
bool fits_part(const RuleView& view, const Event& event, const Fact& fact) {
  if (event.subject.part.empty()) {
    const bool means_whole = event.what == Event::What::disinfects || event.what == Event::What::cleans ||
                             event.what == Event::What::inspects || event.what == Event::What::not_found;
    return !means_whole || fact.part == whole;
  }
  if (!fact.object.is_item()) return true;
  const int part = part_index(view.c, fact.object.item(), event.subject.part);
  return part >= 0 && (fact.part == part || (fact.part == whole && event.what != Event::What::touches));
}

bool fits_subject(const RuleView& view, const Event& event, const Fact& fact) {
  if (!fact.has_object || !fits_object(view, event.subject, fact.object, fact.object_is_hand)) return false;
  if (!fits_part(view, event, fact)) return false;
  // `hands` without `of` are those of the doer.
  if (event.subject.what == Subject::What::hands && !event.subject.has_of) return fact.object.who == fact.doer;
  // A fresh copy, a fixture or a surface is nobody's: `of P` does not narrow it.
  if (!event.subject.has_of || !fact.object.who) return true;
  return fits_person(view, &event, event.subject.of, fact.object.who);
}

/// "A set taken off is one moment: none of its items is *another item* to the others."
bool is_in_set_with_bound_item(const RuleView& view, const Event& event, const Moment& moment) {
  if (event.subject.what != Subject::What::any_other_item) return false;
  return std::any_of(moment.begin(), moment.end(), [&](const Fact& fact) {
    return fact.what == event.what && fact.has_object && fact.object.is_item() &&
           fact.object.item() == view.binding.item;
  });
}

bool fits_technique(const Event& event, const Fact& fact) {
  return !event.technique || event.technique == fact.technique;
}

bool fits_details(const RuleView& view, const Event& event, const Fact& fact) {
  switch (event.what) {
    case Event::What::takes_off: return fits_subject(view, event, fact) && fits_technique(event, fact);
    case Event::What::puts_on:
    case Event::What::comes_off:
    case Event::What::cleans:
    case Event::What::tests:
    case Event::What::touches:
    case Event::What::takes: return fits_subject(view, event, fact);
    case Event::What::disinfects: return fits_subject(view, event, fact) && (!event.agent || event.agent == fact.agent);
    case Event::What::inspects:
    case Event::What::found:
    case Event::What::not_found:
      return fits_subject(view, event, fact) && (!event.finding || event.finding == fact.finding);
    case Event::What::hands_touch_unclean: return fact.is_unclean;
    case Event::What::moves_to:
    case Event::What::leaves: return event.zone == fact.zone;
    case Event::What::passes:
      return fits_subject(view, event, fact) && (!event.to_given || fits_person(view, &event, event.to, fact.to));
    case Event::What::answered: return event.decision == fact.decision && event.answer == fact.answer;
    case Event::What::declares: return event.mark == fact.mark;
    case Event::What::records: return event.record == fact.record;
    case Event::What::reports: return !event.recipient || event.recipient == fact.recipient;
    case Event::What::timer_starts:
    case Event::What::timer_stops: return event.timer == fact.timer;
    case Event::What::strikes: return event.interruption == fact.interruption;
    case Event::What::ending: return event.ending == fact.ending;
    case Event::What::does_line:
    case Event::What::calls:
    case Event::What::start:
    case Event::What::any_ending: return true;
  }
  return false;
}

/// `hands of P touch anything unclean` and `any ending` are said of facts that have a name of their own.
bool is_about(const Event& event, const Fact& fact) {
  if (event.what == Event::What::hands_touch_unclean) return fact.what == Event::What::touches;
  if (event.what == Event::What::any_ending) return fact.what == Event::What::ending;
  return event.what == fact.what;
}

/// What the line is called; a `does` event names it.
bool is_line_called(const Line* line, const std::string& id) {
  return line != nullptr && (line->id == id || line->details.known_as == id);
}

}  // namespace

bool binds_person(const Event& event) { return bound_person(event) != nullptr; }

/// Whether such an event is about a thing at all; a timer or an answer is not.
bool has_subject(Event::What what) {
  switch (what) {
    case Event::What::takes_off: case Event::What::puts_on: case Event::What::comes_off: case Event::What::disinfects:
    case Event::What::cleans: case Event::What::tests: case Event::What::inspects: case Event::What::found:
    case Event::What::not_found: case Event::What::touches: case Event::What::passes: case Event::What::takes: return true;
    case Event::What::hands_touch_unclean: case Event::What::moves_to: case Event::What::leaves: case Event::What::answered:
    case Event::What::declares: case Event::What::records: case Event::What::reports: case Event::What::calls:
    case Event::What::does_line: case Event::What::timer_starts: case Event::What::timer_stops: case Event::What::strikes:
    case Event::What::start: case Event::What::ending: case Event::What::any_ending: return false;
  }
  return false;
}

bool binds_item(const Event& event) {
  if (!has_subject(event.what)) return false;
  return event.subject.what == Subject::What::any_item ||
         (event.subject.what == Subject::What::kind && event.subject.any);
}

bool meets_event(const RuleView& view, const Event& event, const Moment& moment) {
  if (is_in_set_with_bound_item(view, event, moment)) return false;
  return std::any_of(moment.begin(), moment.end(), [&](const Fact& fact) {
    return is_about(event, fact) && fits_person(view, &event, event.who, fact.doer) &&
           fits_details(view, event, fact) &&
           (event.what != Event::What::does_line || is_line_called(fact.line, event.line_id));
  });
}

bool meets_events(const RuleView& view, const Events& events, const Moment& moment) {
  const auto met = [&](const Event& event) { return meets_event(view, event, moment); };
  if (events.events.empty()) return false;
  return events.all ? std::all_of(events.events.begin(), events.events.end(), met)
                    : std::any_of(events.events.begin(), events.events.end(), met);
}

// ---------------------------------------------------------------- states

namespace {

using Quality = State::Quality;

bool has_quality(const RuleView& view, const Object& of, int part, Quality quality) {
  const Surfaces surfaces = all_but_insides(view.c, view.world, thing_part(of, part));
  const auto any = [&](auto test) { return std::any_of(surfaces.begin(), surfaces.end(), test); };
  switch (quality) {
    case Quality::clean: return !any([&](const Surface& s) { return is_unclean(view.world.level(s)); });
    case Quality::sterile: return !any([&](const Surface& s) { return view.world.level(s) != Level::sterile; });
    case Quality::soiled: return any([&](const Surface& s) { return view.world.level(s) == Level::soiled; });
    case Quality::wet: return any([&](const Surface& s) { return view.world.wet.count(s) > 0; });
    case Quality::torn:
      return std::any_of(view.world.known.begin(), view.world.known.end(), [&](const auto& entry) {
        return entry.first.of == of && entry.second == Known::found &&
               view.c.protocol[entry.first.finding].means == FindingMeans::barrier_broken;
      });
  }
  return false;
}

/// The worn items of `who` and `of` that the subject speaks of.
std::vector<Object> worn_things(const RuleView& view, const State& state) {
  std::vector<Object> things;
  for (const RoleId who : all_people(view.c)) {
    if (!fits_person(view, nullptr, state.who, who)) continue;
    if (state.subject.has_of && !fits_person(view, nullptr, state.subject.of, who)) continue;
    for (const ItemId item : worn_by(view.world, who)) {
      if (fits_item(view, state.subject, item)) things.push_back(worn_copy(who, item));
    }
  }
  return things;
}

/// "S is clean": every thing that the subject names.
bool is_level(const RuleView& view, const State& state) {
  std::vector<Object> things;
  if (state.subject.what == Subject::What::spot) things = {spot_object(state.subject.spot)};
  for (const RoleId who : all_people(view.c)) {
    if (!fits_person(view, nullptr, state.who, who)) continue;
    if (state.subject.has_of && !fits_person(view, nullptr, state.subject.of, who)) continue;
    if (state.subject.what == Subject::What::site) things.push_back(body_site(who, state.subject.site));
    if (state.subject.what == Subject::What::hands) things.push_back(hand_of(view.c, view.world, who).layer);
  }
  for (const Object& worn : worn_things(view, state)) things.push_back(worn);
  return std::all_of(things.begin(), things.end(), [&](const Object& thing) {
    const int part =
        state.subject.part.empty() || !thing.is_item() ? whole : part_index(view.c, thing.item(), state.subject.part);
    return has_quality(view, thing, part, state.quality);
  });
}

bool any_person(const RuleView& view, const Person& person, bool (*test)(const RuleView&, RoleId, const State&),
                const State& state) {
  const std::vector<RoleId> people = all_people(view.c);
  return std::any_of(people.begin(), people.end(),
                     [&](RoleId who) { return fits_person(view, nullptr, person, who) && test(view, who, state); });
}

bool is_in_zone(const RuleView& view, RoleId who, const State& state) {
  const auto place = view.world.place.find(who);
  return place != view.world.place.end() && place->second == state.zone;
}

bool has_bare_hands(const RuleView& view, RoleId who, const State&) { return hand_of(view.c, view.world, who).bare; }

bool holds_plainly(const RuleView& view, const State& state) {
  switch (state.what) {
    case State::What::worn: return !worn_things(view, state).empty();
    case State::What::none_worn: return worn_things(view, state).empty();
    case State::What::every_is: {
      const std::vector<Object> things = worn_things(view, state);
      return std::all_of(things.begin(), things.end(),
                         [&](const Object& thing) { return has_quality(view, thing, whole, state.quality); });
    }
    case State::What::is_level: return is_level(view, state);
    case State::What::in_zone: return any_person(view, state.who, is_in_zone, state);
    case State::What::declared: return view.world.declared.count(state.mark) > 0;
    case State::What::recorded: return view.world.recorded.count(state.record) > 0;
    case State::What::answer: {
      const auto answer = view.world.answers.find(state.decision);
      return answer != view.world.answers.end() && answer->second == state.answer;
    }
    case State::What::hands_bare:
      return any_person(view, state.subject.has_of ? state.subject.of : state.who, has_bare_hands, state);
  }
  return false;
}

}  // namespace

bool meets_states(const RuleView& view, const States& states) {
  RuleView later = view;
  later.binds = false;
  const auto met = [&](const State& state) { return holds_plainly(later, state) != state.negated; };
  return states.all ? std::all_of(states.states.begin(), states.states.end(), met)
                    : std::any_of(states.states.begin(), states.states.end(), met);
}

}  // namespace stepward::oracle
