// Rules: sentences of one of six patterns, from all files.
//
// A pack serves several protocols, so a rule of an imported file may speak of a mark, a record, a decision or somebody
// reported to that this protocol never brings up: such a name is entered here, and nothing ever happens under it. An
// ending or an interruption that this protocol does not have cannot be entered without promising it; an event that
// names one can never happen, and a rule whose moment is such an event is left out with a note.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

bool begins_with(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

struct EventName { std::string_view label; Event::What what; };
constexpr EventName event_names[] = {
    {"takes_off", Event::What::takes_off}, {"puts_on", Event::What::puts_on}, {"comes_off", Event::What::comes_off},
    {"disinfects", Event::What::disinfects}, {"cleans", Event::What::cleans}, {"tests", Event::What::tests},
    {"inspects", Event::What::inspects}, {"found", Event::What::found}, {"not_found", Event::What::not_found},
    {"touches", Event::What::touches}, {"unclean", Event::What::hands_touch_unclean}, {"hands_touch", Event::What::touches},
    {"moves_to", Event::What::moves_to}, {"leaves", Event::What::leaves}, {"passes", Event::What::passes},
    {"takes", Event::What::takes}, {"answered", Event::What::answered}, {"declares", Event::What::declares},
    {"declared", Event::What::declares}, {"records", Event::What::records}, {"reports", Event::What::reports},
    {"calls", Event::What::calls}, {"does", Event::What::does_line}, {"strikes", Event::What::strikes},
    {"start", Event::What::start}, {"any_ending", Event::What::any_ending},
};

class RuleReader {
 public:
  RuleReader(Context& context, const Place& place) : context_(context), protocol_(context.protocol), place_(place) {}

  void run() {
    const Node& node = context_.node(place_);
    rule_.span = node.span;
    rule_.pack = place_.file;
    read_name(node);
    for (const NodeId child : node.children) read_line(context_.tree(place_)[child]);
    if (!failed_ && !left_out_) check(node);
    if (!failed_ && !left_out_) protocol_.rules.push_back(std::move(rule_));
  }

 private:
  // ---- the lines of a rule

  void read_name(const Node& node) {
    if (node.phrase.empty()) { context_.report(Code::N109, node.span); failed_ = true; return; }
    rule_.number = node.phrase[0].written;
    for (std::size_t at = 1; at < node.phrase.size(); ++at) {
      const bool comma = node.phrase[at].written == ",";
      rule_.name += (at > 1 && !comma ? " " : "") + node.phrase[at].written;
    }
    rule_.called = rule_.number + (rule_.name.empty() ? "" : " " + rule_.name);
    for (const Rule& other : protocol_.rules) {
      if (other.number != rule_.number) continue;
      context_.report(Code::N107, node.phrase[0].span, {rule_.number}).places.push_back({other.span, "declared first"});
    }
  }

  void read_line(const Node& line) {
    switch (line.kind) {
      case NodeKind::before_each: head(line, Pattern::before_each); break;
      case NodeKind::after_each: head(line, Pattern::after_each); break;
      case NodeKind::right_after_each: head(line, Pattern::right_after_each); break;
      case NodeKind::never: head(line, Pattern::never); break;
      case NodeKind::at_ending: read_ending(line); break;
      case NodeKind::require: read_require(line); break;
      case NodeKind::since: rule_.has_since = read_events(line, rule_.since, Part::trigger); has_since_ = true; break;
      case NodeKind::before: has_before_ = true; read_events(line, rule_.before, Part::before); break;
      case NodeKind::unless: rule_.has_unless = read_states(line, rule_.unless, Part::require); has_unless_ = true; break;
      case NodeKind::while_state: rule_.has_while = read_states(line, rule_.while_states, Part::trigger); has_while_ = true; break;
      case NodeKind::severity: read_severity(line); break;
      case NodeKind::because: {
        const auto reading = context_.read(line, context_.frames->text_alone);
        if (reading) rule_.because = quoted(line, *reading);
        has_because_ = true;
        break;
      }
      case NodeKind::source:
        if (const auto source = read_source(context_, line)) rule_.sources.push_back(*source);
        break;
      default: break;
    }
  }

  /// What an event or state is there for: what asks, or what is asked for.
  enum class Part : std::uint8_t { head, trigger, before, require };

  void head(const Node& line, Pattern pattern) {
    if (has_head_) { again(line); return; }
    has_head_ = true;
    head_span_ = line.span;
    rule_.pattern = pattern;
    read_events(line, rule_.trigger, Part::head);
  }

  void again(const Node& line) {
    context_.report(Code::N113, line.span, {"the moment of a rule"}).places.push_back({head_span_, "said first"});
    failed_ = true;
  }

  void read_ending(const Node& line) {
    if (has_head_) { again(line); return; }
    has_head_ = true;
    head_span_ = line.span;
    rule_.pattern = Pattern::at_ending;
    if (is_from_pack() && is_elsewhere(line)) return;
    const auto reading = read(line, &Frames::at_ending);
    if (!reading) return;
    rule_.any_ending = reading->has("any_ending");
    if (const Segment* ending = reading->find("ending")) rule_.ending = EndingId{ending->meaning.index};
    std::vector<Segment> states;
    for (const Segment& segment : reading->segments) {
      if (segment.label != "ending" && segment.label != "any_ending") states.push_back(segment);
    }
    const bool has_states = std::any_of(states.begin(), states.end(), [](const Segment& s) { return !s.label.empty(); });
    if (!has_states) return;
    has_require_ = true;
    rule_.at_end = states_of(line, states, Part::require);
  }

  /// True, and the rule left out, if what stands before `require` is no ending of this protocol. The name is not cut
  /// out by a frame: it may hold any words ("dressed and in").
  bool is_elsewhere(const Node& line) {
    Segment name;
    while (name.end < line.phrase.size() && line.phrase[name.end].text != "require") ++name.end;
    const std::string ending = words(line, name);
    if (ending.empty() || ending == "any ending") return false;
    if (context_.names.find(ending, resolve::only(NameClass::ending))) return false;
    leave_out(line, name);
    return true;
  }

  void read_require(const Node& line) {
    if (has_require_) {
      context_.report(Code::N113, line.span, {"require"});
      failed_ = true;
      return;
    }
    has_require_ = true;
    if (rule_.pattern == Pattern::at_ending && has_head_) { read_states(line, rule_.at_end, Part::require); return; }
    const auto reading = read(line, &Frames::events);
    if (!reading) return;
    std::vector<Segment> first, second;
    for (const Segment& segment : reading->segments) {
      if (segment.label == "then") { rule_.has_then = true; continue; }
      (rule_.has_then ? second : first).push_back(segment);
    }
    rule_.require = events_of(line, first, Part::require);
    if (rule_.has_then) rule_.then = events_of(line, second, Part::require);
  }

  void read_severity(const Node& line) {
    const auto reading = context_.read(line, context_.frames->severity);
    if (!reading) return;
    const std::string severity = words(line, *reading->find("severity"));
    rule_.severity = severity == "critical" ? Severity::critical : severity == "major" ? Severity::major : Severity::advisory;
    has_severity_ = true;
  }

  // ---- cutting, with names that may be missing here

  std::optional<Reading> read(const Node& line, resolve::Frame Frames::* frame) {
    resolve::Cut strict;
    if (context_.try_read(line, (*context_.frames).*frame, strict)) return std::move(strict.readings.front());
    if (strict.readings.empty() && is_from_pack()) {
      if (!context_.loose_frames) context_.loose_frames = std::make_unique<Frames>(context_.names, Frames::Names::may_be_missing);
      resolve::Cut loose;
      context_.try_read(line, (*context_.loose_frames).*frame, loose);
      if (auto reading = most_known(std::move(loose.readings))) return reading;
    }
    if (strict.readings.empty() && mixes(line, frame)) context_.report(Code::N127, line.span);
    else context_.explain(line, strict);
    failed_ = true;
    return std::nullopt;
  }

  /// The reading with the fewest words that nothing here is called by, if there is just one.
  static std::optional<Reading> most_known(std::vector<Reading> readings) {
    const auto unknown = [](const Reading& reading) {
      std::size_t count = 0;
      for (const Segment& segment : reading.segments) {
        if (begins_with(segment.label, "free.")) count += segment.end - segment.begin;
      }
      return count;
    };
    std::stable_sort(readings.begin(), readings.end(), [&](const auto& a, const auto& b) { return unknown(a) < unknown(b); });
    const bool clear = readings.size() == 1 || (readings.size() > 1 && unknown(readings[0]) < unknown(readings[1]));
    if (!clear) return std::nullopt;
    return std::move(readings.front());
  }

  /// Both joining words on a line that cannot be read: most likely that is what is wrong with it.
  bool mixes(const Node& line, resolve::Frame Frames::* frame) {
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
        if (context_.try_read(front, (*context_.frames).*frame, cut) && context_.try_read(back, (*context_.frames).*frame, cut)) return true;
      }
    }
    return false;
  }

  /// A rule in the protocol itself is about this protocol alone, and has to use its names.
  bool is_from_pack() const { return !context_.is_root(place_) || context_.tree(place_).file_kind != "protocol"; }

  /// The index of a name among `slots`, entered now if no line of this protocol brings it along.
  template <class Slot>
  std::uint32_t enter(const Node& line, const Segment& segment, NameClass what, std::vector<Slot>& slots) {
    const std::string name = words(line, segment);
    if (const auto* known = context_.names.find(name, resolve::only(what))) return known->meaning.index;
    Slot slot;
    slot.name = name;
    slot.called = "the " + name;
    slot.span = span_of(line, segment);
    const auto index = static_cast<std::uint32_t>(slots.size());
    context_.names.add(name, {what, index}, slot.span);
    slots.push_back(std::move(slot));
    return index;
  }

  std::uint8_t enter_answer(const Node& line, DecisionId decision, const Segment& segment) {
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

  void leave_out(const Node& line, const Segment& missing) {
    context_.report(Code::N608, span_of(line, missing), {rule_.number, words(line, missing)});
    left_out_ = true;
  }

  // ---- events

  bool read_events(const Node& line, Events& into, Part part) {
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

  Events events_of(const Node& line, const std::vector<Segment>& segments, Part part) {
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
      if (segment.label != "join") { one.push_back(segment); continue; }
      events.all = words(line, segment) == "and";
      close();
    }
    close();
    if (missing) settle_missing(line, *missing, events, part);
    return events;
  }

  /// Of alternatives, those that cannot happen here fall away; what is left decides whether the rule still says anything.
  void settle_missing(const Node& line, const Segment& missing, Events& events, Part part) {
    missing_ = missing;
    const bool never_happens = events.events.empty() || events.all;
    if (!never_happens) return;
    if (part == Part::trigger) { events.events.clear(); return; }   // `since` something that never comes
    leave_out(line, missing_);
  }

  std::optional<Event> event_of(const Node& line, const Reading& reading, Part part, const Segment*& missing) {
    Event event;
    event.span = span_of(line, reading.segments.front().begin, reading.segments.back().end);
    for (const char* label : {"free.ending", "free.interruption"}) {
      if (const Segment* free = reading.find(label)) { free_ = *free; missing = &free_; return std::nullopt; }
    }
    const auto* name = std::find_if(std::begin(event_names), std::end(event_names),
                                    [&](const EventName& n) { return reading.has(n.label); });
    event.what = name == std::end(event_names) ? Event::What::ending : name->what;
    event.by_hands = reading.has("hands_touch") || reading.has("unclean");
    if (reading.has("declared")) event.who.what = Person::What::anyone;
    else event.who = person_of(line, reading, "who.");
    event.subject = subject_of(line, reading, "s.");
    event.to_given = has_prefix(reading, "to.");
    if (event.to_given) event.to = person_of(line, reading, "to.");
    fill_names(line, reading, event);
    check_level(line, reading, event, part);
    return event;
  }

  static bool has_prefix(const Reading& reading, std::string_view prefix) {
    return std::any_of(reading.segments.begin(), reading.segments.end(),
                       [&](const Segment& segment) { return begins_with(segment.label, prefix); });
  }

  void fill_names(const Node& line, const Reading& reading, Event& event) {
    for (const Segment& segment : reading.segments) {
      const std::uint32_t index = segment.meaning.index;
      if (segment.label == "technique") event.technique = TechniqueId{index};
      if (segment.label == "agent") event.agent = AgentId{index};
      if (segment.label == "finding") event.finding = FindingId{index};
      if (segment.label == "zone") event.zone = ZoneId{index};
      if (segment.label == "ending") event.ending = EndingId{index};
      if (segment.label == "interruption") event.interruption = InterruptionId{index};
      if (segment.label == "line") event.line_id = known_line(line, segment);
      if (segment.label == "mark" || segment.label == "free.mark") event.mark = MarkId{enter(line, segment, NameClass::mark, protocol_.marks)};
      if (segment.label == "record" || segment.label == "free.record") event.record = RecordId{enter(line, segment, NameClass::record, protocol_.records)};
      if (segment.label == "recipient" || segment.label == "free.recipient") {
        event.recipient = RecipientId{enter(line, segment, NameClass::recipient, protocol_.recipients)};
      }
      if (segment.label == "decision" || segment.label == "free.decision") event.decision = decision_of(line, segment);
      if (segment.label == "answer" || segment.label == "free.answer") event.answer = enter_answer(line, event.decision, segment);
    }
  }

  DecisionId decision_of(const Node& line, const Segment& segment) {
    const DecisionId decision{enter(line, segment, NameClass::decision, protocol_.decisions)};
    context_.decision_asked.resize(protocol_.decisions.size());
    context_.decision_asked[decision.value] = true;
    return decision;
  }

  std::string known_line(const Node& line, const Segment& segment) {
    const std::string id = words(line, segment);
    const bool known = context_.names.find(id, resolve::only(NameClass::line)) || is_from_pack();
    if (!known) {
      auto& finding = context_.report(Code::N101, span_of(line, segment), {id});
      if (const auto near = resolve::nearest_name(context_.names, id, resolve::only(NameClass::line))) finding.fix = *near;
    }
    return id;
  }

  /// A dirtier world must never keep a rule better: *unclean* may ask, *clean* may be asked for, and not the reverse.
  void check_level(const Node& line, const Reading& reading, const Event& event, Part part) {
    if (const Segment* clean = reading.find("clean")) refuse_level(span_of(line, *clean), Code::N603, "clean");
    if (event.what == Event::What::hands_touch_unclean && part == Part::require) {
      refuse_level(event.span, Code::N604, "unclean");
    }
  }

  void refuse_level(source::Span at, Code code, const std::string& level) {
    context_.report(code, at, {level});
    failed_ = true;
  }

  // ---- persons and things

  Person person_of(const Node& line, const Reading& reading, const std::string& prefix) {
    Person person;
    bool given = false;
    for (const Segment& segment : reading.segments) {
      if (!begins_with(segment.label, prefix)) continue;
      const std::string_view label = segment.label.substr(prefix.size());
      if (label == "except" && segment.meaning.what == NameClass::role) { person.except.push_back(RoleId{segment.meaning.index}); continue; }
      const bool known = label == "role" || label == "anyone" || label == "someone" || label == "that" || label == "other";
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

  Subject subject_of(const Node& line, const Reading& reading, const std::string& prefix) {
    Subject subject;
    for (const Segment& segment : reading.segments) {
      if (!begins_with(segment.label, prefix)) continue;
      const std::string_view label = segment.label.substr(prefix.size());
      const std::uint32_t index = segment.meaning.index;
      if (!subject.span.file) subject.span = span_of(line, segment);
      subject.span.end = span_of(line, segment).end;
      if (label == "anyitem") { subject.what = Subject::What::any_item; subject.any = true; }
      if (label == "thatitem") subject.what = Subject::What::that_item;
      if (label == "otheritem") subject.what = Subject::What::any_other_item;
      if (label == "things") { subject.what = Subject::What::anything; subject.any = true; }
      if (label == "any") subject.any = true;
      if (label == "part") subject.part = words(line, segment);
      if (label == "except") {
        if (segment.meaning.what == NameClass::item) subject.except.push_back({ItemId{index}, {}});
        else subject.except.push_back({{}, KindId{index}});
      }
      if (label == "x") fill(subject, segment);
    }
    subject.has_of = has_prefix(reading, prefix + "of.");
    if (subject.has_of) subject.of = person_of(line, reading, prefix + "of.");
    check_part(line, reading, prefix, subject);
    return subject;
  }

  static void fill(Subject& subject, const Segment& segment) {
    const std::uint32_t index = segment.meaning.index;
    switch (segment.meaning.what) {
      case NameClass::item: subject.what = Subject::What::item; subject.item = ItemId{index}; break;
      case NameClass::kind: subject.what = Subject::What::kind; subject.kind = KindId{index}; break;
      case NameClass::site: subject.what = Subject::What::site; subject.site = SiteId{index}; break;
      case NameClass::spot: subject.what = Subject::What::spot; subject.spot = SpotId{index}; break;
      default: subject.what = Subject::What::hands; break;
    }
  }

  void check_part(const Node& line, const Reading& reading, const std::string& prefix, const Subject& subject) {
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

  bool read_states(const Node& line, States& into, Part part) {
    const auto reading = read(line, &Frames::states);
    if (!reading) return false;
    into = states_of(line, reading->segments, part);
    return true;
  }

  States states_of(const Node& line, const std::vector<Segment>& segments, Part part) {
    States states;
    states.span = span_of(line, segments.front().begin, segments.back().end);
    std::vector<Segment> one;
    for (const Segment& segment : segments) {
      if (segment.label != "join") { one.push_back(segment); continue; }
      states.all = words(line, segment) == "and";
      states.states.push_back(state_of(line, Reading{one}, part));
      one.clear();
    }
    states.states.push_back(state_of(line, Reading{one}, part));
    return states;
  }

  State state_of(const Node& line, const Reading& reading, Part part) {
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

  void read_level(const Node& line, const Reading& reading, State& state, Part part) {
    const std::string level = words(line, *reading.find("level"));
    state.quality = level == "clean"    ? State::Quality::clean
                    : level == "soiled" ? State::Quality::soiled
                    : level == "torn"   ? State::Quality::torn
                                        : State::Quality::wet;
    const Segment* any = reading.find("s.any") ? reading.find("s.any") : reading.find("s.anyitem");
    state.what = any && words(line, *any) == "every" ? State::What::every_is : State::What::is_level;
    const bool has_owner = state.subject.what == Subject::What::spot || state.subject.has_of;
    settle_person(state, reading, has_owner);
    const bool is_clean = state.quality == State::Quality::clean;
    if (is_clean && part != Part::require) refuse_level(state.span, Code::N603, "clean");
    if (!is_clean && part == Part::require) refuse_level(state.span, Code::N604, level);
  }

  /// A state without a person takes that of the rule's first event; `settle_states` fills it in once that is known.
  void settle_person(State& state, const Reading& reading, bool has_owner) {
    if (has_prefix(reading, "who.")) return;
    if (has_owner && state.subject.has_of) { state.who = state.subject.of; return; }
    if (has_owner) { state.who.what = Person::What::anyone; return; }
    state.who.what = Person::What::that_person;
    state.who.span = {};
  }

  void read_said(const Node& line, const Reading& reading, State& state) {
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
      if (segment.label == "answer" || segment.label == "free.answer") state.answer = enter_answer(line, state.decision, segment);
    }
  }

  // ---- the whole sentence

  void check(const Node& node) {
    check_complete(node);
    if (failed_ || left_out_) return;
    for (Event& event : rule_.trigger.events) bind_event(event, true);
    for (Events* events : {&rule_.require, &rule_.then, &rule_.since, &rule_.before}) {
      for (Event& event : events->events) bind_event(event, false);
    }
    for (States* states : {&rule_.unless, &rule_.while_states, &rule_.at_end}) {
      for (State& state : states->states) bind_state(state);
    }
  }

  void check_complete(const Node& node) {
    const auto needs = [&](bool there, const char* what) {
      if (there) return;
      context_.report(Code::N605, node.head.file ? span_of(node, 0, 1) : node.span, {rule_.number, what});
      failed_ = true;
    };
    const auto refuses = [&](bool there, const char* what) {
      if (!there) return;
      context_.report(Code::N606, head_span_, {what});
      failed_ = true;
    };
    needs(has_head_, "a moment: before each, after each, right after each, never or at");
    if (!has_head_) return;
    const Pattern p = rule_.pattern;
    if (p != Pattern::never) needs(has_require_, "\"require\"");
    if (p == Pattern::after_each) needs(has_before_, "\"before\"");
    else refuses(has_before_, "before");
    if (p != Pattern::before_each) refuses(has_since_, "since");
    if (p != Pattern::never) refuses(has_unless_ || has_while_, has_unless_ ? "unless" : "while");
    if (p == Pattern::never) refuses(has_require_, "require");
    if (p != Pattern::after_each) refuses(rule_.has_then, "then");
    if (has_unless_ && has_while_) refuses(true, "both unless and while");
    const auto should = [&](bool there, const char* what) {
      if (!there) context_.report(Code::N607, span_of(node, 0, 1), {rule_.number, what});
    };
    should(has_severity_, "its severity");
    should(has_because_, "because of what");
    should(!rule_.sources.empty(), "its source");
  }

  bool binds_person() const {
    return !rule_.trigger.events.empty() &&
           std::all_of(rule_.trigger.events.begin(), rule_.trigger.events.end(), [](const Event& event) {
             switch (event.what) {
               case Event::What::found:
               case Event::What::not_found:
               case Event::What::answered:
               case Event::What::strikes:
               case Event::What::start:
               case Event::What::ending:
               case Event::What::any_ending: return false;
               default: return event.who.what != Person::What::role || event.who.role;
             }
           });
  }
  bool binds_item() const {
    return !rule_.trigger.events.empty() &&
           std::all_of(rule_.trigger.events.begin(), rule_.trigger.events.end(), [](const Event& event) {
             const Subject::What what = event.subject.what;
             const bool has_subject = static_cast<bool>(event.subject.span.file);
             return has_subject && (what == Subject::What::any_item || what == Subject::What::kind || what == Subject::What::item);
           });
  }

  void bind_person(const Person& person, bool in_trigger) {
    const bool refers = person.what == Person::What::that_person || person.what == Person::What::any_other_person;
    if (!refers || !person.span.file) return;
    if (in_trigger || !binds_person()) unbound(person.span, "person");
  }

  void bind_subject(const Subject& subject, bool in_trigger) {
    const bool refers = subject.what == Subject::What::that_item || subject.what == Subject::What::any_other_item;
    if (refers && (in_trigger || !binds_item())) unbound(subject.span, "item");
    if (subject.has_of) bind_person(subject.of, in_trigger);
  }

  void unbound(source::Span at, const std::string& what) {
    context_.report(Code::N601, at, {what}).places.push_back({head_span_, "the first event"});
    failed_ = true;
  }

  void bind_event(Event& event, bool in_trigger) {
    bind_person(event.who, in_trigger);
    if (event.to_given) bind_person(event.to, in_trigger);
    bind_subject(event.subject, in_trigger);
  }

  void bind_state(State& state) {
    bind_subject(state.subject, false);
    const bool implied = state.who.what == Person::What::that_person && !state.who.span.file;
    if (!implied) { bind_person(state.who, false); return; }
    if (!binds_person()) {
      context_.report(Code::N602, state.span).places.push_back({head_span_, "the first event"});
      failed_ = true;
      return;
    }
    // One and the same role in every alternative is simply that role.
    const Person& first = rule_.trigger.events.front().who;
    const bool same_role = std::all_of(rule_.trigger.events.begin(), rule_.trigger.events.end(), [&](const Event& event) {
      return event.who.what == Person::What::role && first.what == Person::What::role && event.who.role == first.role;
    });
    if (same_role) state.who = first;
  }

  Context& context_;
  Protocol& protocol_;
  Place place_;
  Rule rule_;
  Segment missing_, free_;
  source::Span head_span_;
  bool has_head_ = false, has_require_ = false, has_since_ = false, has_before_ = false, has_unless_ = false,
       has_while_ = false, has_severity_ = false, has_because_ = false;
  bool failed_ = false, left_out_ = false;
};

}  // namespace

void read_rules(Context& context) {
  for (const Place& place : context.declared) {
    if (context.node(place).kind == NodeKind::rule) RuleReader(context, place).run();
  }
}

}  // namespace stepward::model::reading
