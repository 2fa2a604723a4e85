#include "explorer.hpp"

#include <deque>
#include <optional>

#include "clocks.hpp"
#include "events.hpp"
#include "lines.hpp"
#include "look.hpp"

namespace stepward::oracle {
namespace {

/// One block being read: the statement at `index` is next. `pass` counts the passes of a loop's body and is 0 for
/// every other block, the loop's fallback included. The lowest frame of a run has no block: its index is the phase.
/// A `together` has no one statement that is next: `done` counts the lines that each person has behind them.
struct Frame {
  BlockId block;
  std::size_t index = 0;
  std::uint32_t pass = 0;
  bool is_together = false;
  std::map<RoleId, std::size_t> done;
  friend bool operator<(const Frame& a, const Frame& b) {
    return std::tie(a.block, a.index, a.pass, a.is_together, a.done) <
           std::tie(b.block, b.index, b.pass, b.is_together, b.done);
  }
};
using Place = std::vector<Frame>;

struct State {
  World world;
  std::vector<Place> places;  ///< the last one is read; those under it were interrupted
  bool has_begun = false;     ///< "before every line but the first of the run"
  std::set<RoleId> wetting;   ///< who is within the contact time of the line that stands next
  friend bool operator<(const State& a, const State& b) {
    return std::tie(a.places, a.has_begun, a.wetting, a.world) < std::tie(b.places, b.has_begun, b.wetting, b.world);
  }
};

/// Where one step led: the findings on the way, and the state after it unless the run is over or cut.
struct Outcome {
  std::set<Finding> findings;
  std::optional<State> next;
};

class Walk {
 public:
  Walk(const Protocol& protocol, const Variant& variant, Result& result)
      : case_{protocol, variant, &result.occurred, &result.paths} {}

  Outcome first() const {
    Step step = fresh_step(World{});
    begin(step);
    step.path = {{Passed::What::start}};
    State state;
    state.places = {{Frame{}}};
    return advance(std::move(step), std::move(state));
  }

  std::vector<Outcome> after(const State& state) const {
    std::vector<Outcome> outcomes;
    if (state.has_begun) strike_all(state, outcomes);
    for (const Line* line : next_lines(state)) {
      if (state.wetting.count(line->who) > 0)
        outcomes.push_back(end_of_contact_time(state, *line));
      else
        do_next_line(state, *line, outcomes);
    }
    return outcomes;
  }

 private:
  Case case_;

  Step fresh_step(const World& world) const {
    Step step;
    step.of = &case_;
    step.world = world;
    return step;
  }

  const Statement* statement_at(const Frame& frame) const {
    const auto& statements = case_.protocol[frame.block].statements;
    return frame.index < statements.size() ? &statements[frame.index] : nullptr;
  }

  /// The lines of a `together` that are for this variant, by person, in their order.
  std::map<RoleId, std::vector<const Line*>> shares_of(BlockId block) const {
    std::map<RoleId, std::vector<const Line*>> shares;
    for (const Statement& statement : case_.protocol[block].statements) {
      const Line& line = case_.protocol[statement.line];
      if (model::holds(line.only_for, case_.variant)) shares[line.who].push_back(&line);
    }
    return shares;
  }

  /// What may be done next: one line, or inside a `together` the next line of each person who has one.
  std::vector<const Line*> next_lines(const State& state) const {
    const Frame& frame = state.places.back().back();
    if (!frame.is_together) return {&case_.protocol[statement_at(frame)->line]};
    std::vector<const Line*> lines;
    for (const auto& [who, share] : shares_of(frame.block)) {
      const auto done = frame.done.find(who);
      const std::size_t at = done == frame.done.end() ? 0 : done->second;
      if (at < share.size()) lines.push_back(share[at]);
    }
    return lines;
  }

  static void step_past(State& state, const Line& line) {
    Frame& frame = state.places.back().back();
    if (frame.is_together)
      ++frame.done[line.who];
    else
      ++frame.index;
  }

  // -------------------------------------------------------------- steps

