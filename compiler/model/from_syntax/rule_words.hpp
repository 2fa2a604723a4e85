#pragma once
// The events and states of one rule: from words to what the rule memories are made of.
//
// A rule of a pack may name what this protocol does not have; how that is met is told in rules.cpp. A mistake anywhere
// in a rule makes it `failed`: its words were reported, and a rule that is half understood is worse than none.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {

/// Labels of one shape share a prefix: "who." for the doer, "s." for the thing, "s.of." for whose it is.
inline bool begins_with(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }
inline bool has_prefix(const Reading& reading, std::string_view prefix) {
  return std::any_of(reading.segments.begin(), reading.segments.end(),
                     [&](const Segment& segment) { return begins_with(segment.label, prefix); });
}

class RuleWords {
 public:
  /// What an event or state is there for: what asks, or what is asked for.
  enum class Part : std::uint8_t { head, trigger, before, require };

  /// Reads for `rule`, whose number is known.
  RuleWords(Context& context, const Place& place, const Rule& rule);

  /// Cuts a line, with names that may be missing here where the rule comes from a pack.
  std::optional<Reading> read(const Node& line, resolve::Frame Frames::*frame);
  /// Reads a whole line of events. False if it could not be read, or none of them can ever happen.
  bool read_events(const Node& line, Events& into, Part part);
  bool read_states(const Node& line, States& into, Part part);
  /// The events or states of some segments of a line, which must not be empty.
  Events events_of(const Node& line, const std::vector<Segment>& segments, Part part);
  States states_of(const Node& line, const std::vector<Segment>& segments, Part part);

  /// A rule in the protocol itself is about this protocol alone, and has to use its names.
  bool is_from_pack() const;
  /// Leaves the rule out, with a note, because this protocol has nothing called `missing`.
  void leave_out(const Node& line, const Segment& missing);
  void fail() { failed_ = true; }
  bool failed() const { return failed_; }
  bool left_out() const { return left_out_; }

 private:
  bool mixes(const Node& line, resolve::Frame Frames::*frame);
  template <class Slot>
  std::uint32_t enter(const Node& line, const Segment& segment, NameClass what, std::vector<Slot>& slots);
  std::uint8_t enter_answer(const Node& line, DecisionId decision, const Segment& segment);
  void settle_missing(const Node& line, const Segment& missing, Events& events, Part part);
  std::optional<Event> event_of(const Node& line, const Reading& reading, Part part, const Segment*& missing);
  void fill_names(const Node& line, const Reading& reading, Event& event);
  DecisionId decision_of(const Node& line, const Segment& segment);
  std::string known_line(const Node& line, const Segment& segment);
  void check_level(const Node& line, const Reading& reading, const Event& event, Part part);
  void refuse_level(source::Span at, Code code, const std::string& level);
  Person person_of(const Node& line, const Reading& reading, const std::string& prefix);
  Subject subject_of(const Node& line, const Reading& reading, const std::string& prefix);
  void check_part(const Node& line, const Reading& reading, const std::string& prefix, const Subject& subject);
  State state_of(const Node& line, const Reading& reading, Part part);
  void read_level(const Node& line, const Reading& reading, State& state, Part part);
  void settle_person(State& state, const Reading& reading, bool has_owner);
  void read_said(const Node& line, const Reading& reading, State& state);

  Context& context_;
  Protocol& protocol_;
  Place place_;
  const Rule& rule_;
  Segment missing_, free_;
  bool failed_ = false, left_out_ = false;
};

// The index of a name among `slots`, entered now if no line of this protocol brings it along.
template <class Slot>
std::uint32_t RuleWords::enter(const Node& line, const Segment& segment, NameClass what, std::vector<Slot>& slots) {
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

}  // namespace stepward::model::reading
