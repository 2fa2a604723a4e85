#pragma once
// What becomes of runs that leave a finished walk by one edge?
//
// A slip is an edge that no ordinary run takes. After it the run goes on as written, mostly through states that ordinary
// runs come through as well: gloves that were not disinfected once are off by the next phase. So a deviation is followed
// only as long as it stands in states that the finished walk never met. What comes back to a state of the walk has come
// to nothing, since from there on everything is known.
//
//     walk         ○ → ○ → ○ → ○ → ○ → ○ → ○
//                      ╲ slip      ↗ back
//     deviation         ● → ● → ●
//                            ╲→ harm
//
// The deviation of one line is a few dozen states where the walk has thousands, so all lines of a protocol are tried in
// the time of a few walks.
//
// Runs with two slips start from the states of a deviation. A state from which no run without a further slip comes to
// harm is *quiet*: it is kept, and every later search for the last slip of a run stops at it.
//
// Runs with three start from the states of a second deviation, one that starts from a first. On the way there a quiet state is
// no end: quiet means that nothing comes of it without a further slip, and a further one is to follow. But what comes
// back to the walk or to the first deviation is left: whatever a third slip does from there, it does without the second.
//
//     walk         ○ → ○ → ○ → ○ → ○ → ○ → ○ → ○
//                      ╲ 1st           ↗ back
//     first             ● → ● → ● → ●
//                            ╲ 2nd  ↗ back: a pair of 1st and 3rd would say it
//     second                  ● → ● → ●
//                                  ╲ 3rd
//     third                         ● → harm
//
// Worked example: hands are rubbed three times between the gloves and the goggles. Leaving out the first rub leads off the walk and back to
// it at the second; with the first two left out, a run stands in states of its own until the third; with all three it comes to the
// goggles with hands that may carry.
//
// What is quiet is kept to save time only. Where it takes too much room it is forgotten, and found anew.
//
// Owned by one thread each; walk, set of its states and signs are shared and not changed.

#include <functional>
#include <vector>

#include "explore/state_set.hpp"
#include "explore/stepper.hpp"
#include "explore/walk.hpp"

namespace stepward::explore {

/// What a report means to whoever follows a deviation. `stop`: the run cannot go on, and everybody sees that.
enum class Weight : std::uint8_t { none, note, stop, harm };

struct Signs {
  std::vector<Weight> reports;            ///< by number in the packed system
  std::vector<std::vector<Slot>> seen_by; ///< by packed edge: where one of these is 1 before it, the deviation is seen on it
  std::vector<bool> may_note;             ///< by packed edge: the step along it may pass a report that is a note
};

/// A finished walk and the place of each of its states.
struct Trodden {
  Trodden(const Packed& packed, Result finished);
  Result walk;
  StateSet set;                                     ///< of walk.states
  std::vector<std::vector<std::uint32_t>> at_node;  ///< states by the node where they stand, in order
  std::vector<std::uint32_t> depth;                 ///< by state: steps from the start
};

/// A run that leaves the walk: a state of it, and the packed edges from there.
struct RunOff {
  std::uint32_t state = 0;
  std::vector<std::uint32_t> edges;
  std::uint32_t steps = 0;  ///< of the whole run
};

/// How runs of a deviation end: a report that stops them or is a harm, or a look on which it is seen (report: UINT32_MAX).
struct Halt { std::uint32_t report = UINT32_MAX, edge = 0; RunOff run; };

struct Followed {
  std::uint32_t states = 0;               ///< off the walk
  bool complete = true;                   ///< false: the limit was reached
  bool changes_nothing = false;           ///< the first step back is on the walk already, wherever it begins
  std::vector<Halt> harms;                ///< each report once, with a shortest run to it, soonest first
  std::vector<Halt> halts;                ///< what ends runs before harm: each report or edge once, soonest first
  std::vector<std::uint32_t> notes;       ///< reports of weight note that were passed
};

class Deviations {
 public:
  Deviations(const Packed& packed, const Trodden& trodden, const Signs& signs, bool interruptions, std::uint64_t limit);