  void strike_all(const State& state, std::vector<Outcome>& outcomes) const {
    for (std::uint32_t at = 0; at < case_.protocol.interruptions.size(); ++at) {
      const InterruptionId id{at};
      if (state.world.struck.count(id) > 0) continue;
      Step step = fresh_step(state.world);
      strike(step, id);
      step.path = {{Passed::What::strike, at}};
      State next = state;
      next.wetting.clear();  // "`resume` stands before the same line again, so an interrupted disinfection is done anew"
      next.places.push_back({Frame{case_.protocol[id].block}});
      outcomes.push_back(continue_after(std::move(step), std::move(next)));
    }
  }

  Outcome end_of_contact_time(const State& state, const Line& line) const {
    Step step = fresh_step(state.world);
    step.other_is_busy = next_lines(state).size() > 1;
    end_contact_time(step, line);
    step.path = {{Passed::What::line, line_id(line)}};
    State next = state;
    next.wetting.erase(line.who);
    step_past(next, line);
    return continue_after(std::move(step), std::move(next));
  }

  void do_next_line(const State& state, const Line& line, std::vector<Outcome>& outcomes) const {
    Step before = fresh_step(state.world);
    before.other_is_busy = next_lines(state).size() > 1;
    if (before.other_is_busy) before.note("together: either may be first");
    for (Step& step : do_line(std::move(before), line)) {
      State next = state;
      next.has_begun = true;
      if (has_contact_time(line)) {
        outcomes.push_back(stay_in_contact_time(std::move(step), std::move(next), line));
      } else {
        step.path = {{Passed::What::line, line_id(line)}};
        pass_time(step, line);  // a line that is passed over takes its time, too
        step_past(next, line);
        outcomes.push_back(continue_after(std::move(step), std::move(next)));
      }
    }
  }

  Outcome stay_in_contact_time(Step step, State next, const Line& line) const {
    hold_always(step);
    Outcome outcome{step.findings, std::nullopt};
    if (step.has_error()) return outcome;
    next.wetting.insert(line.who);
    next.world = std::move(step.world);
    outcome.next = std::move(next);
    return outcome;
  }

  Outcome continue_after(Step step, State next) const {
    hold_always(step);
    step.line = nullptr;
    return advance(std::move(step), std::move(next));
  }

  // -------------------------------------------------------------- between the lines

  std::uint32_t line_id(const Line& line) const {
    return static_cast<std::uint32_t>(&line - case_.protocol.lines.data());
  }

  void note_path(const Step& step) const { case_.paths->insert(step.path); }

  /// Reads on until an action line stands next or the run is over.
  Outcome advance(Step step, State state) const {
    for (;;) {
      if (state.places.back().empty()) {  // `finish as`
        note_path(step);
        return {step.findings, std::nullopt};
      }
      Place& place = state.places.back();
      if (!place.back().block) {
        read_phase(step, place);
      } else if (place.back().is_together) {
        if (!next_lines(state).empty()) return stand(step, std::move(state));
        place.pop_back();
      } else if (const Statement* statement = statement_at(place.back())) {
        if (is_line(*statement)) return stand(step, std::move(state));
        read_statement(step, state, *statement);
      } else {
        leave_block(step, place);
      }
    }
  }

  Outcome stand(Step& step, State state) const {
    const bool has_come_back = !step.path.empty() && step.path.back().what == Passed::What::resume;
    if (!has_come_back) step.path.push_back({Passed::What::line, line_id(*next_lines(state).front())});
    note_path(step);
    if (step.has_error()) return {step.findings, std::nullopt};
    state.world = std::move(step.world);
    return {step.findings, std::move(state)};
  }

  bool is_line(const Statement& statement) const {
    return statement.what == Statement::What::line &&
           model::holds(case_.protocol[statement.line].only_for, case_.variant);
  }

  /// "The last phase ends without `finish as`: F101."
  void read_phase(Step& step, Place& place) const {
    Frame& frame = place.back();
    if (frame.index == case_.protocol.phases.size()) return run_off_the_end(step, place);
    const BlockId block = case_.protocol.phases[frame.index++].block;
    place.push_back(Frame{block});
  }

  void run_off_the_end(Step& step, Place& place) const {
    step.where = "end";
    step.path.push_back({Passed::What::off_the_end});
    step.say(Code::F101, std::string(), RoleId{});
    place.clear();
  }

