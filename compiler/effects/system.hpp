#pragma once
// The effects of a protocol: the only thing that the walk knows.
//
// A *system* is a set of small fields (a level, worn or not, what a look found…), and for every node of the step graph
// the edges that leave it. An edge is a guard and a list of operations on fields. There are seven operations and one
// kind of guard, on purpose: the list can be printed, read aloud, simplified mechanically, and written out for a model
// checker from outside. No operation knows a glove, a rule or a word.
//
// Worked example. "take off plastic apron using break and roll", gloves on, hands may carry:
//
//   report P401            when worn(coat) and above(coat, apron)      the apron is locked
//   lift  hand, outside of outer gloves                                 how dirty the hand is
//   lift  met,  neck band of plastic apron                              how dirty the band is
//   lift_suspect neck band, hand                                        the band takes it on
//   lift_suspect outside of outer gloves, met                           and the hand the band's
//   set   worn(plastic apron) := 0
//
// `hand` and `met` are scratch fields: empty at the start of every edge, never stored.
//
// Ownership: the system owns everything in flat vectors. Invariants: a field's values lie in 0…maximum; a guard is a
// disjunction of conjunctions of "field is one of these values" over fields of at most 32 values; the first edges of a
// crossing that holds is taken, while every edge of a standing place that holds is followed.

#include <cstdint>
#include <string>
#include <vector>

#include "base/few.hpp"
#include "diagnostics/diagnostic.hpp"
#include "effects/field_set.hpp"
#include "graph/graph.hpp"
#include "graph/slip_ways.hpp"

