#include "explore/deviation.hpp"

#include <algorithm>

#include "explore/redo.hpp"

namespace stepward::explore {
namespace {

/// So many quiet states are kept at most; beyond that it is cheaper to find them anew than to hold them.
constexpr std::size_t most_quiet = 4'000'000;

}  // namespace

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
      off_(packed.words), second_(packed.words), third_(packed.words), on_first_(packed.nodes.size()), on_second_(packed.nodes.size()), quiet_states_(packed.words), quiet_(quiet_states_, packed.words) {}

// States where it begins lie at different depths; the soonest of those and of the states that wait comes next, so that
// the first run to harm is a shortest one.
void Deviations::pursue(Off& off, std::uint32_t edge, const Begins& begins, Search search, Followed& out) {
  std::size_t next_begin = 0;
  for (std::uint32_t next = 0; next_begin < begins.states.size() || next < off.before.size();) {
    const bool waits = next < off.before.size();
    const bool begin = next_begin < begins.states.size() && (!waits || begins.steps_to(begins.states[next_begin]) < off.steps[next]);
    batch_.clear();
    if (begin) {
      const std::uint32_t state = begins.states[next_begin++];
      stepper_.follow_one(begins.row(state), edge, batch_);
      take_in(off, begins.row(state), nowhere, state, begins.steps_to(state) + 1, search, out);
    } else {
      const std::uint32_t here = next++;
      stepper_.expand(off.states.row(here), interruptions_, batch_);
      take_in(off, off.states.row(here), here, off.from[here], off.steps[here] + 1, search, out);
    }
    if (!out.complete || (search == Search::harm && !out.harms.empty())) return;
  }
}

Followed Deviations::follow(graph::NodeId at, std::uint32_t edge) {
  Followed out;
  off_.clear();
  const Begins begins{trodden_.at_node[at.value], [&](std::uint32_t s) { return trodden_.walk.state(s); }, [&](std::uint32_t s) { return trodden_.depth[s]; }};
  pursue(off_, edge, begins, Search::all, out);
  out.states = static_cast<std::uint32_t>(off_.before.size());
  out.changes_nothing = out.states == 0 && out.harms.empty() && out.halts.empty();
  return out;
}

void Deviations::ByNode::sort(const Off& off, Slot node) {
  for (const std::uint32_t n : used_) at_[n].clear();
  used_.clear();
  for (std::uint32_t s = 0; s < off.before.size(); ++s) {
    const std::uint32_t n = get(off.states.row(s), node);
    if (at_[n].empty()) used_.push_back(n);
    at_[n].push_back(s);
  }
}

Followed Deviations::pursue_from(const Off& earlier, const ByNode& places, const Second& edge, Search search, Off& off) {
  Followed out;
  off.clear();
  const Begins begins{places.at(edge.at), [&](std::uint32_t s) { return earlier.states.row(s); }, [&](std::uint32_t s) { return earlier.steps[s]; }};
  pursue(off, edge.edge, begins, search, out);
  return out;
}

bool Deviations::follow_seconds(const std::vector<Second>& seconds, std::vector<Joint>& joints) {
  keep_quiet(off_);
  on_first_.sort(off_, packed_.node);
  for (std::uint32_t k = 0; k < seconds.size(); ++k) {
    if (on_first_.at(seconds[k].at).empty()) continue;
    const Followed out = pursue_from(off_, on_first_, seconds[k], Search::harm, second_);
    if (!out.complete) return false;
    if (out.harms.empty()) keep_quiet(second_);
    else joints.push_back({k, out.harms.front().report, behind(off_, out.harms.front().run)});
  }
  return true;
}

bool Deviations::follow_thirds(const std::vector<Second>& others, const AreEnough& are_enough, std::vector<Threefold>& found) {
  keep_quiet(off_);
  on_first_.sort(off_, packed_.node);
  for (std::uint32_t k = 0; k < others.size(); ++k) {
    if (on_first_.at(others[k].at).empty()) continue;
    if (!pursue_from(off_, on_first_, others[k], Search::onward, second_).complete) return false;
    keep_quiet(second_);
    if (!follow_third(k, others, are_enough, found)) return false;
  }
  return true;
}

bool Deviations::follow_third(std::uint32_t second, const std::vector<Second>& others, const AreEnough& are_enough, std::vector<Threefold>& found) {
  on_second_.sort(second_, packed_.node);
  for (std::uint32_t k = 0; k < others.size(); ++k) {
    if (k == second || on_second_.at(others[k].at).empty() || are_enough(second, k)) continue;
    const Followed out = pursue_from(second_, on_second_, others[k], Search::harm, third_);
    if (!out.complete) return false;
    if (out.harms.empty()) keep_quiet(third_);
    else found.push_back({second, k, out.harms.front().report, behind(off_, behind(second_, out.harms.front().run))});
  }
  return true;
}

// The run off the earlier deviation is continued backwards along it.
RunOff Deviations::behind(const Off& earlier, const RunOff& later) const {
  const std::uint32_t leaves_at = later.state;
  RunOff whole = run_of(earlier, earlier.before[leaves_at], earlier.from[leaves_at], earlier.via[leaves_at], later.steps);
  whole.edges.insert(whole.edges.end(), later.edges.begin(), later.edges.end());
  return whole;
}

bool Deviations::is_left(const std::uint64_t* w, std::uint64_t hash, Search search) const {
  if (trodden_.set.find(w, hash) != nowhere) return true;
  switch (search) {
    case Search::all: return false;
    case Search::onward: return off_.set.find(w, hash) != nowhere;
    case Search::harm: return quiet_.find(w, hash) != nowhere;
  }
  return false;
}

// The steps in the batch, all from one state.
void Deviations::take_in(Off& off, const std::uint64_t* before, std::uint32_t index, std::uint32_t from, std::uint32_t steps, Search search, Followed& out) {
  for (std::size_t k = 0; k < batch_.steps.size(); ++k) {
    const Step step = batch_.steps[k];
    const std::uint64_t* const w = batch_.words.data() + k * packed_.words;
    if (signs_.may_note[step.via]) note(before, step.via, out);
    if (step.over || is_seen(before, step.via)) {
      end_of(off, before, step, index, from, steps, out);
      continue;
    }
    if (is_left(w, step.hash, search)) continue;
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
  const std::size_t most = std::min<std::uint64_t>(most_quiet, limit_ / 2);
  if (off.before.size() > most) return;
  if (quiet_states_.size() + off.before.size() > most) {
    quiet_states_.clear();
    quiet_.clear();
  }
  for (std::uint32_t s = 0; s < off.before.size(); ++s) {
    if (!quiet_.make_room(1) || !quiet_states_.make_room(1)) return;
    const std::uint64_t* const w = off.states.row(s);
    const auto next = static_cast<std::uint32_t>(quiet_states_.size());
    if (quiet_.insert(w, StateSet::hash(w, packed_.words), next) == next) std::copy_n(w, packed_.words, quiet_states_.append_row());
  }
}

bool Deviations::has_room(Off& off) {
  return off_.before.size() + second_.before.size() + third_.before.size() + quiet_states_.size() < limit_ && off.set.make_room(1) && off.states.make_room(1);
}

}  // namespace stepward::explore
