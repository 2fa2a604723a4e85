#pragma once
// Section 6: the events of rules as moments, and what each rule remembers of them.
//
// A moment is a list of facts that are true at one time; an event is met by a moment if one of its facts fits. A
// line's own moment is *asked* before the line changes anything and *happens* when it has; a touch and a found answer
// are asked and happen at once.

#include <string>
#include <vector>

#include "step.hpp"

namespace stepward::oracle {

/// One thing that is so at a moment. `doer` is who acts; `whose` the person whose item comes off, who is found on, or
/// to whom something is passed.
struct Fact {
  Event::What what = Event::What::does_line;
  RoleId doer;
  bool has_object = false;
  Object object;
  int part = whole;             ///< of a touch: the surface; else the part that the line names
  bool object_is_hand = false;  ///< the object is the doer's or owner's outermost hand layer
  bool is_unclean = false;      ///< of a touch: the surface before it
  RoleId to;
  TechniqueId technique;
  AgentId agent;
  FindingId finding;
  ZoneId zone;
  DecisionId decision;
  std::uint8_t answer = 0;
  MarkId mark;
  RecordId record;
  RecipientId recipient;
  InterruptionId interruption;
  EndingId ending;
  TimerId timer;
  const Line* line = nullptr;  ///< of a `does` fact
};
using Moment = std::vector<Fact>;

/// Tests every rule against the moment, in the world as it is.
void ask(Step& step, const Moment& moment);
/// Clears, then sets, what every rule remembers.
void happen(Step& step, const Moment& moment);
/// Asked and happens at once.
void at_once(Step& step, const Moment& moment);
/// Pattern 8: "asked after every line and every meeting".
void hold_always(Step& step);
/// Every rule under every binding.
struct RuleBinding {
  std::uint32_t index = 0;
  Binding binding;
};
std::vector<RuleBinding> all_rule_bindings(const Step& step);
/// Pattern 4: the line whose own moment this is is the next one of its doer.
void next_line(Step& step, const Moment& moment);
/// Pattern 4: "a normal ending tests too".
void nothing_follows(Step& step);
/// Section 3's meeting as a moment.
void touches(Step& step, RoleId who, const Surface& surface);

/// Whether a rule's events or states are met; in rule_events.cpp.
struct RuleView {
  const Case& c;
  const World& world;
  Binding binding;
  bool binds = false;  ///< true while the rule's first event is read: `anyone`, `any item` mean the binding
};
bool meets_event(const RuleView& view, const Event& event, const Moment& moment);
bool meets_events(const RuleView& view, const Events& events, const Moment& moment);
bool meets_states(const RuleView& view, const States& states);
bool binds_person(const Event& event);
bool binds_item(const Event& event);

}  // namespace stepward::oracle