namespace stepward::effects {

struct FieldTag; struct GuardTag; struct ReportTag; struct MomentTag; struct EdgeTag;
using FieldId = Id<FieldTag>;
using GuardId = Id<GuardTag>;
using ReportId = Id<ReportTag>;
using MomentId = Id<MomentTag>;
using EdgeId = Id<EdgeTag>;

/// What bears surfaces.
struct Bearer {
  enum class What : std::uint8_t { worn, fresh, site, spot } what = What::worn;
  model::RoleId person;  ///< worn, site
  model::ItemId item;    ///< worn, fresh
  model::SiteId site;
  model::SpotId spot;
  friend bool operator==(const Bearer&, const Bearer&) = default;
  friend bool operator<(const Bearer& a, const Bearer& b) {
    if (a.what != b.what) return a.what < b.what;
    if (a.person != b.person) return a.person < b.person;
    if (a.item != b.item) return a.item < b.item;
    if (a.site != b.site) return a.site < b.site;
    return a.spot < b.spot;
  }
};

/// What a field holds; enough to name it in a story.
struct FieldMeaning {
  enum class What : std::uint8_t {
    level, worn, in_hand, order, known, owed, reached, unlooked, worst, wet, zone, declared, recorded, answer, struck,
    loop, running, monitor, told, missed, scratch
  } what = What::scratch;
  Bearer bearer;                 ///< level, worn, known, owed, reached, unlooked, worst, wet, told, missed; order: the lower of the pair by id
  std::uint8_t part = 0xFF;      ///< level, wet; known: 0xFF for the whole thing
  model::ItemId other;           ///< order
  model::FindingId finding;      ///< known, owed
  std::uint32_t index = 0;       ///< mark, record, decision, interruption, loop, timer, rule; missed: what a finding means
  std::uint32_t binding = 0;     ///< monitor: which memory of the rule
  friend bool operator==(const FieldMeaning&, const FieldMeaning&) = default;
};

/// Values of `known`.
enum Known : std::uint32_t { never_looked = 0, is_found = 1, is_not_found = 2, is_ended = 3 };
constexpr std::uint32_t kSterile = 0, kClean = 1, kSuspect = 2, kSoiled = 3;

struct Field {
  FieldMeaning meaning;
  std::uint32_t maximum = 1;     ///< highest value
  std::uint32_t initial = 0;
  bool scratch = false;
};

/// "field is one of these values"; bit v of `allowed` stands for value v.
struct Test { FieldId field; std::uint32_t allowed = 0; friend bool operator==(const Test&, const Test&) = default; };
using Clause = Few<Test, 3>;   ///< all of them
using Clauses = Few<Clause, 1>;
struct Guard { Clauses any; };  ///< guard 0 is always true

enum class OpKind : std::uint8_t {
  set,           ///< a := value
  raise,         ///< a := max(a, value)
  lift,          ///< a := max(a, b)
  lift_suspect,  ///< a := max(a, min(b, suspect)); of sterile and clean the result is clean
  copy,          ///< a := b
  report,        ///< something is found; changes nothing
  moment,        ///< a rule event; replaced by the rules, changes nothing
  mark,          ///< a clock begins or ends here; changes nothing
};

/// Whether an operation writes its first field.
constexpr bool writes(OpKind kind) { return kind != OpKind::report && kind != OpKind::moment && kind != OpKind::mark; }
constexpr bool reads_second(OpKind kind) { return kind == OpKind::lift || kind == OpKind::lift_suspect || kind == OpKind::copy; }

struct Op {
  OpKind kind = OpKind::set;
  GuardId guard;
  FieldId a, b;
  std::uint32_t value = 0;       ///< set, raise: the value; report: ReportId; moment: MomentId; mark: an index into `marks`
  std::uint32_t cause = 0;       ///< index into `causes`: why, for stories
};

/// Why an operation is there: one sentence of a story each.
struct Cause {
  enum class What : std::uint8_t {
    none, meets, pulled_off, brushes, rests_inside, leaves, goes_on, disinfected, wetted, cleaned, looked, torn, exposed, moved, answered,
    declared, recorded, struck, happens, passed, remembered, counted
  } what = What::none;
  Bearer first; std::uint8_t first_part = 0xFF;    ///< meets: the hand's layer; brushes: what brushes
  Bearer second; std::uint8_t second_part = 0xFF;  ///< what is met, changed, looked at
  friend bool operator==(const Cause&, const Cause&) = default;
};

/// Something that may be found, at one place and about one thing.
struct Report {
  diagnostics::Code code{};
  diagnostics::Severity severity = diagnostics::Severity::error;
  graph::NodeId node;
  model::LineId line;            ///< none at crossings
  Bearer thing;                  ///< meaningful when has_thing
  bool has_thing = false;
  Bearer other;                  ///< what covers it, what met it
  bool has_other = false;
  model::RuleId rule;
  model::FindingId finding;
  model::DecisionId decision;    ///< asked before anybody made it
  model::RoleId person;
  model::EndingId ending;
  model::ZoneId zone;
  model::KindId kind;            ///< what is missing at a place
  model::TimerId timer;
  bool is_treated = false;       ///< a thing that the same line disinfects afterwards, its time kept
  std::uint32_t skipped_arm = 0; ///< F601: the arm that held as well
  std::uint32_t set_aside = UINT32_MAX;  ///< R105: position in Protocol::set_aside
};

/// A moment that a rule may be about. `asked`: the event is about to be; else it has happened.
struct Moment {
  model::Event::What what = model::Event::What::takes_off;
  bool asked = false;
  model::RoleId who, of, to;
  std::vector<Bearer> things;    ///< the items of a set; the thing met, looked at…
  std::vector<FieldId> present;  ///< by thing: scratch, 1 if it is one of them on this run; empty: all are
  std::uint8_t part = 0xFF;      ///< touches, disinfects, inspects: the surface, 0xFF: several or all
  FieldId met;                   ///< touches: scratch with the level of what is met, before the meeting
  model::TechniqueId technique;
  model::AgentId agent;
  model::FindingId finding;
  model::ZoneId zone;
  model::DecisionId decision; std::uint32_t answer = 0;
  model::MarkId mark; model::RecordId record; model::RecipientId recipient; model::InterruptionId interruption; model::EndingId ending;
  model::TimerId timer;
  model::LineId line;
};

/// A bound on the time between two moments: a rule of pattern 7 or 9 under one binding, or a timer of one line. Time is no
/// part of a state; what can be said of it is worked out on the finished walk (explore/clock.hpp).
struct Timing {
  bool at_most = true;           ///< else: at least
  std::uint32_t seconds = 0;
  model::RuleId rule;            ///< or
  model::LineId timer_line;      ///< the line that starts the timer
  bool from_the_start = false;   ///< the clock also begins with the run
};

/// Where the clock of a timing begins or ends.
struct Mark {
  enum class What : std::uint8_t { begins, ends, runs_out } what = What::begins;  ///< runs_out: a run ends normally without it
  std::uint32_t timing = 0;
  bool before_its_line = false;  ///< the time that the line takes has not passed yet
  model::LineId line;            ///< none at an ending or a strike
  graph::NodeId node;            ///< none at a strike
};

/// What a person at the bedside would say to tell this edge from its sisters.
struct EdgeLabel {
  enum class What : std::uint8_t { plain, looked, answered, strikes, slips } what = What::plain;
  std::vector<bool> found;       ///< looked: per thing and finding of the line, in order
  std::uint32_t answer = 0;      ///< answered
  model::InterruptionId interruption;
  graph::SlipKind slip{};        ///< slips
};

struct Edge {
  GuardId guard;
  std::uint32_t first_op = 0, op_count = 0;
  graph::NodeId by;              ///< the node whose line or crossing it is: where a run stands, or one beside it; none: a strike
  graph::NodeId target;          ///< none: back to where the interruption struck, or the run is over
  model::InterruptionId goes_back;  ///< resume: whose place to return to
  bool ends = false;
  EdgeLabel label;
};

struct Edges {
  std::uint32_t first = 0, count = 0;
  bool may_be_struck = false;    ///< a run stands there; where nothing strikes, `strike_count` is 0
  graph::NodeId struck_returns_to;
  std::uint32_t context = 0;     ///< of the step graph
  std::uint32_t first_strike = 0, strike_count = 0;  ///< the strikes that may lead away from here
};

/// What is still asked where a run stands: whether anything behind it reads a field before it is written anew. Inside an
/// interruption only its own lines count, and those that strike in it; what is asked where it comes back to stands there.
///
/// It depends on the *mode*, the values of a few fields of two values each (which gloves are on: what is known of bare
/// hands is asked only of hands that are bare). Mode m has bit k set where `modes[k]` is 1.
struct Asked {
  std::vector<FieldId> modes;
  std::vector<FieldSet> fields;  ///< by node, and of each by mode
  bool inside_changes_mode = false;  ///< some interruption that comes back may change the mode
};

struct System {
  std::vector<Field> fields;
  std::vector<Guard> guards;     ///< guards[0]: always
  std::vector<Op> ops;
  std::vector<Edge> edges;
  std::vector<Edges> nodes;      ///< per node of the graph
  std::vector<Edge> strikes;     ///< as lowered: one per context and interruption, shared by all its nodes
  std::uint32_t interruptions = 0;
  std::vector<Report> reports;
  std::vector<Report> never_broken;  ///< where a rule is asked that the declarations alone keep there; no edge does these
  std::vector<Moment> moments;
  std::vector<Cause> causes;     ///< causes[0]: none
  std::vector<Timing> timings;
  std::vector<Mark> marks;
  graph::NodeId start;
  Asked asked;                   ///< empty: nothing is forgotten
};

}  // namespace stepward::effects
