// Rules: sentences of one of nine patterns, from all files.
//
// A pack serves several protocols, so a rule of an imported file may speak of a mark, a record, a decision or somebody
// reported to that this protocol never brings up: such a name is entered here, and nothing ever happens under it. An
// ending or an interruption that this protocol does not have cannot be entered without promising it; an event that
// names one can never happen, and a rule whose moment is such an event is left out with a note.

#include <algorithm>

#include "model/from_syntax/rule_words.hpp"

namespace stepward::model::reading {
namespace {

class RuleReader {
 public:
  RuleReader(Context& context, const Place& place)
      : context_(context), protocol_(context.protocol), place_(place), words_(context, place, rule_) {}

  void run() {
    const Node& node = context_.node(place_);
    rule_.span = node.span;
    rule_.pack = place_.file;
    read_name(node);
    for (const NodeId child : node.children) read_line(context_.tree(place_)[child]);
    if (is_whole()) check(node);
    if (is_whole()) protocol_.rules.push_back(std::move(rule_));
  }

 private:
  using Part = RuleWords::Part;

  bool is_whole() const { return !words_.failed() && !words_.left_out(); }

  // ---- the lines of a rule

  void read_name(const Node& node) {
    if (node.phrase.empty()) {
      context_.report(Code::N109, node.span);
      words_.fail();
      return;
    }
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
      case NodeKind::within: read_timed(line, Pattern::within, &Frames::within); break;
      case NodeKind::at_least: read_timed(line, Pattern::at_least, &Frames::at_least); break;
      case NodeKind::always: read_always(line); break;
      case NodeKind::require: read_require(line); break;
      case NodeKind::since:
        rule_.has_since = words_.read_events(line, rule_.since, Part::trigger);
        has_since_ = true;
        break;
      case NodeKind::before:
        has_before_ = true;
        words_.read_events(line, rule_.before, Part::before);
        break;
      case NodeKind::unless:
        rule_.has_unless = words_.read_states(line, rule_.unless, Part::require);
        has_unless_ = true;
        break;
      case NodeKind::while_state:
        rule_.has_while = words_.read_states(line, rule_.while_states, Part::trigger);
        has_while_ = true;
        break;
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

  /// A rule has one moment, and with it one pattern: false, and told, where a second one is said.
  bool begins(const Node& line, Pattern pattern) {
    if (has_head_) {
      context_.report(Code::N113, line.span, {"the moment of a rule"}).places.push_back({head_span_, "said first"});
      words_.fail();
      return false;
    }
    has_head_ = true;
    head_span_ = line.span;
    rule_.pattern = pattern;
    return true;
  }

  void head(const Node& line, Pattern pattern) {
    if (!begins(line, pattern)) return;
    words_.read_events(line, rule_.trigger, Part::head);
  }

  /// Patterns 7 and 9: a length of time, and the event that it is counted from; of pattern 9 also the one it ends with.
  void read_timed(const Node& line, Pattern pattern, resolve::Frame Frames::*frame) {
    if (!begins(line, pattern)) return;
    const auto reading = words_.read(line, frame);
    if (!reading) return;
    rule_.bound = duration_of(context_, line, *reading);
    std::vector<Segment> first, second;
    bool is_second = false;
    for (const Segment& segment : reading->segments) {
      if (segment.label == "then") is_second = true;
      if (segment.label.empty() || segment.label == "then" || segment.label == "amount" || segment.label == "unit") continue;
      (is_second ? second : first).push_back(segment);
    }
    rule_.trigger = words_.events_of(line, first, Part::head);
    if (pattern != Pattern::at_least) return;
    has_require_ = true;
    rule_.require = words_.events_of(line, second, Part::before);
  }

  void read_always(const Node& line) {
    if (!begins(line, Pattern::always)) return;
    words_.read_states(line, rule_.always, Part::require);
  }

  void read_ending(const Node& line) {
    if (!begins(line, Pattern::at_ending)) return;
    if (words_.is_from_pack() && is_elsewhere(line)) return;
    const auto reading = words_.read(line, &Frames::at_ending);
    if (!reading) return;
    rule_.any_ending = reading->has("any_ending");
    if (const Segment* ending = reading->find("ending")) rule_.ending = EndingId{ending->meaning.index};
    std::vector<Segment> states;
    for (const Segment& segment : reading->segments) {
      if (segment.label != "ending" && segment.label != "any_ending") states.push_back(segment);
    }
    const bool has_states =
        std::any_of(states.begin(), states.end(), [](const Segment& s) { return !s.label.empty(); });
    if (!has_states) return;
    has_require_ = true;
    rule_.at_end = words_.states_of(line, states, Part::require);
  }

  /// True, and the rule left out, if what stands before `require` is no ending of this protocol. The name is not cut
  /// out by a frame: it may hold any words ("dressed and in").
  bool is_elsewhere(const Node& line) {
    Segment name;
    while (name.end < line.phrase.size() && line.phrase[name.end].text != "require") ++name.end;
    const std::string ending = words(line, name);
    if (ending.empty() || ending == "any ending") return false;
    if (context_.names.find(ending, resolve::only(NameClass::ending))) return false;
    words_.leave_out(line, name);
    return true;
  }

  void read_require(const Node& line) {
    if (rule_.pattern == Pattern::at_least && has_head_) {
      has_second_require_ = true;
      return;
    }
    if (has_require_) {
      context_.report(Code::N113, line.span, {"require"});
      words_.fail();
      return;
    }
    has_require_ = true;
    if (rule_.pattern == Pattern::at_ending && has_head_) {
      words_.read_states(line, rule_.at_end, Part::require);
      return;
    }
    const auto reading = words_.read(line, &Frames::events);
    if (!reading) return;
    std::vector<Segment> first, second;
    for (const Segment& segment : reading->segments) {
      if (segment.label == "then") {
        rule_.has_then = true;
        continue;
      }
      (rule_.has_then ? second : first).push_back(segment);
    }
    rule_.require = words_.events_of(line, first, Part::require);
    if (rule_.has_then) rule_.then = words_.events_of(line, second, Part::require);
  }

  void read_severity(const Node& line) {
    const auto reading = context_.read(line, context_.frames->severity);
    if (!reading) return;
    const std::string severity = words(line, *reading->find("severity"));
    rule_.severity = severity == "critical" ? Severity::critical
                     : severity == "major"  ? Severity::major
                                            : Severity::advisory;
    has_severity_ = true;
  }

  // ---- the whole sentence

  void check(const Node& node) {
    check_complete(node);
    if (!is_whole()) return;
    for (Event& event : rule_.trigger.events) bind_event(event, true);
    for (Events* events : {&rule_.require, &rule_.then, &rule_.since, &rule_.before}) {
      for (Event& event : events->events) bind_event(event, false);
    }
    for (States* states : {&rule_.unless, &rule_.while_states, &rule_.always, &rule_.at_end}) {
      for (State& state : states->states) bind_state(state);
    }
  }

  void check_complete(const Node& node) {
    const auto needs = [&](bool there, const char* what) {
      if (there) return;
      context_.report(Code::N605, node.head.file ? span_of(node, 0, 1) : node.span, {rule_.number, what});
      words_.fail();
    };
    const auto refuses = [&](bool there, const char* what) {
      if (!there) return;
      context_.report(Code::N606, head_span_, {what});
      words_.fail();
    };
    needs(has_head_, "a moment, such as \"before each\"");
    if (!has_head_) return;
    const Pattern p = rule_.pattern;
    if (p != Pattern::never && p != Pattern::always) needs(has_require_, "\"require\"");
    if (p == Pattern::after_each)
      needs(has_before_, "\"before\"");
    else
      refuses(has_before_, "before");
    if (p != Pattern::before_each) refuses(has_since_, "since");
    if (p != Pattern::never) refuses(has_unless_, "unless");
    if (p != Pattern::never && p != Pattern::always) refuses(has_while_, "while");
    if (p == Pattern::never || p == Pattern::always) refuses(has_require_, "require");
    if (p == Pattern::at_least) refuses(has_second_require_, "require");
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
               case Event::What::timer_starts:
               case Event::What::timer_stops:
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
             return has_subject &&
                    (what == Subject::What::any_item || what == Subject::What::kind || what == Subject::What::item);
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
    words_.fail();
  }

  void bind_event(Event& event, bool in_trigger) {
    bind_person(event.who, in_trigger);
    if (event.to_given) bind_person(event.to, in_trigger);
    bind_subject(event.subject, in_trigger);
  }

  void bind_state(State& state) {
    bind_subject(state.subject, false);
    const bool implied = state.who.what == Person::What::that_person && !state.who.span.file;
    if (!implied) {
      bind_person(state.who, false);
      return;
    }
    if (!binds_person()) {
      context_.report(Code::N602, state.span).places.push_back({head_span_, "the first event"});
      words_.fail();
      return;
    }
    // One and the same role in every alternative is simply that role.
    const Person& first = rule_.trigger.events.front().who;
    const bool same_role =
        std::all_of(rule_.trigger.events.begin(), rule_.trigger.events.end(), [&](const Event& event) {
          return event.who.what == Person::What::role && first.what == Person::What::role &&
                 event.who.role == first.role;
        });
    if (same_role) state.who = first;
  }

  Context& context_;
  Protocol& protocol_;
  Place place_;
  Rule rule_;
  RuleWords words_;
  source::Span head_span_;
  bool has_head_ = false, has_require_ = false, has_second_require_ = false, has_since_ = false, has_before_ = false, has_unless_ = false,
       has_while_ = false, has_severity_ = false, has_because_ = false;
};

}  // namespace

void read_rules(Context& context) {
  for (const Place& place : context.declared) {
    const Node& node = context.node(place);
    if (node.kind != NodeKind::rule) continue;
    if (!node.phrase.empty()) context.protocol.packs[place.file].declared.push_back(node.phrase[0].written);
    RuleReader(context, place).run();
  }
}

}  // namespace stepward::model::reading
