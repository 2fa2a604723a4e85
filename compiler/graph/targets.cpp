#include "graph/targets.hpp"

namespace stepward::graph {

namespace {

/// What a reader sees who is sent to this entry; nowhere: it is no place to be sent to, look at the next one.
Target as_target(const Entry& entry) {
  switch (entry.what) {
    case Entry::What::step:
    case Entry::What::question:
    case Entry::What::repeat_asks:
    case Entry::What::box: return entry.label.empty() ? Target{} : Target{Target::What::label, entry.label, {}};
    case Entry::What::finish: return {Target::What::ending, {}, entry.ending};
    case Entry::What::resume: return {Target::What::resume, {}, {}};
    case Entry::What::phase:
    case Entry::What::repeat_begins:
    case Entry::What::together_begins: return {};
  }
  return {};
}

bool never_returns(const Entry& entry) {
  return entry.what == Entry::What::finish || entry.what == Entry::What::resume;
}

void find_in_run(Course& course, RunId id, const Target& after);

/// A branch that runs to its end goes on at `after`; one that finishes never does.
void find_in_fork(Course& course, Fork& fork, const Target& after) {
  if (!fork.run) {
    fork.first = after;
    fork.go_on = after;
    return;
  }
  find_in_run(course, fork.run, after);
  const auto& entries = course.runs[fork.run.value].entries;
  fork.go_on = entries.empty() || !never_returns(entries.back()) ? after : Target{};
  for (const Entry& entry : entries) {
    fork.first = as_target(entry);
    if (fork.first.what != Target::What::nowhere || entry.what == Entry::What::box) return;
  }
}

void find_in_run(Course& course, RunId id, const Target& after) {
  std::vector<Entry> entries = std::move(course.runs[id.value].entries);
  // targets[i]: where a reader lands who is to go on at position i
  std::vector<Target> targets(entries.size() + 1, after);
  for (std::size_t i = entries.size(); i-- > 0;) {
    Entry& entry = entries[i];
    entry.go_on = never_returns(entry) ? Target{} : targets[i + 1];
    const Target own = as_target(entry);
    targets[i] = own.what == Target::What::nowhere ? targets[i + 1] : own;
    for (Fork& fork : entry.forks) {
      if (fork.is_trunk) {
        fork.first = targets[i + 1];
        continue;
      }
      find_in_fork(course, fork, entry.what == Entry::What::question ? targets[entry.skip_to] : targets[i + 1]);
    }
  }
  course.runs[id.value].entries = std::move(entries);
}

}  // namespace

void find_targets(Course& course) {
  find_in_run(course, course.trunk, {});
  for (const Box& box : course.boxes) find_in_run(course, box.run, {Target::What::back, box.label, {}});
  for (const Breach& breach : course.breaches) find_in_run(course, breach.run, {});
}

}  // namespace stepward::graph
