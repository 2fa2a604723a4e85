#pragma once
// Phases, routines and interruptions: from lines to statements.
//
// A routine is read anew at each call, with what it is given in the place of its parameters, so that the model holds
// no binding. How that stays finite: a routine that is still being read may not be called again, blocks nest at most
// 64 deep, and a protocol has at most `most_lines` lines after all calls are put in place. Routines that nothing calls
// are read once more, with parameters that stand for anything, only to report what is wrong in them.

#include <unordered_map>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {

inline constexpr std::size_t most_lines = 50'000;
inline constexpr int deepest_blocks = 64;

/// What is bound in a routine: the index of a parameter's name, and the thing.
using Bindings = std::vector<std::pair<std::uint32_t, Thing>>;

/// The ids given out in one phase, routine call or interruption.
struct Ids {
  std::unordered_map<std::string, std::uint32_t> counts;
  std::unordered_map<std::string, source::Span> given;
};

/// Where a line stands: what is around it.
struct Scope {
  std::uint32_t file = 0;
  std::string path;  ///< the front of full ids
  Bindings bindings;
  std::vector<std::uint32_t> parameters;  ///< the names bound, for cutting
  std::vector<RoutineId> calls;           ///< routines being read, outermost first
  VariantCondition only_for;
  bool in_rhythm = true;
  bool in_interruption = false;  ///< directly: `resume` may stand here
  bool dry = false;              ///< a routine nobody calls
  int depth = 0;
  Ids* ids = nullptr;
  bool in_change = false;        ///< the lines of a local change are not changed again
  std::string keeps_id;          ///< the full id of the step that this line or call stands for; empty: it gets its own
  bool keeps_given = false;      ///< that id was given by `known as`

  bool in_routine() const { return !calls.empty(); }
};

/// Reads one action line into the protocol; nothing if it cannot be read.
std::optional<LineId> read_line(Context& context, const Place& place, const Scope& scope);
/// Reads the question of an `if` or `until`.
Condition read_condition(Context& context, const Node& node, const Scope& scope);
/// Binds what a call gives to what the routine asks for; reports what is missing, unknown, or does not fit.
Bindings bind(Context& context, const Node& node, const Reading& reading, const Scope& scope, const RoutineText& text);
/// Reports a call, in a routine, of one that may end the run in a way that the routine itself does not announce.
void check_finishes(Context& context, const Node& node, const RoutineText& text, const Scope& scope);
/// Reports a `together` that is not two persons on things of their own.
void check_together(Context& context, const Statement& statement);
/// The next id for `name` in the scope: the name itself, or with a number behind it.
std::string next_id(const Scope& scope, const std::string& name);
/// The last part of a full id: what the step is called in its phase or routine.
inline std::string last_of_id(const std::string& id) {
  const std::size_t at = id.rfind(" / ");
  return at == std::string::npos ? id : id.substr(at + 3);
}
/// The id that `known as` gives, reported if it was given before in this scope; empty without one.
std::string given_id(Context& context, const Node& detail, const Scope& scope);

}  // namespace stepward::model::reading
