#pragma once
// One protocol with everything it uses, all names resolved: what the graph, the oracle and the papers are built from.
//
// Invariants once `from_syntax` has reported no error: every id is in range; every thing has exactly one meaning; every
// line has a doer; routine calls are expanded in place; variant choices are still open.

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "model/rules.hpp"
#include "model/tongue.hpp"

namespace stepward::model {

struct Signature { std::string name, office, date; };
struct DocumentControl {
  std::string title, number, version, status;
  std::vector<Signature> written_by, reviewed_by, approved_by;
  std::string in_force_from, review_due, replaces, applies_to;  ///< dates as ISO 8601, empty when missing
  std::vector<std::string> languages;
  bool marks_weak_points = false;        ///< papers mark as critical where one slip alone comes to harm
  source::Span span;
};

/// A print-time choice. A value is an item, or a bare word that only `only for` asks for.
struct ChoiceOption { std::string name; ItemId item; };
struct Choice : Named {
  std::vector<ChoiceOption> values;
  VariantCondition only_for;             ///< the choice is open only then; else it has no value
};
struct Exclusion { VariantCondition together; std::string because; source::Span span; };

/// One combination: for each choice the index of its value, or -1 where the choice is not open.
using Variant = std::vector<int>;

struct Wearing { Thing thing; VariantCondition only_for; };
struct PersonStart {
  RoleId role; ZoneId zone;
  std::vector<Wearing> wearing;          ///< from the inside out
  bool ends_dressed = false; std::string continue_with;
};

struct Ending : Named {
  bool normal = true;
  std::string continue_with;
  struct Where { RoleId who; ZoneId zone; source::Span span; };
  struct Wears { RoleId who; std::vector<Wearing> wearing; source::Span span; };
  std::vector<Where> where;
  std::vector<Wears> wears;              ///< beyond what stays on; nobody named: nothing else is worn
  std::vector<Thing> clean;
};

struct StockLine { std::uint32_t count = 0; Thing thing; source::Span span; };

/// A line of the register of copies: what hangs where. It is printed on the recall list and nowhere else, so that a copy more makes no
/// card stale.
struct Copy {
  std::uint32_t count = 0;
  std::string paper;                     ///< as it is named: "breach card"
  std::string place;
  VariantCondition variant;              ///< enough values to name one; none: a paper that is made once
  std::string language;                  ///< empty: as the protocol is written
  std::string version, since, bearing;   ///< of what hangs there: its version, the day (ISO 8601), its check words; each may be empty
  source::Span span, paper_span, bearing_span, language_span;
};

/// What wraps every line of the acting person.
struct Rhythm { bool given = false; RoleId reads, repeats, acts, confirms; source::Span span; };

/// What somebody agreed to: why, who, and until when (ISO 8601; empty when missing).
struct Agreement { std::string reason; Signature by; std::string until; };

/// A rule whose breaches inside some phases and routines are listed instead of failed.
struct SetAside {
  RuleId rule;                           ///< none: the pack's rule is not for this protocol
  std::string number;                    ///< of the rule
  std::vector<std::string> places;       ///< as they are named
  std::vector<BlockId> blocks;           ///< the phase's lines; those of a routine at each of its calls
  Agreement agreement;
  bool is_over = false;                  ///< its day is past
  source::Span span;
};

/// A step of a routine that this protocol changes for itself.
struct LocalChange {
  enum class What : std::uint8_t { replace, add_after, leave_out } what = What::replace;
  RoutineId routine;
  std::string at;                        ///< the step's id in the routine
  Agreement agreement;
  bool is_overdue = false;               ///< the day to look again is past
  std::uint32_t calls = 0;               ///< how often the step stands in this protocol
  source::Span span;
  source::Span step;                     ///< the step as the routine has it
};

/// How somebody may slip at a line; graph/slip_ways.hpp says what each means.
enum class SlipKind : std::uint8_t { left_out, done_early, cut_short, clumsy, tears, overlooked };
inline constexpr std::array all_slip_kinds{SlipKind::left_out, SlipKind::done_early, SlipKind::cut_short, SlipKind::clumsy, SlipKind::tears, SlipKind::overlooked};

/// Slips at one line that somebody has looked at and answers for. What comes of them stays what it is: the report of slips
/// tells them apart from what is open, and no check knows of them.
struct AnsweredSlip {
  std::vector<SlipKind> kinds;           ///< in the order of the enumeration, each once; none: every slip of the line
  std::string line;                      ///< what the line is called in its place
  std::string place;                     ///< the phase, routine or interruption that it stands in, as that is named
  std::vector<LineId> lines;             ///< of one line of the source: one for each call of a routine
  Agreement agreement;
  bool is_over = false;                  ///< its day is past: its slips are open again
  source::Span span;

