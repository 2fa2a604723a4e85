#pragma once
// What comes of every slip at every line: nothing, somebody notices, or silent harm.
//
// Every line of every variant is tried with every slip that it offers (graph/slip_ways.hpp), one slip a run. Lines that
// several places call are one row, told by the worst of them. Of a row it is known
//
//   harm          some run comes to harm before anything shows the slip: the line is a point of weakness
//   caught        no run comes to harm before; some look, question, line that cannot be done or confirm shows it
//   harmless      nothing in the model becomes worse
//   not modelled  the line moves nothing that the model knows, such as words that are said
//
// A *confirm* is the observer's, where the rhythm has one and the line says what to watch for; then the slip needs a
// second one, the confirm that is not made, and stands among the pairs. Without words to watch for, a confirm is no check;
// nor is it one for harm that the line itself does to a body or to what is worn next to it, since it comes after. (A clean place or a
// sterile thing that the line makes dirty can still be kept away from everybody: there it is one.) That a line came too early shows at no line, and that
// its time was not kept only where somebody else times it (slips/timed.hpp).
//
// Lines that differ only by what a variant or a call puts in are one row. A slip that is too early, or whose time is not kept, often comes to what
// leaving a line out comes to: such a row says of which other it is the same, and is told with it.
//
// Pairs are two slips of one run that come to harm where neither does alone; sets of three, three that do where no one and no
// two of them do. A confirm that is not made counts as one of them.
//
// An author may answer for a slip until a day (`answer to …`). Its outcome stays harm; the row says which answer is meant, and
// whoever tells the table tells what is answered apart from what is open.

#include <array>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "check/verdict.hpp"
#include "slips/consequence.hpp"
#include "slips/step_order.hpp"

