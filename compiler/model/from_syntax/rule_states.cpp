// Of rules: whom and what an event is about, and the states that are asked of the world at its moment.

#include <algorithm>

#include "model/from_syntax/rule_words.hpp"

namespace stepward::model::reading {
namespace {

void fill(Subject& subject, const Segment& segment) {
  const std::uint32_t index = segment.meaning.index;
  switch (segment.meaning.what) {
    case NameClass::item:
      subject.what = Subject::What::item;
      subject.item = ItemId{index};
      break;
    case NameClass::kind:
      subject.what = Subject::What::kind;
      subject.kind = KindId{index};
      break;
    case NameClass::site:
      subject.what = Subject::What::site;
      subject.site = SiteId{index};
      break;
    case NameClass::spot:
      subject.what = Subject::What::spot;
      subject.spot = SpotId{index};
      break;
    default: subject.what = Subject::What::hands; break;
  }
}

}  // namespace

// ---- persons and things

Person RuleWords::person_of(const Node& line, const Reading& reading, const std::string& prefix) {
  Person person;
  bool given = false;
  for (const Segment& segment : reading.segments) {
    if (!begins_with(segment.label, prefix)) continue;
    const std::string_view label = segment.label.substr(prefix.size());
    if (label == "except" && segment.meaning.what == NameClass::role) {
      person.except.push_back(RoleId{segment.meaning.index});
      continue;
    }
    const bool known =
        label == "role" || label == "anyone" || label == "someone" || label == "that" || label == "other";
    if (!known || given) continue;
    given = true;
    person.span = span_of(line, segment);
    if (label == "role") person.role = RoleId{segment.meaning.index};
    if (label == "anyone") person.what = Person::What::anyone;
    if (label == "someone") person.what = Person::What::someone;
    if (label == "that") person.what = Person::What::that_person;
    if (label == "other") person.what = Person::What::any_other_person;
  }
  return person;
}

Subject RuleWords::subject_of(const Node& line, const Reading& reading, const std::string& prefix) {
  Subject subject;
  for (const Segment& segment : reading.segments) {
    if (!begins_with(segment.label, prefix)) continue;
    const std::string_view label = segment.label.substr(prefix.size());
    const std::uint32_t index = segment.meaning.index;
    if (!subject.span.file) subject.span = span_of(line, segment);
    subject.span.end = span_of(line, segment).end;
    if (label == "anyitem") {
      subject.what = Subject::What::any_item;
      subject.any = true;
    }
    if (label == "thatitem") subject.what = Subject::What::that_item;
    if (label == "otheritem") subject.what = Subject::What::any_other_item;
    if (label == "things") {
      subject.what = Subject::What::anything;
      subject.any = true;
    }
    if (label == "any") subject.any = true;
    if (label == "part") subject.part = words(line, segment);
    if (label == "except") {
      if (segment.meaning.what == NameClass::item)
        subject.except.push_back({ItemId{index}, {}});
      else
        subject.except.push_back({{}, KindId{index}});
    }
    if (label == "x") fill(subject, segment);
  }
  subject.has_of = has_prefix(reading, prefix + "of.");
  if (subject.has_of) subject.of = person_of(line, reading, prefix + "of.");
  check_part(line, reading, prefix, subject);
  return subject;
}

void RuleWords::check_part(const Node& line, const Reading& reading, const std::string& prefix,
                           const Subject& subject) {
  if (subject.part.empty()) return;
  const bool fits = subject.what == Subject::What::item ? part_of(protocol_[subject.item], subject.part).has_value()
                                                        : subject.what == Subject::What::kind;
  if (fits) return;
  const Segment* part = reading.find(prefix + "part");
  const Segment* x = reading.find(prefix + "x");
  context_.report(Code::N111, span_of(line, *part), {words(line, *x), subject.part});
  failed_ = true;
}

// ---- states

bool RuleWords::read_states(const Node& line, States& into, Part part) {
  const auto reading = read(line, &Frames::states);
  if (!reading) return false;
  into = states_of(line, reading->segments, part);
  return true;
}

States RuleWords::states_of(const Node& line, const std::vector<Segment>& segments, Part part) {
  States states;
  states.span = span_of(line, segments.front().begin, segments.back().end);
  std::vector<Segment> one;
  for (const Segment& segment : segments) {
    if (segment.label != "join") {
      one.push_back(segment);
      continue;
    }
    states.all = words(line, segment) == "and";
    states.states.push_back(state_of(line, Reading{one}, part));
    one.clear();
  }
  states.states.push_back(state_of(line, Reading{one}, part));
  return states;
}

State RuleWords::state_of(const Node& line, const Reading& reading, Part part) {
  State state;
  state.span = span_of(line, reading.segments.front().begin, reading.segments.back().end);
  state.subject = subject_of(line, reading, "s.");
  state.who = person_of(line, reading, "who.");
  state.negated = reading.has("not");
  if (reading.has("level")) {
    read_level(line, reading, state, part);
  } else if (reading.has("worn")) {
    state.what = reading.has("none") ? State::What::none_worn : State::What::worn;
    if (state.what == State::What::none_worn) state.subject.any = true;
    settle_person(state, reading, state.subject.has_of);
  } else if (reading.has("in")) {
    state.what = State::What::in_zone;
    state.zone = ZoneId{reading.find("zone")->meaning.index};
  } else if (reading.has("bare")) {
    state.what = State::What::hands_bare;
  } else {
    read_said(line, reading, state);
  }
  return state;
}

void RuleWords::read_level(const Node& line, const Reading& reading, State& state, Part part) {
  const std::string level = words(line, *reading.find("level"));
  state.quality = level == "clean"     ? State::Quality::clean
                  : level == "sterile" ? State::Quality::sterile
                  : level == "soiled" ? State::Quality::soiled
                  : level == "torn"   ? State::Quality::torn
                                      : State::Quality::wet;
  const Segment* any = reading.find("s.any") ? reading.find("s.any") : reading.find("s.anyitem");
  state.what = any && words(line, *any) == "every" ? State::What::every_is : State::What::is_level;
  const bool has_owner = state.subject.what == Subject::What::spot || state.subject.has_of;
  settle_person(state, reading, has_owner);
  const bool is_clean = state.quality == State::Quality::clean || state.quality == State::Quality::sterile;
  if (is_clean && part != Part::require) refuse_level(state.span, Code::N603, level);
  if (!is_clean && part == Part::require) refuse_level(state.span, Code::N604, level);
}

// A state without a person takes that of the rule's first event; `settle_states` fills it in once that is known.
void RuleWords::settle_person(State& state, const Reading& reading, bool has_owner) {
  if (has_prefix(reading, "who.")) return;
  if (has_owner && state.subject.has_of) {
    state.who = state.subject.of;
    return;
  }
  if (has_owner) {
    state.who.what = Person::What::anyone;
    return;
  }
  state.who.what = Person::What::that_person;
  state.who.span = {};
}

void RuleWords::read_said(const Node& line, const Reading& reading, State& state) {
  for (const Segment& segment : reading.segments) {
    if (segment.label == "mark" || segment.label == "free.mark") {
      state.what = State::What::declared;
      state.mark = MarkId{enter(line, segment, NameClass::mark, protocol_.marks)};
    }
    if (segment.label == "record" || segment.label == "free.record") {
      state.what = State::What::recorded;
      state.record = RecordId{enter(line, segment, NameClass::record, protocol_.records)};
    }
    if (segment.label == "decision" || segment.label == "free.decision") {
      state.what = State::What::answer;
      state.decision = decision_of(line, segment);
    }
    if (segment.label == "answer" || segment.label == "free.answer")
      state.answer = enter_answer(line, state.decision, segment);
  }
}

}  // namespace stepward::model::reading
