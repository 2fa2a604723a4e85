#include "model/from_syntax/rule_words.hpp"

#include <algorithm>

namespace stepward::model::reading {
namespace {

struct EventName {
  std::string_view label;
  Event::What what;
};
constexpr EventName event_names[] = {
    {"takes_off", Event::What::takes_off},
    {"puts_on", Event::What::puts_on},
    {"comes_off", Event::What::comes_off},
    {"disinfects", Event::What::disinfects},
    {"cleans", Event::What::cleans},
    {"tests", Event::What::tests},
    {"inspects", Event::What::inspects},
    {"found", Event::What::found},
    {"not_found", Event::What::not_found},
    {"touches", Event::What::touches},
    {"unclean", Event::What::hands_touch_unclean},
    {"hands_touch", Event::What::touches},
    {"moves_to", Event::What::moves_to},
    {"leaves", Event::What::leaves},
    {"passes", Event::What::passes},
    {"takes", Event::What::takes},
    {"answered", Event::What::answered},
    {"declares", Event::What::declares},
    {"declared", Event::What::declares},
    {"records", Event::What::records},
    {"reports", Event::What::reports},
    {"calls", Event::What::calls},
    {"does", Event::What::does_line},
    {"timer_starts", Event::What::timer_starts},
    {"timer_stops", Event::What::timer_stops},
    {"strikes", Event::What::strikes},
    {"start", Event::What::start},
    {"any_ending", Event::What::any_ending},
};

// The reading with the fewest words that nothing here is called by, if there is just one.
std::optional<Reading> most_known(std::vector<Reading> readings) {
  const auto unknown = [](const Reading& reading) {
    std::size_t count = 0;
    for (const Segment& segment : reading.segments) {
      if (begins_with(segment.label, "free.")) count += segment.end - segment.begin;
    }
    return count;
  };
  std::stable_sort(readings.begin(), readings.end(),
                   [&](const auto& a, const auto& b) { return unknown(a) < unknown(b); });
  const bool clear = readings.size() == 1 || (readings.size() > 1 && unknown(readings[0]) < unknown(readings[1]));
  if (!clear) return std::nullopt;
  return std::move(readings.front());
}

}  // namespace

RuleWords::RuleWords(Context& context, const Place& place, const Rule& rule)
    : context_(context), protocol_(context.protocol), place_(place), rule_(rule) {}

// ---- cutting, with names that may be missing here

std::optional<Reading> RuleWords::read(const Node& line, resolve::Frame Frames::*frame) {
  resolve::Cut strict;
  if (context_.try_read(line, (*context_.frames).*frame, strict)) return std::move(strict.readings.front());
  if (strict.readings.empty() && is_from_pack()) {
    resolve::Cut loose;
    context_.try_read(line, frames_of(Frames::Names::may_be_missing).*frame, loose);
    if (auto reading = most_known(std::move(loose.readings))) return reading;
  }
  if (strict.readings.empty() && mixes(line, frame))
    context_.report(Code::N127, line.span);
  else
    context_.explain(line, strict);
  failed_ = true;
  return std::nullopt;
}

// Both joining words on a line that cannot be read: most likely that is what is wrong with it.
bool RuleWords::mixes(const Node& line, resolve::Frame Frames::*frame) {
  const bool joins = frame == &Frames::events || frame == &Frames::states;
  const auto has = [&](std::string_view word) {
    return std::any_of(line.phrase.begin(), line.phrase.end(), [&](const syntax::Token& t) { return t.text == word; });
  };
  if (!joins || !has("and") || !has("or")) return false;
  for (const std::string_view word : {"and", "or"}) {
    for (std::size_t at = 1; at + 1 < line.phrase.size(); ++at) {
      if (line.phrase[at].text != word) continue;
      Node front = line, back = line;
      front.phrase.resize(at);
      back.phrase.erase(back.phrase.begin(), back.phrase.begin() + static_cast<std::ptrdiff_t>(at) + 1);
      resolve::Cut cut;
      if (context_.try_read(front, (*context_.frames).*frame, cut) &&
          context_.try_read(back, (*context_.frames).*frame, cut))
        return true;
    }
  }
  return false;
}

// A rule in the protocol itself is about this protocol alone, and has to use its names.
bool RuleWords::is_from_pack() const {
  return !context_.is_root(place_) || context_.tree(place_).file_kind != "protocol";
}

std::uint8_t RuleWords::enter_answer(const Node& line, DecisionId decision, const Segment& segment) {
  auto& answers = protocol_.decisions[decision.value].answers;
  const std::string answer = words(line, segment);
  const auto found = std::find(answers.begin(), answers.end(), answer);
  if (found != answers.end()) return static_cast<std::uint8_t>(found - answers.begin());
  // A decision that no line makes has the answers that rules give it.
  if (decision.value >= context_.decision_spans.size()) {
    answers.push_back(answer);
    return static_cast<std::uint8_t>(answers.size() - 1);
  }
  return answer_of(context_, line, decision, segment);
}

void RuleWords::leave_out(const Node& line, const Segment& missing) {
  context_.report(Code::N608, span_of(line, missing), {rule_.number, words(line, missing)});
  left_out_ = true;
}

// ---- events

bool RuleWords::read_events(const Node& line, Events& into, Part part) {
  const auto reading = read(line, &Frames::events);
  if (!reading) return false;
  std::vector<Segment> first;
  for (const Segment& segment : reading->segments) {
    if (segment.label == "then") {
      context_.report(Code::N103, span_of(line, segment), {"\"then\"", "the end of the line"});
      failed_ = true;
      return false;
    }
    first.push_back(segment);
  }
  into = events_of(line, first, part);
  return !into.events.empty();
}

Events RuleWords::events_of(const Node& line, const std::vector<Segment>& segments, Part part) {
  Events events;
  events.span = span_of(line, segments.front().begin, segments.back().end);
  std::vector<Segment> one;
  const Segment* missing = nullptr;
  const auto close = [&] {
    const auto event = event_of(line, Reading{one}, part, missing);
    if (event) events.events.push_back(*event);
    one.clear();
  };
  for (const Segment& segment : segments) {
    if (segment.label != "join") {
      one.push_back(segment);
      continue;
    }
    events.all = words(line, segment) == "and";
    close();
  }
  close();
  if (missing) settle_missing(line, *missing, events, part);
  return events;
}

// Of alternatives, those that cannot happen here fall away; what is left decides whether the rule still says anything.
void RuleWords::settle_missing(const Node& line, const Segment& missing, Events& events, Part part) {
  missing_ = missing;
  const bool never_happens = events.events.empty() || events.all;
  if (!never_happens) return;
  if (part == Part::trigger) {
    events.events.clear();
    return;
  }  // `since` something that never comes
  leave_out(line, missing_);
}

std::optional<Event> RuleWords::event_of(const Node& line, const Reading& reading, Part part, const Segment*& missing) {
  Event event;
  event.span = span_of(line, reading.segments.front().begin, reading.segments.back().end);
  for (const char* label : {"free.ending", "free.interruption"}) {
    if (const Segment* free = reading.find(label)) {
      free_ = *free;
      missing = &free_;
      return std::nullopt;
    }
  }
  const auto* name = std::find_if(std::begin(event_names), std::end(event_names),
                                  [&](const EventName& n) { return reading.has(n.label); });
  event.what = name == std::end(event_names) ? Event::What::ending : name->what;
  event.by_hands = reading.has("hands_touch") || reading.has("unclean");
  if (reading.has("declared"))
    event.who.what = Person::What::anyone;
  else
    event.who = person_of(line, reading, "who.");
  event.subject = subject_of(line, reading, "s.");
  event.to_given = has_prefix(reading, "to.");
  if (event.to_given) event.to = person_of(line, reading, "to.");
  fill_names(line, reading, event);
  check_level(line, reading, event, part);
  return event;
}

void RuleWords::fill_names(const Node& line, const Reading& reading, Event& event) {
  for (const Segment& segment : reading.segments) {
    const std::uint32_t index = segment.meaning.index;
    if (segment.label == "technique") event.technique = TechniqueId{index};
    if (segment.label == "agent") event.agent = AgentId{index};
    if (segment.label == "finding") event.finding = FindingId{index};
    if (segment.label == "zone") event.zone = ZoneId{index};
    if (segment.label == "ending") event.ending = EndingId{index};
    if (segment.label == "interruption") event.interruption = InterruptionId{index};
    if (segment.label == "line") event.line_id = known_line(line, segment);
    if (segment.label == "mark" || segment.label == "free.mark")
      event.mark = MarkId{enter(line, segment, NameClass::mark, protocol_.marks)};
    if (segment.label == "record" || segment.label == "free.record")
      event.record = RecordId{enter(line, segment, NameClass::record, protocol_.records)};
    if (segment.label == "recipient" || segment.label == "free.recipient") {
      event.recipient = RecipientId{enter(line, segment, NameClass::recipient, protocol_.recipients)};
    }
    if (segment.label == "timer" || segment.label == "free.timer")
      event.timer = TimerId{enter(line, segment, NameClass::timer, protocol_.timers)};
    if (segment.label == "decision" || segment.label == "free.decision") event.decision = decision_of(line, segment);
    if (segment.label == "answer" || segment.label == "free.answer")
      event.answer = enter_answer(line, event.decision, segment);
  }
}

DecisionId RuleWords::decision_of(const Node& line, const Segment& segment) {
  const DecisionId decision{enter(line, segment, NameClass::decision, protocol_.decisions)};
  context_.decision_asked.resize(protocol_.decisions.size());
  context_.decision_asked[decision.value] = true;
  return decision;
}

std::string RuleWords::known_line(const Node& line, const Segment& segment) {
  const std::string id = words(line, segment);
  const bool known = context_.names.find(id, resolve::only(NameClass::line)) || is_from_pack();
  if (!known) {
    auto& finding = context_.report(Code::N101, span_of(line, segment), {id});
    if (const auto near = resolve::nearest_name(context_.names, id, resolve::only(NameClass::line)))
      finding.fix = *near;
  }
  return id;
}

// A dirtier world must never keep a rule better: *unclean* may ask, *clean* may be asked for, and not the reverse.
void RuleWords::check_level(const Node& line, const Reading& reading, const Event& event, Part part) {
  if (const Segment* clean = reading.find("clean")) refuse_level(span_of(line, *clean), Code::N603, "clean");
  if (event.what == Event::What::hands_touch_unclean && part == Part::require) {
    refuse_level(event.span, Code::N604, "unclean");
  }
}

void RuleWords::refuse_level(source::Span at, Code code, const std::string& level) {
  context_.report(code, at, {level});
  failed_ = true;
}

}  // namespace stepward::model::reading
