#pragma once
// What people do: action lines, and the blocks that say when.
//
// A routine call is resolved where it stands: the statement `call` owns a block of its own with the parameters already
// replaced, so whoever walks the model needs no binding. Variant choices are *not* replaced: a thing may be "suit
// choice", and `only for` is a statement; `graph` picks one variant, everything before it serves all of them.
// Blocks are stored flat in `Protocol::blocks`; statements refer to blocks by id. Blocks nest at most 64 deep.

#include <optional>
#include <string>
#include <vector>

#include "model/things.hpp"

namespace stepward::model {

/// A resolved noun phrase. `part` (a surface's name) may narrow an item, a choice or `it`; `of` says whose it is, none:
/// the line's default (the person who acts by default; for `hands`, the doer).
struct Thing {
  enum class What : std::uint8_t { item, choice, kind, site, spot, supply, hands, role } what = What::item;
  ItemId item; ChoiceId choice; KindId kind; SiteId site; SpotId spot; SupplyId supply; RoleId role;
  std::string part;
  RoleId of;
  source::Span span;
};

/// A conjunction of variant values: `coverall with respirator`. Empty: always.
struct ChoiceValue { ChoiceId choice; std::uint8_t value = 0; };
using VariantCondition = std::vector<ChoiceValue>;

/// One bedside question; nobody can ask for a level.
struct Atom {
  enum class What : std::uint8_t { found, worn, hands_bare, answer, declared, recorded, in_zone } what = What::found;
  bool negated = false;                ///< `no soil or tear on X` negates the whole atom
  std::vector<FindingId> findings;     ///< found: any of them
  Thing thing;                         ///< found, worn, hands_bare
  RoleId who;                          ///< worn, hands_bare, in_zone
  DecisionId decision; std::uint8_t answer = 0;
  MarkId mark; RecordId record; ZoneId zone;
  source::Span span;
};
struct Condition { std::vector<Atom> atoms; bool all = true; source::Span span; };  ///< all: joined by `and`

/// What stands under a line.
struct Details {
  std::string critical_because, say, watch, if_not, warning, note, because, known_as;
  /// Where the texts stand that are checked against the line.
  struct { source::Span say, watch, if_not, warning, note; } at;
};

struct Line {
  VerbKind verb = VerbKind::act;
  RoleId who;                          ///< always set
  std::vector<Thing> things;           ///< don, doff: items; disinfect, clean, inspect, test: what; take, pass: one; act: touching
  bool together = false;               ///< doff, don of several at one moment
  RoleId of;                           ///< don, doff: whose; always set for these
  TechniqueId technique;               ///< resolved, with the item's usual one filled in; may be none
  AgentId agent;
  bool without_waiting = false;
  std::vector<FindingId> findings;     ///< inspect
  DecisionId decision;                 ///< decide; its answers are the decision's
  MarkId mark;                         ///< declare
  std::vector<RecordId> records;       ///< record
  RecipientId recipient;               ///< report
  std::string text;                    ///< act, call, report: the quoted words
  source::Span text_span;
  std::uint32_t count = 1;             ///< take, pass
  RoleId to;                           ///< pass
  ZoneId zone;                         ///< move
  Duration wait;                       ///< wait
  TimerId timer;                       ///< start_timer, stop_timer
  /// How long the line takes, where it says so; of `start timer`: how long the timer is to run until it is stopped.
  std::optional<Duration> at_least, at_most;
  bool wait_contact_time = false;
  VariantCondition only_for;           ///< the tail `only for V`
  Details details;
  bool in_rhythm = true;               ///< false under `out of rhythm`
  std::string id;                      ///< full id: phase or call place / routine / id
  bool id_is_given = false;            ///< from `known as`
  source::Span span;                   ///< the whole line
  source::Span verb_span;
};

/// Whether the doer's hands do something: looking, reading and writing leave them free.
bool uses_hands(const Line& line);

struct Statement {
  enum class What : std::uint8_t { line, question, only_for, repeat, call, together, finish, resume } what = What::line;
  LineId line;
  // question: arms in order; an arm without condition is `otherwise`
  struct Arm { Condition condition; bool is_otherwise = false; BlockId block; source::Span span; };
  std::vector<Arm> arms;
  VariantCondition only_for;           ///< only_for
  BlockId block;                       ///< only_for, repeat (the body), call (the routine's lines, resolved here), together
  std::uint32_t at_most = 0;           ///< repeat
  Condition until;                     ///< repeat
  BlockId fallback;                    ///< repeat: `if still not`
  RoutineId routine;                   ///< call
  std::vector<Thing> arguments;        ///< call, for print
  EndingId ending;                     ///< finish
  source::Span span;
};
struct Block { std::vector<Statement> statements; source::Span span; };

/// `in any safe order`: its lines stand in the block around it, one behind the other, and which comes first is open until
/// `order::settle` has found an order. From then on they are lines like any others, so nothing behind it knows of the
/// construct. Where a routine is called several times, each call has one; all of one source line get the same order.
struct OpenOrder {
  BlockId block;                       ///< the block around it
  std::uint32_t first = 0, count = 0;  ///< its statements there
  source::Span span;                   ///< of its head
};

/// So many lines may stand in one order block: more orders than a number of 64 bits counts would follow.
inline constexpr std::uint32_t most_ordered = 20;

struct Phase : Named { BlockId block; };
struct Routine : Named { std::vector<std::string> parameters; std::vector<EndingId> may_finish_as; };

/// What an interruption does by itself, before its first line.
struct Happening {
  enum class What : std::uint8_t { soiled, torn, touches, falls, nothing } what = What::nothing;
  Thing thing;                         ///< soiled, torn: what; touches: what is met (a role: what shows on that person's front)
  RoleId who;                          ///< touches, falls
  source::Span span;
};
struct Interruption : Named {
  std::vector<Happening> happens;
  BlockId block;
};

struct Decision : Named { std::vector<std::string> answers; };
struct Mark : Named {};
struct Record : Named {};
struct Recipient : Named {};
struct Timer : Named {};

}  // namespace stepward::model
