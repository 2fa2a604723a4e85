#pragma once
// The numbered course of one variant: which number each line carries on every paper, in the step graph and in stories.
//
// Rules (meaning.md 11). The *trouble-free path* (nothing found, every answer the first, no interruption) is the trunk
// and counts 1, 2, 3… Lines of a branch take the number of the trunk step they stand under and a letter (3a, 3b), lines
// nested once more a figure (3b1). What lies deeper, and a routine of more than `boxed_above` lines that is called in
// several places, stands once in a box with a letter of its own (C1, C2); the place that needs it says "do box C, then
// go on at 12". One box serves calls with different arguments: what the call names is "it" in the box. Interruptions
// are breaches B1, B2… with steps B1.1, B1.2… Questions are counted through the trunk (Q1, Q2…) and through each box
// and breach (QC1, QB1.1), so that a voice can name one; where one frame asks several questions, each has its number.
//
// Shape: a course is a set of runs; a run is a list of entries read from top to bottom. The arm of a question that the
// trouble-free path takes is not a run of its own: its entries follow the question in the same run, and the other arms
// say where to go on behind them. All targets are worked out here, so that card, script and graph cannot disagree.
// Owned by whoever asked for it; refers into the protocol by id.

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "graph/arm_place.hpp"
#include "model/protocol.hpp"

namespace stepward::graph {

struct RunTag;
using RunId = Id<RunTag>;
struct BoxTag;
using BoxId = Id<BoxTag>;

/// A routine with more lines than this, called off the trunk in several places, is printed once as a box. A higher
/// limit keeps more branches where they happen, but a card that repeats a four-line routine ten times is one that
/// nobody laminates.
constexpr std::size_t boxed_above = 3;

/// Where the reader goes on.
struct Target {
  enum class What : std::uint8_t { nowhere, label, back, ending, resume } what = What::nowhere;
  std::string label;       ///< label: a step's ("12", "3b1") or a question's ("Q3"); back: the box that one comes back from
  model::EndingId ending;  ///< ending

  friend bool operator==(const Target&, const Target&) = default;
};

/// One arm of a question, or the fallback of a loop.
struct Fork {
  model::Condition condition;  ///< empty for `otherwise`
  ArmPlace place;              ///< of an arm; of a loop's fallback nothing is said
  bool is_otherwise = false;
  bool is_trunk = false;  ///< its entries follow the question in the same run
  std::string label;      ///< the number of the question that it answers: the entry's, or one of its own behind that one's
  RunId run;              ///< its own entries; none: nothing is to be done
  Target first;           ///< where its first entry is
  Target go_on;           ///< where the reader goes after its last entry; nowhere: it never gets there
};

struct Entry {
  enum class What : std::uint8_t {
    phase,
    step,
    question,
    repeat_begins,
    together_begins,
    repeat_asks,
    box,
    finish,
    resume
  } what = What::step;
  std::string label;  ///< step, box: its number; question, repeat_asks: "Q3"
  model::PhaseId phase;
  model::LineId line;         ///< step
  std::vector<Fork> forks;    ///< question: the arms in order, `otherwise` always last; repeat_asks: the fallback
  bool aloud = true;          ///< question: false when it asks of a state only
  std::size_t skip_to = 0;    ///< question: the position in the run behind the trunk arm's entries
  model::Condition until;     ///< repeat_asks
  std::uint32_t at_most = 0;  ///< repeat_begins, repeat_asks
  std::string from, to;       ///< repeat_begins, together_begins, repeat_asks: first and last label of the body
  BoxId box;                  ///< box
  std::vector<model::Thing> arguments;  ///< box: what the call names
  std::vector<model::Thing> named;      ///< inside a box that serves several calls: things that are "it"
  model::EndingId ending;               ///< finish
  Target go_on;                         ///< what follows in reading order
};

struct Run {
  std::vector<Entry> entries;
  std::uint8_t level = 0;
};
struct Box {
  std::string label;
  model::RoutineId routine;
  RunId run;
  bool has_it = false;
};
struct Breach {
  std::string label;
  model::InterruptionId interruption;
  RunId run;
};

struct Course {
  std::vector<Run> runs;
  RunId trunk;
  std::vector<Box> boxes;  ///< in the order in which the trunk, then the breaches, first ask for them
  std::vector<Breach> breaches;
  std::vector<std::string> labels;                             ///< by line; empty: not in this variant
  std::map<std::string, std::vector<model::LineId>> lines_at;  ///< a box stands for several calls
  std::vector<model::PhaseId> phases_without_lines;

  const Run& operator[](RunId id) const { return runs[id.value]; }
  const Box& operator[](BoxId id) const { return boxes[id.value]; }
  const std::string& label(model::LineId line) const { return labels[line.value]; }
};

/// What "not this answer" counts for: with it, an answer may belong to several arms.
enum class Negated : std::uint8_t { is_something_else, is_an_answer };
/// The one decision that all of them ask for; none: they ask for something else too. Several arms of one decision are one question.
model::DecisionId shared_decision(const std::vector<Fork>& forks, Negated negated = Negated::is_something_else);
bool asks_for_answer(const model::Condition& condition, Negated negated = Negated::is_something_else);

/// Numbers every line that this variant has. Never fails on a protocol that resolved without an error.
Course number_steps(const model::Protocol& protocol, const model::Variant& variant);

}  // namespace stepward::graph
