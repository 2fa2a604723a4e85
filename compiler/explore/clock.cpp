#include "explore/clock.hpp"

#include <algorithm>

#include "explore/redo.hpp"

namespace stepward::explore {
namespace {

using effects::Mark;

constexpr std::uint32_t none = UINT32_MAX;

/// One clock at one state.
struct Label {
  std::uint32_t state = 0;
  std::uint32_t seconds = 0;
  std::uint32_t steps = 0;               ///< of the run up to the state
  std::uint32_t from = none;             ///< the label before; none: the clock began on the way here
  std::uint32_t from_state = 0, edge = none;  ///< the step that led here
};

class Clock {
 public:
  Clock(const effects::System& system, const Packed& packed, const Result& result, const std::vector<LineTime>& times, std::uint32_t timing, Measure measure)
      : system_(system), packed_(packed), result_(result), times_(times), timing_(system.timings[timing]), id_(timing), measure_(measure) {
    for (std::uint32_t e = 0; e < packed.edges.size(); ++e) {
      begins_.push_back(may_pass(packed, e, [&](const PackedOp& op) { return is_mine(op) && system.marks[op.value].what == Mark::What::begins; }));
      comes_to_mark_.push_back(may_pass(packed, e, [&](const PackedOp& op) { return is_mine(op); }));
    }
    worst_.assign(result.size(), none);
  }

  std::optional<Overrun> run() {
    begin_everywhere();
    // A clock may begin and run out in one step, so a run may have been found already; labels look for a shorter one.
    for (std::uint32_t steps = 0; steps < waiting_.size() && steps + 1 < shortest_; ++steps)
      for (std::size_t i = 0; i < waiting_[steps].size(); ++i) follow(waiting_[steps][i]);
    return std::move(overrun_);
  }

 private:
  bool is_mine(const PackedOp& op) const { return op.what == PackedOp::Do::mark && system_.marks[op.value].timing == id_; }

  // ---- labels

  std::uint32_t capped(std::uint64_t seconds) const {
    return static_cast<std::uint32_t>(std::min<std::uint64_t>(seconds, timing_.at_most ? timing_.seconds + 1ull : timing_.seconds));
  }
  bool breaks(std::uint32_t seconds) const { return timing_.at_most ? seconds > timing_.seconds : seconds < timing_.seconds; }
  bool is_worse(std::uint32_t a, std::uint32_t b) const { return timing_.at_most ? a > b : a < b; }

  void begin_everywhere() {
    if (timing_.from_the_start && result_.size()) add({0, 0, 0, none, 0, none});
    std::uint32_t depth = 0;
    for (std::uint32_t s = 0; s < result_.successor_ends.size(); ++s) {
      while (s >= result_.depth_ends[depth]) ++depth;
      each_step(s, [&](std::uint32_t edge, std::uint32_t to) {
        if (begins_[edge]) take(s, edge, to, nullptr, none, depth);
      });
    }
  }

  // Labels are followed in the order of their steps: at one state a later one counts only if it is nearer to breaking
  // the bound.
  void follow(std::uint32_t at) {
    const Label label = labels_[at];
    if (!counts(label) || label.state >= result_.successor_ends.size()) return;
    worst_[label.state] = label.seconds;
    each_step(label.state, [&](std::uint32_t edge, std::uint32_t to) { take(label.state, edge, to, &label, at, label.steps); });
  }
  bool counts(const Label& label) const {
    return worst_[label.state] == none || is_worse(label.seconds, worst_[label.state]);
  }

  void add(const Label& label) {
    if (!counts(label)) return;
    if (waiting_.size() <= label.steps) waiting_.resize(label.steps + 1);
    waiting_[label.steps].push_back(static_cast<std::uint32_t>(labels_.size()));
    labels_.push_back(label);
  }

  // ---- steps

  template <typename Visit>
  void each_step(std::uint32_t state, Visit visit) const {
    explore::each_step(packed_, result_, state, [&](std::uint32_t edge, std::uint32_t k) { visit(edge, result_.successors[k]); });
  }