  void read_statement(Step& step, State& state, const Statement& statement) const {
    Place& place = state.places.back();
    switch (statement.what) {
      case Statement::What::line: ++place.back().index; break;  // not for this variant
      case Statement::What::question: choose_arm(step, place, statement); break;
      case Statement::What::only_for:
        ++place.back().index;
        if (model::holds(statement.only_for, case_.variant)) place.push_back(Frame{statement.block});
        break;
      case Statement::What::call:
        ++place.back().index;
        place.push_back(Frame{statement.block});
        break;
      case Statement::What::together:
        ++place.back().index;
        place.push_back(Frame{statement.block, 0, 0, true, {}});
        break;
      case Statement::What::repeat: place.push_back(Frame{statement.block, 0, 1, false, {}}); break;
      case Statement::What::finish:
        if (state.places.size() > 1) step.note("interruption: ends the run");
        step.path.push_back({Passed::What::ending, statement.ending.value});
        finish(step, statement.ending);
        place.clear();
        break;
      case Statement::What::resume:
        step.note("interruption: resumes");
        step.path.push_back({Passed::What::resume});
        state.places.pop_back();
        break;
    }
  }

  void choose_arm(Step& step, Place& place, const Statement& statement) const {
    ++place.back().index;
    for (std::size_t at = 0; at < statement.arms.size(); ++at) {
      const Statement::Arm& arm = statement.arms[at];
      if (!arm.is_otherwise && !answer(step, arm.condition)) continue;
      step.path.push_back({Passed::What::question, 0, &statement.arms.front().condition, arm.is_otherwise ? 0 : at + 1});
      place.push_back(Frame{arm.block});
      return;
    }
    if (!statement.arms.empty()) step.path.push_back({Passed::What::question, 0, &statement.arms.front().condition, 0});
  }

  /// At the end of a block: a loop's body asks its question; every other block is left.
  void leave_block(Step& step, Place& place) const {
    const Frame ended = place.back();
    place.pop_back();
    if (place.empty()) return run_off_the_end(step, place);  // a handler without `resume`
    Frame& below = place.back();
    if (!below.block) return;  // a phase
    const Statement* statement = statement_at(below);
    if (ended.pass == 0) {
      // Questions, calls and `only for` were stepped past when they were entered; a fallback stands on its loop.
      const bool is_fallback =
          statement != nullptr && statement->what == Statement::What::repeat && statement->fallback == ended.block;
      if (is_fallback) ++below.index;
      return;
    }
    const bool is_so = answer(step, statement->until);
    step.path.push_back({Passed::What::loop, 0, &statement->until, is_so ? std::size_t{1} : ended.pass < statement->at_most ? std::size_t{0} : std::size_t{2}});
    if (is_so) {
      step.note("loop: ends by its answer");
      ++below.index;
    } else if (ended.pass < statement->at_most) {
      place.push_back(Frame{statement->block, 0, ended.pass + 1, false, {}});
    } else if (statement->fallback) {
      step.note("loop: ends by its last pass");
      place.push_back(Frame{statement->fallback});
    } else {
      ++below.index;
    }
  }
};

void note(Result& result, const Outcome& outcome, int steps) {
  for (const Finding& finding : outcome.findings) result.shortest.insert({finding, steps});
}

}  // namespace

Result explore(const Protocol& protocol, const Variant& variant, std::size_t most_states) {
  Result result;
  const Walk walk(protocol, variant, result);
  std::set<State> seen;
  std::deque<std::pair<const State*, int>> waiting;  // a set's elements stay where they are
  const auto reach = [&](Outcome outcome, int steps) {
    note(result, outcome, steps);
    if (!outcome.next) return;
    const auto [state, is_new] = seen.insert(std::move(*outcome.next));
    if (is_new) waiting.push_back({&*state, steps});
  };
  reach(walk.first(), 0);
  while (!waiting.empty() && seen.size() <= most_states) {
    const auto [state, steps] = waiting.front();
    waiting.pop_front();
    result.longest = steps;
    for (Outcome& outcome : walk.after(*state)) reach(std::move(outcome), steps + 1);
  }
  result.states = seen.size();
  result.is_complete = waiting.empty();
  return result;
}

}  // namespace stepward::oracle
