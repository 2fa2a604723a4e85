#pragma once
// What a protocol talks about: places, people, bodies, equipment, agents, techniques.
//
// Everything here is declared in ward text (the standard library included); the compiler knows no glove by name.
// A declared thing is stored once, in the vector of `Protocol` that its id indexes. The name is as declared; `called`
// is the phrase that print and speech use; whoever says one of `also_called` means it too. Nothing here depends on a variant.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/id.hpp"
#include "base/rational.hpp"
#include "mixture/recipe.hpp"
#include "source/span.hpp"

namespace stepward::model {

struct ZoneTag; struct RoleTag; struct SiteTag; struct KindTag; struct FindingTag; struct SpotTag; struct SupplyTag;
struct ItemTag; struct AgentTag; struct TechniqueTag; struct ChoiceTag; struct EndingTag; struct RoutineTag;
struct PhaseTag; struct InterruptionTag; struct RuleTag; struct MarkTag; struct RecordTag; struct RecipientTag;
struct DecisionTag; struct TimerTag; struct LineTag; struct BlockTag; struct StatementTag;
using ZoneId = Id<ZoneTag>;            ///< a place with a risk
using RoleId = Id<RoleTag>;            ///< a person, by role
using SiteId = Id<SiteTag>;            ///< a part of the body
using KindId = Id<KindTag>;            ///< a class of items or materials
using FindingId = Id<FindingTag>;      ///< what a look can find
using SpotId = Id<SpotTag>;            ///< a fixture or a free surface: a thing that stays in its place
using SupplyId = Id<SupplyTag>;        ///< counted stock that is not worn
using ItemId = Id<ItemTag>;            ///< a worn thing
using AgentId = Id<AgentTag>;          ///< a disinfectant
using TechniqueId = Id<TechniqueTag>;
using ChoiceId = Id<ChoiceTag>;        ///< a variant choice
using EndingId = Id<EndingTag>;
using RoutineId = Id<RoutineTag>;
using PhaseId = Id<PhaseTag>;
using InterruptionId = Id<InterruptionTag>;
using RuleId = Id<RuleTag>;
using MarkId = Id<MarkTag>;            ///< something declared, such as an exposure
using RecordId = Id<RecordTag>;        ///< something written down
using RecipientId = Id<RecipientTag>;  ///< somebody reported to
using DecisionId = Id<DecisionTag>;    ///< a bedside judgement
using TimerId = Id<TimerTag>;          ///< a clock that somebody starts and stops
using LineId = Id<LineTag>;            ///< an action line
using BlockId = Id<BlockTag>;
using StatementId = Id<StatementTag>;

/// A name with the place that declared it. `called` falls back to "the " + name. In a translation `in_source` keeps what it is
/// called in the protocol as it was written; empty there.
struct Named {
  std::string name;
  std::string called;
  source::Span span;
  std::string in_source;
  std::vector<std::string> also_called;  ///< further phrases that people say for it
};

/// How far a source was checked.
enum class SourceMark : std::uint8_t { read, quoted_by_another, from_memory, common_practice, local };
struct Source { SourceMark mark = SourceMark::local; std::string text; };

/// A length of time in whole seconds.
struct Duration { std::uint32_t seconds = 0; friend bool operator==(const Duration&, const Duration&) = default; };

enum class Risk : std::uint8_t { low, middle, high };
enum class Exposes : std::uint8_t { nothing, front_only, all_round };

/// A kind or one item of it. Exactly one is set.
struct ItemOrKind { ItemId item; KindId kind; };

struct Border { ZoneId to; std::vector<ItemOrKind> lets_through; };
struct Zone : Named {
  Risk risk = Risk::low;
  Exposes exposes = Exposes::nothing;
  std::vector<ItemOrKind> needs;
  std::vector<Border> leads_to;
  std::vector<ZoneId> in_sight_of;
};

struct Role : Named {
  std::vector<ZoneId> may_enter;
  std::vector<RoleId> keeps_hands_off;
  std::vector<Source> sources;
};

enum class SiteNature : std::uint8_t { skin, mucous, hair };
struct Site : Named { SiteNature nature = SiteNature::skin; bool is_hands = false; };

/// `counted_by` is the unit; `counted_by_several` what several of them are called, empty: the unit with an s.
struct Kind : Named { std::string counted_by, counted_by_several; };

enum class FindingMeans : std::uint8_t { surface_soiled, barrier_broken, skin_showing };
enum class AnswerKind : std::uint8_t { cleaning, removal, declaring, reporting };
struct Answer { AnswerKind kind = AnswerKind::cleaning; std::string mark; };  ///< `mark`: the name after `declaring`
enum class Deadline : std::uint8_t { any_removal, any_ending, normal_ending };
struct Finding : Named {
  FindingMeans means = FindingMeans::surface_soiled;
  std::vector<Answer> answered_by;  ///< any one of them answers it
  Deadline before = Deadline::any_removal;
};

/// Levels of contamination, from the least to the worst. *Soiled* means that soil was seen.
enum class Level : std::uint8_t { sterile, clean, suspect, soiled };

/// A fixture or a free surface.
struct Spot : Named {
  bool is_fixture = true;
  KindId made_of;
  Level begins = Level::clean;
  ZoneId zone;               ///< none: it stands wherever it is used
  bool meant_for_dirty = false;
};

struct Supply : Named { std::string counted_by, counted_by_several; };

/// How far zone and hand reach a surface while the item is worn.
enum class Reach : std::uint8_t { exposed, sheltered, inside };
/// `called` is what a paper says for the name; empty: the name.
struct Surface { std::string name; Reach reach = Reach::exposed; source::Span span; std::string called; };

/// One `goes over` entry: what is hidden and locked when the item is worn above it.
struct Cover {
  ItemId item;                 ///< or
  SiteId site;
  std::optional<std::uint8_t> part;  ///< a surface of `item`; none: the whole item
  bool loosely = false;
  source::Span span;
};

struct Item : Named {
  std::vector<KindId> kinds;
  std::vector<SiteId> worn_on;
  bool clothing = false;         ///< clothing underneath: to be kept clean
  bool reusable = false;
  bool stays_on = false;
  bool inside_rests = false;     ///< a dirty inside passes on to what lies beneath
  bool begins_sterile = false;   ///< each new one is sterile, its insides apart
  std::vector<Surface> surfaces; ///< at least one
  std::vector<Cover> goes_over;
  TechniqueId usually_put_on, usually_taken_off;
};

/// A thing that an agent, a wording or a technique is for. Exactly one is set; none set and `anything` true: all, or
/// with `items_only` all that can be worn.
struct Target { ItemId item; KindId kind; SiteId site; SpotId spot; bool anything = false; bool items_only = false; };

struct ContactTime { std::vector<Target> on; Duration time; };  ///< `on` empty: otherwise
struct Agent : Named {
  bool ready_to_use = false;
  bool water_only = false;                       ///< it mixes with water and no other cleaner
  mixture::Stock stock;
  std::optional<mixture::Recipe> recipe;
  std::string diluent;
  std::optional<Rational> strength_ppm;          ///< 1 percent = 10 000 ppm
  std::vector<Target> works_on, never_on;
  std::vector<ContactTime> contact_times;
  bool only_after_cleaning = false;
  bool leaves_sterile = false;                   ///< what it works on is sterile after the contact time, not only clean
  std::optional<Duration> keeps;
  std::vector<Source> sources;
};

/// Texts that depend on what a line is about. `on` empty and `otherwise` false: always.
struct Phrase { std::string text; std::vector<Target> on; bool otherwise = false; source::Span span; };
struct Wording { std::vector<Phrase> words, spoken, watch, if_not, warning; };

enum class VerbKind : std::uint8_t {
  don, doff, disinfect, clean, inspect, test, decide, declare, record, report, call, take, pass, act, move, wait,
  start_timer, stop_timer
};
struct VerbWording { VerbKind verb = VerbKind::act; Wording wording; source::Span span; };

/// What a technique names: `it`, one of the items of the line by kind or item, a body site, or what it covers.
struct TechniqueThing {
  enum class What : std::uint8_t { it, item, kind, site, what_it_covers } what = What::it;
  ItemId item; KindId kind; SiteId site;
  std::string part;          ///< name of a surface; empty: all that shows
  source::Span span;
};
struct Handled { TechniqueThing thing; bool held_away = false; };
struct Brush { TechniqueThing what, against; bool always = false; };  ///< false: only when done clumsily

enum class TechniqueUse : std::uint8_t { takes_off, puts_on, tests, cleans };
struct TechniqueService { TechniqueUse use = TechniqueUse::takes_off; std::vector<Target> together; };  ///< more than one: a set
struct UsesUp { std::uint32_t count = 0; SupplyId supply; };
struct Technique : Named {
  std::vector<TechniqueService> serves;
  std::vector<Handled> handles;  ///< in order; empty only with `because`
  std::vector<Brush> brushes;
  std::string drops_into;        ///< the bin's name; empty: none
  std::vector<UsesUp> uses_up;
  Wording wording;
  std::string because;
  std::vector<Source> sources;
};

}  // namespace stepward::model