  /// All that follows the edge, taken at every state of the walk where it begins.
  Followed follow(graph::NodeId at, std::uint32_t edge);

  /// From a deviation that was followed to its end without harm: all that a second edge adds to it. Only harm is told.
  /// `second`: edge and the node it leaves, in any order.
  struct Second { graph::NodeId at; std::uint32_t edge = 0; };
  struct Joint { std::uint32_t second = 0, report = 0; RunOff run; };
  /// `joints`: what was found, by position in `seconds`. Returns false where the limit was reached.
  bool follow_seconds(const std::vector<Second>& seconds, std::vector<Joint>& joints);

  /// The same for two more edges, where no two of the three come to harm: `others` are those that do not with the first, and `are_enough`
  /// says, by their positions, which two of them do, or must not be taken on one run.
  struct Threefold { std::uint32_t second = 0, third = 0, report = 0; RunOff run; };
  using AreEnough = std::function<bool(std::uint32_t, std::uint32_t)>;
  bool follow_thirds(const std::vector<Second>& others, const AreEnough& are_enough, std::vector<Threefold>& found);

 private:
  static constexpr std::uint32_t nowhere = UINT32_MAX;
  /// States off the walk, in the order in which they were met.
  struct Off {
    explicit Off(std::uint32_t words) : states(words), set(states, words) {}
    void clear();
    SteadyArray<std::uint64_t> states;
    StateSet set;
    std::vector<std::uint32_t> before, via, steps;  ///< before: a state of Off, or `nowhere` and then of `from`
    std::vector<std::uint32_t> from;                ///< where the deviation began
  };

  /// Where a deviation begins, soonest first.
  struct Begins {
    const std::vector<std::uint32_t>& states;
    std::function<const std::uint64_t*(std::uint32_t)> row;
    std::function<std::uint32_t(std::uint32_t)> steps_to;
  };

  /// What a search is for, and so where it stops besides at the states of the walk.
  enum class Search : std::uint8_t {
    all,     ///< all that an edge leads to
    onward,  ///< all states that the first deviation has not
    harm,    ///< one harm: no state that is quiet, and nothing once there is one
  };

  /// States of a deviation by the node where they stand.
  class ByNode {
   public:
    explicit ByNode(std::size_t nodes) : at_(nodes) {}
    void sort(const Off& off, Slot node);
    const std::vector<std::uint32_t>& at(graph::NodeId node) const { return at_[node.value]; }

   private:
    std::vector<std::vector<std::uint32_t>> at_;
    std::vector<std::uint32_t> used_;
  };

  void pursue(Off& off, std::uint32_t edge, const Begins& begins, Search search, Followed& out);
  Followed pursue_from(const Off& earlier, const ByNode& places, const Second& edge, Search search, Off& off);
  bool follow_third(std::uint32_t second, const std::vector<Second>& others, const AreEnough& are_enough, std::vector<Threefold>& found);
  RunOff behind(const Off& earlier, const RunOff& later) const;
  bool is_left(const std::uint64_t* w, std::uint64_t hash, Search search) const;
  void take_in(Off& off, const std::uint64_t* before, std::uint32_t index, std::uint32_t from, std::uint32_t steps, Search search, Followed& out);
  void end_of(Off& off, const std::uint64_t* before, const Step& step, std::uint32_t index, std::uint32_t from, std::uint32_t steps, Followed& out);
  void note(const std::uint64_t* before, std::uint32_t edge, Followed& out);
  bool is_seen(const std::uint64_t* before, std::uint32_t edge) const;
  RunOff run_of(const Off& off, std::uint32_t index, std::uint32_t from, std::uint32_t edge, std::uint32_t steps) const;
  void keep_quiet(const Off& off);
  bool has_room(Off& off);

  const Packed& packed_;
  const Trodden& trodden_;
  const Signs& signs_;
  std::uint64_t limit_;
  bool interruptions_;
  Stepper stepper_;
  Batch batch_;
  Off off_, second_, third_;
  ByNode on_first_, on_second_;
  SteadyArray<std::uint64_t> quiet_states_;
  StateSet quiet_;
};

}  // namespace stepward::explore