namespace stepward::slips {

struct Options {
  unsigned at_once = 1;               ///< 1, 2 or 3
  bool interruptions = false;         ///< whether what may happen at any time happens to such runs, too
  std::optional<std::size_t> only_variant;
  std::uint64_t limit = 20'000'000;   ///< states of one variant's walk, and as many off it
  unsigned workers = 2;
};

enum class Outcome : std::uint8_t { harm, caught, harmless, not_modelled };

/// The worst that one variant's runs of a slip come to.
struct WorstHere {
  diagnostics::Code code{};
  Consequence consequence = Consequence::left_open;
  bool at_once = false;               ///< the slipped line itself does it, and who sees it then cannot undo it
  std::uint32_t steps = 0;            ///< of the shortest such run
  std::string headline;
  model::LineId line;                 ///< there; none at an ending
  model::EndingId ending;             ///< there, if it is one
  model::LineId slipped;              ///< the line at which it begins: a row may have several
};

/// A slip as the source knows it: calls of one routine share its lines.
struct Key {
  std::uint32_t file = 0, begin = 0;
  graph::SlipKind kind = graph::SlipKind::left_out;
  std::uint8_t look = 0;
  friend bool operator<(const Key& a, const Key& b) { return std::tie(a.file, a.begin, a.kind, a.look) < std::tie(b.file, b.begin, b.kind, b.look); }
  friend bool operator==(const Key&, const Key&) = default;
};

struct Harm {
  diagnostics::Code code{};
  Consequence consequence = Consequence::left_open;
  source::Span at;
  std::string step;                   ///< the card's number there; may be empty
  std::string headline;
  std::vector<diagnostics::StoryLine> story;
  std::uint32_t steps = 0;            ///< of the whole run
  bool at_once = false;               ///< the slipped line itself does it, and who sees it then cannot undo it
  std::size_t variant = 0;
  model::LineId line;                 ///< there; none at an ending
  model::EndingId ending;             ///< there, if it is one
};

struct Catch {
  enum class By : std::uint8_t { confirm, look, question, cannot_be_done, ending } by = By::look;
  source::Span at;
  std::string step;                   ///< the card's number there; may be empty
  std::string words;                  ///< the line that looks, or what cannot be done
  /// The same by variant: a line has other numbers there, and is about other things. A confirm has none: it stands at the lines of its row.
  struct Here { std::set<model::LineId> lines; std::string words; };
  std::map<std::size_t, Here> where{};
};

/// What became of one `answer to …`.
struct AnsweredFor {
  model::AnsweredSlip said;
  std::size_t harms = 0;              ///< rows that come to harm and that it is about
  /// A slip that it names, or all of them (none), of which no row comes to harm. Told only where everything was tried.
  struct Unneeded {
    std::optional<graph::SlipKind> kind;
    std::string why;                  ///< "it is caught before harm"
    std::vector<graph::SlipKind> near;  ///< what it could name instead: slips of that line that come to harm
  };
  std::vector<Unneeded> unneeded;
};

struct Row {
  Key key;
  source::Span at;
  std::set<std::string, StepOrder> steps;  ///< numbers on the cards; of harm, only those at which the slip comes to it
  std::map<std::size_t, std::set<std::string, StepOrder>> steps_in;  ///< the same by variant
  std::map<std::size_t, std::set<std::string, StepOrder>> before_in;  ///< too early: numbers of the lines that it comes before, by variant
  std::set<model::LineId> lines;      ///< that stand there, in any variant; of harm, the same
  std::set<model::LineId> passes;     ///< too early: the lines that it comes before
  std::string line;                   ///< "wearer takes off the goggles or face shield", by call and variant
  std::string look;                   ///< overlooked: "soil"; "soil on the visor" where the line names several things
  Outcome outcome = Outcome::harmless;
  std::optional<Harm> harm;           ///< the worst, or what the confirm alone holds back
  std::map<std::size_t, WorstHere> harm_in;  ///< by variant that comes to harm: another one may catch it, or come to another harm
  std::vector<Catch> caught;          ///< each place once
  std::string watch;                  ///< what the confirm has to see; empty: there is none
  std::set<std::string> breaks;       ///< rules that some run of it breaks
  std::set<std::size_t> variants;     ///< that have the line; of harm, those in which the slip comes to it
  std::optional<std::size_t> same_as; ///< another row comes to the same harm at the same line and says it as well: its position
  std::optional<std::size_t> answer;  ///< of a row that comes to harm: what is said of it, position in Table::answers
  model::LineId in_first;             ///< one such line of the first of them
  std::size_t places = 0;             ///< of the step graphs
  std::size_t list_lines = 0;         ///< of the phase or breach that it stands in, in the variant where that is longest
};

struct Pair {
  std::size_t first = 0, second = 0;  ///< rows; the same: the slip and the confirm of its own line
  Harm harm;
};

/// Three slips, or two of which one is seen unless a confirm, the third, is not made.
struct Triple {
  std::size_t first = 0, second = 0, third = 0;  ///< rows; third the same as one of the others: the confirm of that line
  Harm harm;

  bool with_confirm() const { return third == first || third == second; }
};

/// How far the limit let the search come: how many of the slips that can be the first of a run's one, two or three were followed to the end of
/// all such runs.
struct Reach { std::size_t done = 0, of = 0; };

struct Table {
  std::vector<AnsweredFor> answers;  ///< by position in Protocol::answered_slips
  std::vector<Row> rows;              ///< those of harm first, the worst first
  std::vector<Pair> pairs;            ///< the worst first
  std::vector<Triple> triples;        ///< the worst first
  std::size_t held_by_confirms = 0;   ///< pairs left out that would need a third slip, a confirm not made
  std::size_t held_by_more = 0;       ///< pairs and sets of three left out that would need a fourth slip or more, confirms not made
  std::array<Reach, 3> reach;         ///< by slips a run, less one
  std::size_t not_walked = 0;         ///< variants whose ordinary runs are more than the limit: no slip of theirs was tried
  std::uint64_t limit = 0;
  std::vector<std::string> variants;  ///< names
  std::string confirms;               ///< the role that does, in the rhythm; empty: nobody
  std::uint64_t states = 0, states_off = 0;
  bool complete = true;
  bool interruptions = false;
  unsigned at_once = 1;

  /// Whether a row comes to harm and somebody answers for it today.
  bool is_answered(const Row& row) const { return row.answer && !answers[*row.answer].said.is_over; }
  /// Whether it comes to harm and nobody does.
  bool is_open(const Row& row) const { return row.outcome == Outcome::harm && !is_answered(row); }
};

/// The protocol has no errors. Never fails; `complete` says whether the limit was kept.
Table analyse(const model::Protocol& protocol, const Options& options);

}  // namespace stepward::slips