  bool is_about(SlipKind kind) const { return kinds.empty() || std::find(kinds.begin(), kinds.end(), kind) != kinds.end(); }
};

enum class HandReading : std::uint8_t { ordinary, perfect };

struct Protocol {
  DocumentControl document;
  Tongue tongue;                         ///< what its papers speak
  HandReading reading = HandReading::ordinary;

  std::vector<Zone> zones;
  std::vector<Role> roles;
  std::vector<Site> sites;
  std::vector<Kind> kinds;
  std::vector<Finding> findings;
  std::vector<Spot> spots;
  std::vector<Supply> supplies;
  std::vector<Item> items;
  std::vector<Agent> agents;
  std::vector<Technique> techniques;
  std::vector<VerbWording> verb_wordings;

  std::vector<Choice> choices;
  std::vector<Exclusion> exclusions;
  std::vector<PersonStart> people;       ///< only these persons take part
  RoleId acts;                           ///< who acts unless a line names someone else
  AgentId usual_agent;                   ///< what disinfects unless a line names another; none: every line names one
  source::Span usual_agent_said;         ///< where
  std::vector<Ending> endings;
  std::vector<StockLine> stock;
  std::vector<Copy> copies;
  Rhythm rhythm;

  std::vector<Decision> decisions;
  std::vector<Mark> marks;
  std::vector<Record> records;
  std::vector<Recipient> recipients;
  std::vector<Timer> timers;

  std::vector<Line> lines;
  std::vector<Block> blocks;
  std::vector<OpenOrder> open_orders;    ///< in the order in which they are read: an inner one before what is around it
  std::vector<Phase> phases;
  std::vector<Routine> routines;
  std::vector<Interruption> interruptions;

  std::vector<Pack> packs;
  std::vector<Rule> rules;

  std::vector<SetAside> set_aside;
  std::vector<LocalChange> local_changes;
  std::vector<AnsweredSlip> answered_slips;

  const Zone& operator[](ZoneId i) const { return zones[i.value]; }
  const Role& operator[](RoleId i) const { return roles[i.value]; }
  const Site& operator[](SiteId i) const { return sites[i.value]; }
  const Kind& operator[](KindId i) const { return kinds[i.value]; }
  const Finding& operator[](FindingId i) const { return findings[i.value]; }
  const Spot& operator[](SpotId i) const { return spots[i.value]; }
  const Supply& operator[](SupplyId i) const { return supplies[i.value]; }
  const Item& operator[](ItemId i) const { return items[i.value]; }
  const Agent& operator[](AgentId i) const { return agents[i.value]; }
  const Technique& operator[](TechniqueId i) const { return techniques[i.value]; }
  const Choice& operator[](ChoiceId i) const { return choices[i.value]; }
  const Ending& operator[](EndingId i) const { return endings[i.value]; }
  const Decision& operator[](DecisionId i) const { return decisions[i.value]; }
  const Timer& operator[](TimerId i) const { return timers[i.value]; }
  const Line& operator[](LineId i) const { return lines[i.value]; }
  const Block& operator[](BlockId i) const { return blocks[i.value]; }
  const Routine& operator[](RoutineId i) const { return routines[i.value]; }
  const Interruption& operator[](InterruptionId i) const { return interruptions[i.value]; }
  const Rule& operator[](RuleId i) const { return rules[i.value]; }
};

}  // namespace stepward::model
