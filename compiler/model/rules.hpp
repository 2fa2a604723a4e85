#pragma once
// Rules: sentences that look back from a moment, each of one of nine closed patterns.
//
// The patterns are the published property patterns of Dwyer, Avrunin and Corbett (ICSE 1999) in ward words. A rule
// names events (moments) and states; both are closed lists. `that item` and `that person` refer to what the first
// event bound; `any` later than the first event means "some".

#include <string>
#include <vector>

#include "model/steps.hpp"

namespace stepward::model {

/// Who an event is about.
struct Person {
  enum class What : std::uint8_t { role, anyone, someone, that_person, any_other_person } what = What::role;
  RoleId role;
  std::vector<RoleId> except;
  source::Span span;
};

/// Which things an event is about.
struct Subject {
  enum class What : std::uint8_t { any_item, that_item, any_other_item, kind, item, site, spot, hands, anything } what = What::any_item;
  bool any = false;                      ///< written with `any` or `every`
  KindId kind; ItemId item; SiteId site; SpotId spot;
  std::string part;                      ///< a surface's name, or empty
  std::vector<ItemOrKind> except;
  bool has_of = false; Person of;
  source::Span span;
};

struct Event {
  enum class What : std::uint8_t {
    takes_off, puts_on, comes_off, disinfects, cleans, tests, inspects, found, not_found, touches, hands_touch_unclean,
    moves_to, leaves, passes, takes, answered, declares, records, reports, calls, does_line, timer_starts, timer_stops,
    strikes, start, ending, any_ending
  } what = What::takes_off;
  Person who;                            ///< where the event has a doer
  Subject subject;
  bool by_hands = false;                 ///< `hands of P touch S`
  bool to_given = false; Person to;      ///< passes
  TechniqueId technique; AgentId agent; FindingId finding; ZoneId zone;
  DecisionId decision; std::uint8_t answer = 0;
  MarkId mark; RecordId record; RecipientId recipient; InterruptionId interruption; EndingId ending; TimerId timer;
  std::string line_id;                   ///< does_line
  source::Span span;
};

struct State {
  enum class What : std::uint8_t { worn, none_worn, every_is, is_level, in_zone, declared, recorded, answer, hands_bare } what = What::worn;
  enum class Quality : std::uint8_t { clean, sterile, soiled, torn, wet } quality = Quality::clean;
  bool negated = false;
  Subject subject;
  Person who;
  ZoneId zone; MarkId mark; RecordId record; DecisionId decision; std::uint8_t answer = 0;
  source::Span span;
};

/// Alternatives or conjuncts; `all`: joined by `and`.
struct Events { std::vector<Event> events; bool all = false; source::Span span; };
struct States { std::vector<State> states; bool all = true; source::Span span; };

enum class Pattern : std::uint8_t {
  before_each, after_each, right_after_each, never, at_ending,
  within,   ///< 7: within d after each A require B
  always,   ///< 8: always S while T
  at_least  ///< 9: at least d between A and B
};
enum class Severity : std::uint8_t { critical, major, advisory };

struct Rule : Named {
  std::string number;                    ///< R01; the name follows
  Pattern pattern = Pattern::never;
  Events trigger;                        ///< A (before_each, right_after_each, never, within, at_least) or C (after_each)
  Events require;                        ///< B; of at_least: what must not come too soon
  bool has_then = false; Events then;    ///< D of `B then D`
  bool has_since = false; Events since;  ///< C of pattern 1
  Events before;                         ///< A of pattern 3
  Duration bound;                        ///< d of patterns 7 and 9
  bool has_unless = false; States unless;
  bool has_while = false; States while_states;  ///< pattern 8: T
  States always;                         ///< S of pattern 8
  EndingId ending; bool any_ending = false; States at_end;  ///< pattern 6
  Severity severity = Severity::major;
  std::string because;
  std::vector<Source> sources;
  std::uint32_t pack = 0;                ///< index into Protocol::packs
};

/// One rules file.
struct Pack {
  std::string title, number, version;
  bool standard = false;
  source::Span span;
  std::vector<std::string> declared;     ///< numbers of its rules, also of those that are left out here
};

}  // namespace stepward::model