  std::uint64_t time_of(std::uint32_t edge) const {
    if (edge >= packed_.first_strike) return 0;
    const LineTime& t = times_[system_.edges[edge].by.value];
    return measure_ == Measure::least ? t.least : t.greatest;
  }

  void take(std::uint32_t state, std::uint32_t edge, std::uint32_t to, const Label* label, std::uint32_t at, std::uint32_t steps) {
    const std::uint64_t time = time_of(edge);
    bool runs = label != nullptr, fresh = false;
    std::uint64_t seconds = label ? label->seconds : 0;
    if (comes_to_mark_[edge])
      for (const std::uint32_t m : marks_of(state, edge)) {
        const Mark& mark = system_.marks[m];
        if (mark.timing != id_) continue;
        const std::uint32_t shown = capped(seconds + (fresh || mark.before_its_line ? 0 : time));
        if (mark.what == Mark::What::begins) {
          if (runs && timing_.at_most) continue;  // the older clock is the stricter one
          runs = fresh = true;
          seconds = 0;
        } else if (runs) {
          // A label that is carried tells of runs already under way; one that begins here has taken no time yet.
          const bool bad = mark.what == Mark::What::ends ? breaks(shown) : timing_.at_most;
          if (bad && steps + 1 < shortest_) note_overrun(m, shown, state, edge, at, steps + 1);
          if (mark.what == Mark::What::ends) runs = fresh = false;
        }
      }
    if (!runs || to == none) return;
    if (fresh) add({to, 0, steps + 1, none, state, edge});
    else add({to, capped(seconds + time), steps + 1, at, state, edge});
  }

  void note_overrun(std::uint32_t mark, std::uint32_t shown, std::uint32_t state, std::uint32_t edge, std::uint32_t at, std::uint32_t steps) {
    shortest_ = steps;
    Overrun out{mark, shown, 0, {edge}, {node_of(state)}};
    std::uint32_t first = state;
    for (std::uint32_t l = at; l != none; l = labels_[l].from) {
      if (labels_[l].edge == none) break;
      out.run.push_back(labels_[l].edge);
      out.stood.push_back(node_of(labels_[l].from_state));
      first = labels_[l].from_state;
    }
    const std::size_t since = out.run.size();
    for (std::uint32_t s = first; s != 0; s = result_.parent[s]) {
      out.run.push_back(result_.via[s]);
      out.stood.push_back(node_of(result_.parent[s]));
    }
    std::reverse(out.run.begin(), out.run.end());
    std::reverse(out.stood.begin(), out.stood.end());
    out.begun = static_cast<std::uint32_t>(out.run.size() - since);
    overrun_ = std::move(out);
  }

  std::uint32_t node_of(std::uint32_t state) const { return get(result_.state(state), packed_.node); }

  // ---- the marks that one step passes, in order: its operations are done anew

  std::vector<std::uint32_t> marks_of(std::uint32_t state, std::uint32_t edge) const {
    std::vector<std::uint32_t> out;
    redo(packed_, result_, state, edge, [&](const PackedOp& op) { if (op.what == PackedOp::Do::mark) out.push_back(op.value); });
    return out;
  }

  const effects::System& system_;
  const Packed& packed_;
  const Result& result_;
  const std::vector<LineTime>& times_;
  const effects::Timing timing_;
  std::uint32_t id_;
  Measure measure_;
  std::vector<bool> begins_, comes_to_mark_;   ///< by packed edge
  std::vector<Label> labels_;
  std::vector<std::uint32_t> worst_;           ///< by state: what the worst label followed so far shows
  std::vector<std::vector<std::uint32_t>> waiting_;  ///< labels by steps
  std::optional<Overrun> overrun_;
  std::uint32_t shortest_ = none;              ///< steps of `overrun_`
};

}  // namespace

std::optional<Overrun> first_overrun(const effects::System& system, const Packed& packed, const Result& result,
                                     const std::vector<LineTime>& times, std::uint32_t timing, Measure measure) {
  return Clock(system, packed, result, times, timing, measure).run();
}

}  // namespace stepward::explore
