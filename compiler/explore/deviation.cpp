#include "explore/deviation.hpp"

#include <algorithm>
#include <map>

#include "explore/redo.hpp"

namespace stepward::explore {

Trodden::Trodden(const Packed& packed, Result finished) : walk(std::move(finished)), set(walk.states, walk.words), at_node(packed.nodes.size()) {
  std::uint32_t steps = 0;
  for (std::uint32_t s = 0; s < walk.size(); ++s) {
    while (steps < walk.depth_ends.size() && s >= walk.depth_ends[steps]) ++steps;
    depth.push_back(steps);
    at_node[get(walk.state(s), packed.node)].push_back(s);
    if (set.make_room(1)) set.insert(walk.state(s), StateSet::hash(walk.state(s), walk.words), s);
  }
}

void Deviations::Off::clear() {
  states.clear();
  set.clear();
  for (auto* list : {&before, &via, &steps, &from}) list->clear();
}

Deviations::Deviations(const Packed& packed, const Trodden& trodden, const Signs& signs, bool interruptions, std::uint64_t limit)
    : packed_(packed), trodden_(trodden), signs_(signs), limit_(limit), interruptions_(interruptions), stepper_(packed, interruptions),
      off_(packed.words), second_(packed.words), quiet_states_(packed.words), quiet_(quiet_states_, packed.words) {}

// States where it begins lie at different depths; the soonest of those and of the states that wait comes next, so that
// the first run to harm is a shortest one.
void Deviations::pursue(Off& off, std::uint32_t edge, const Begins& begins, bool only_new_harm, Followed& out) {
  std::size_t next_begin = 0;
  for (std::uint32_t next = 0; next_begin < begins.states.size() || next < off.before.size();) {
    const bool waits = next < off.before.size();
    const bool begin = next_begin < begins.states.size() && (!waits || begins.steps_to(begins.states[next_begin]) < off.steps[next]);
    batch_.clear();
    if (begin) {
      const std::uint32_t state = begins.states[next_begin++];
      stepper_.follow_one(begins.row(state), edge, batch_);
      take_in(off, begins.row(state), nowhere, state, begins.steps_to(state) + 1, only_new_harm, out);
    } else {
      const std::uint32_t here = next++;
      stepper_.expand(off.states.row(here), interruptions_, batch_);
      take_in(off, off.states.row(here), here, off.from[here], off.steps[here] + 1, only_new_harm, out);
    }
    if (!out.complete || (only_new_harm && !out.harms.empty())) return;
  }
}

Followed Deviations::follow(graph::NodeId at, std::uint32_t edge) {
  Followed out;
  off_.clear();
  const Begins begins{trodden_.at_node[at.value], [&](std::uint32_t s) { return trodden_.walk.state(s); }, [&](std::uint32_t s) { return trodden_.depth[s]; }};
  pursue(off_, edge, begins, false, out);
  out.states = static_cast<std::uint32_t>(off_.before.size());
  out.changes_nothing = out.states == 0 && out.harms.empty() && out.halts.empty();
  if (out.harms.empty() && out.complete) keep_quiet(off_);
  return out;
}

bool Deviations::follow_seconds(const std::vector<Second>& seconds, std::vector<Joint>& joints) {
  std::map<std::uint32_t, std::vector<std::uint32_t>> at_node;
  for (std::uint32_t s = 0; s < off_.before.size(); ++s) at_node[get(off_.states.row(s), packed_.node)].push_back(s);
  for (std::uint32_t k = 0; k < seconds.size(); ++k) {
    const auto here = at_node.find(seconds[k].at.value);
    if (here == at_node.end()) continue;
    Followed out;
    second_.clear();
    pursue(second_, seconds[k].edge, {here->second, [&](std::uint32_t s) { return off_.states.row(s); }, [&](std::uint32_t s) { return off_.steps[s]; }}, true, out);
    if (!out.complete) return false;
    if (out.harms.empty()) keep_quiet(second_);
    else joints.push_back({k, out.harms.front().report, behind_first(out.harms.front().run)});
  }
  return true;
}

// The run off the first deviation is continued backwards along it.
RunOff Deviations::behind_first(const RunOff& second) const {
  const std::uint32_t on_first = second.state;
  RunOff whole = run_of(off_, off_.before[on_first], off_.from[on_first], off_.via[on_first], second.steps);
  whole.edges.insert(whole.edges.end(), second.edges.begin(), second.edges.end());
  return whole;
}

// The steps in the batch, all from one state.
void Deviations::take_in(Off& off, const std::uint64_t* before, std::uint32_t index, std::uint32_t from, std::uint32_t steps, bool only_new_harm, Followed& out) {
  for (std::size_t k = 0; k < batch_.steps.size(); ++k) {
    const Step step = batch_.steps[k];
    const std::uint64_t* const w = batch_.words.data() + k * packed_.words;
    if (signs_.may_note[step.via]) note(before, step.via, out);
    if (step.over || is_seen(before, step.via)) {
      end_of(off, before, step, index, from, steps, out);
      continue;
    }
    if (is_trodden(w, step.hash) || (only_new_harm && quiet_.find(w, step.hash) != nowhere)) continue;
    if (!has_room(off)) { out.complete = false; return; }
    const auto next = static_cast<std::uint32_t>(off.before.size());
    if (off.set.insert(w, step.hash, next) != next) continue;
    std::copy_n(w, packed_.words, off.states.append_row());
    off.before.push_back(index);
    off.via.push_back(step.via);
    off.steps.push_back(steps);
    off.from.push_back(from);
  }
}

// The first report that weighs decides how a run ended; without one it came to its declared end, and to nothing.
void Deviations::end_of(Off& off, const std::uint64_t* before, const Step& step, std::uint32_t index, std::uint32_t from, std::uint32_t steps, Followed& out) {
  std::uint32_t decides = nowhere;
  if (step.over) {
    redo(packed_, before, step.via, [&](const PackedOp& op) {
      if (decides == nowhere && op.what == PackedOp::Do::report && signs_.reports[op.value] >= Weight::stop) decides = op.value;
    });
    if (decides == nowhere) return;
  }
  const bool harms = decides != nowhere && signs_.reports[decides] == Weight::harm;
  std::vector<Halt>& ends = harms ? out.harms : out.halts;
  const bool known = std::any_of(ends.begin(), ends.end(), [&](const Halt& h) { return h.report == decides && (decides != nowhere || h.edge == step.via); });
  if (!known) ends.push_back({decides, step.via, run_of(off, index, from, step.via, steps)});
}

void Deviations::note(const std::uint64_t* before, std::uint32_t edge, Followed& out) {
  redo(packed_, before, edge, [&](const PackedOp& op) {
    if (op.what != PackedOp::Do::report || signs_.reports[op.value] != Weight::note) return;
    if (std::find(out.notes.begin(), out.notes.end(), op.value) == out.notes.end()) out.notes.push_back(op.value);
  });
}

bool Deviations::is_seen(const std::uint64_t* before, std::uint32_t edge) const {
  const auto& fields = signs_.seen_by[edge];
  return std::any_of(fields.begin(), fields.end(), [&](Slot s) { return get(before, s) == 1; });
}

RunOff Deviations::run_of(const Off& off, std::uint32_t index, std::uint32_t from, std::uint32_t edge, std::uint32_t steps) const {
  RunOff out{from, {edge}, steps};
  for (; index != nowhere; index = off.before[index]) out.edges.push_back(off.via[index]);
  std::reverse(out.edges.begin(), out.edges.end());
  return out;
}

void Deviations::keep_quiet(const Off& off) {
  for (std::uint32_t s = 0; s < off.before.size(); ++s) {
    if (!quiet_.make_room(1) || !quiet_states_.make_room(1)) return;
    const std::uint64_t* const w = off.states.row(s);
    const auto next = static_cast<std::uint32_t>(quiet_states_.size());
    if (quiet_.insert(w, StateSet::hash(w, packed_.words), next) == next) std::copy_n(w, packed_.words, quiet_states_.append_row());
  }
}

bool Deviations::has_room(Off& off) {
  return off_.before.size() + second_.before.size() + quiet_states_.size() < limit_ && off.set.make_room(1) && off.states.make_room(1);
}

}  // namespace stepward::explore
