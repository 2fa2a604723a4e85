#include "explore/walk.hpp"

#include <algorithm>
#include <condition_variable>
#include <mutex>
#include <thread>

#include "explore/state_set.hpp"
#include "explore/stepper.hpp"

namespace stepward::explore {
namespace {

constexpr std::uint32_t block_size = 64;

class Walk {
 public:
  Walk(const Packed& packed, const Options& options)
      : packed_(packed), options_(options), result_(packed.words), set_(result_.states, packed.words) {
    result_.edge_taken.assign(packed.edges.size(), false);
    result_.node_reached.assign(packed.nodes.size(), false);
    for (unsigned t = 0; t < std::max(1u, options.threads); ++t) steppers_.emplace_back(packed, options.interruptions);
  }

  Result run() {
    begin();
    std::uint32_t from = 0;
    while (result_.stopped == Stopped::no && from < result_.size()) {
      const std::uint32_t end = result_.size();
      result_.depth_ends.push_back(end);
      ++steps_;
      if (steppers_.size() > 1 && end - from >= options_.shared_from) share(from, end);
      else alone(from, end);
      from = end;
    }
    result_.complete = result_.stopped == Stopped::no;
    return std::move(result_);
  }

 private:
  void begin() {
    Batch batch;
    steppers_.front().begin(batch);
    if (!make_room(batch)) return;
    if (!batch.steps.front().over) take_in<0>(batch, 0, 0);
    note_signs(batch, 1);
  }

  void alone(std::uint32_t from, std::uint32_t end) {
    for (std::uint32_t first = from; first < end && result_.stopped == Stopped::no; first += block_size) {
      expand(steppers_.front(), batch_, first, std::min(end, first + block_size));
      take_in(batch_);
    }
  }

  void share(std::uint32_t from, std::uint32_t end);

  void expand(Stepper& stepper, Batch& batch, std::uint32_t first, std::uint32_t last) const {
    batch.clear();
    batch.first = first;
    batch.last = last;
    for (std::uint32_t s = first; s < last; ++s) {
      stepper.expand(result_.state(s), s != 0, batch);
      batch.step_ends.push_back(static_cast<std::uint32_t>(batch.steps.size()));
    }
  }

  // Looks up a whole batch, numbers what is new, and stops where the limit says so.
  void take_in(const Batch& batch) {
    if (!make_room(batch)) return;
    for (const Step& step : batch.steps) if (!step.over) set_.prefetch(step.hash);
    for (const Step& step : batch.steps) if (!step.over) set_.prefetch_state(step.hash);
    std::uint32_t step = 0;
    with_words(packed_.words, [&](auto words) {
      for (std::uint32_t s = batch.first; s < batch.last && !stop_here(); ++s) {
        for (; step < batch.step_ends[s - batch.first]; ++step) result_.successors.push_back(take_in<words()>(batch, step, s));
        result_.successor_ends.push_back(static_cast<std::uint32_t>(result_.successors.size()));
      }
    });
    result_.transitions = result_.successors.size();
    note_signs(batch, step);
  }

  // The state that a step leads to; one that nobody met before is appended.
  template <std::uint32_t Words>
  std::uint32_t take_in(const Batch& batch, std::uint32_t step, std::uint32_t from) {
    const Step& it = batch.steps[step];
    if (it.over) return UINT32_MAX;
    const std::uint32_t words = Words ? Words : packed_.words;
    const std::uint64_t* const w = batch.words.data() + std::size_t(step) * words;
    const std::uint32_t next = result_.size(), to = set_.insert<Words>(w, it.hash, next);
    if (to != next) return to;
    std::copy_n(w, words, result_.states.append_row());
    result_.parent.push_back(it.via == UINT32_MAX ? UINT32_MAX : from);
    result_.via.push_back(it.via);
    return to;
  }

  void note_signs(const Batch& batch, std::uint32_t steps) {
    for (const Sign& sign : batch.signs) {
      if (sign.step >= steps) break;
      switch (sign.what) {
        case Sign::What::edge: result_.edge_taken[sign.number] = true; break;
        case Sign::What::node: result_.node_reached[sign.number] = true; break;
        case Sign::What::report: note_report(batch, sign); break;
      }
    }
  }

  void note_report(const Batch& batch, const Sign& sign) {
    if (std::any_of(result_.found.begin(), result_.found.end(), [&](const Found& f) { return f.report == sign.number; })) return;
    const auto state = std::upper_bound(batch.step_ends.begin(), batch.step_ends.end(), sign.step) - batch.step_ends.begin();
    result_.found.push_back({sign.number, batch.first + static_cast<std::uint32_t>(state), batch.steps[sign.step].via, steps_});
  }

  bool make_room(const Batch& batch) {
    const std::size_t more = batch.steps.size(), states = batch.last - batch.first;
    const bool room = set_.make_room(more) && result_.states.make_room(more) && result_.parent.make_room(more) && result_.via.make_room(more) &&
                      result_.successors.make_room(more) && result_.successor_ends.make_room(states);
    if (!room) result_.stopped = Stopped::by_memory;
    return room;
  }

  // Words, parent, edge and end of successors of each state; its share of a table that has just been doubled and still
  // stands beside the old one, at three quarters of that one's slots, which path_sums does not exceed later.
  bool stop_here() {
    const std::uint64_t a_state = packed_.words * 8 + 12 + 32;
    if (result_.size() > options_.limit) result_.stopped = Stopped::by_limit;
    else if (result_.size() * a_state + result_.successors.size() * 4 > most_bytes(options_.limit)) result_.stopped = Stopped::by_memory;
    return result_.stopped != Stopped::no;
  }

  friend class SharedDepth;

  const Packed& packed_;
  const Options& options_;
  Result result_;
  StateSet set_;
  std::vector<Stepper> steppers_;
  Batch batch_;
  std::uint32_t steps_ = 0;
};

/// The states of one depth, worked on by several threads.
class SharedDepth {
 public:
  SharedDepth(Walk& walk, std::uint32_t from, std::uint32_t end)
      : walk_(walk), from_(from), end_(end), blocks_((end - from + block_size - 1) / block_size), batches_(walk.steppers_.size() * 8) {}

  // Taking in comes first: others can only go on when what they have is taken.
  void work(Stepper& stepper) {
    std::unique_lock lock(mutex_);
    while (taken_ < blocks_ && !stopped_) {
      if (!someone_takes_ && batches_[taken_ % batches_.size()].ready) take_in(lock);
      else if (next_ < blocks_ && next_ < taken_ + batches_.size()) expand(lock, stepper);
      else changed_.wait(lock);
    }
  }

 private:
  struct Waiting { Batch batch; bool ready = false; };

  void take_in(std::unique_lock<std::mutex>& lock) {
    Waiting& next = batches_[taken_ % batches_.size()];
    someone_takes_ = true;
    lock.unlock();
    walk_.take_in(next.batch);
    const bool stopped = walk_.result_.stopped != Stopped::no;
    lock.lock();
    stopped_ = stopped;
    someone_takes_ = false;
    next.ready = false;
    ++taken_;
    changed_.notify_all();
  }

  void expand(std::unique_lock<std::mutex>& lock, Stepper& stepper) {
    const std::uint32_t block = next_++, first = from_ + block * block_size;
    Waiting& mine = batches_[block % batches_.size()];
    lock.unlock();
    walk_.expand(stepper, mine.batch, first, std::min(end_, first + block_size));
    lock.lock();
    mine.ready = true;
    changed_.notify_all();
  }

  Walk& walk_;
  std::uint32_t from_, end_, blocks_;
  std::vector<Waiting> batches_;
  std::mutex mutex_;
  std::condition_variable changed_;
  std::uint32_t next_ = 0, taken_ = 0;  ///< blocks: the next to expand; how many were taken in
  bool someone_takes_ = false, stopped_ = false;
};

void Walk::share(std::uint32_t from, std::uint32_t end) {
  SharedDepth depth(*this, from, end);
  std::vector<std::thread> others;
  for (std::size_t t = 1; t < steppers_.size(); ++t) others.emplace_back([&, t] { depth.work(steppers_[t]); });
  depth.work(steppers_.front());
  for (std::thread& other : others) other.join();
}

}  // namespace

Result walk(const Packed& packed, const Options& options) { return Walk(packed, options).run(); }

std::vector<std::uint32_t> run_to(const Result& result, const Found& found) {
  std::vector<std::uint32_t> out;
  if (found.edge == UINT32_MAX) return out;
  out.push_back(found.edge);
  for (std::uint32_t s = found.state; s != 0; s = result.parent[s]) out.push_back(result.via[s]);
  std::reverse(out.begin(), out.end());
  return out;
}

// Kahn's order over the stored successors; a state that is never released would lie on a cycle.
std::vector<std::uint32_t> in_order(const Result& r) {
  std::vector<std::uint32_t> waiting(r.size(), 0), order;
  for (std::uint32_t to : r.successors) if (to != UINT32_MAX) ++waiting[to];
  order.reserve(r.size());
  if (r.size()) order.push_back(0);
  for (std::size_t i = 0; i < order.size(); ++i) {
    const std::uint32_t s = order[i];
    for (std::uint32_t k = s ? r.successor_ends[s - 1] : 0; k < r.successor_ends[s]; ++k)
      if (const std::uint32_t to = r.successors[k]; to != UINT32_MAX && --waiting[to] == 0) order.push_back(to);
  }
  return order;
}

PathSums path_sums(const Result& r) {
  PathSums sums;
  sums.order = in_order(r);
  std::vector<std::uint32_t> longest(r.size(), 0);
  std::vector<double> ways(r.size(), 0);
  if (r.size()) ways[0] = 1;
  for (const std::uint32_t s : sums.order)
    for (std::uint32_t k = s ? r.successor_ends[s - 1] : 0; k < r.successor_ends[s]; ++k) {
      const std::uint32_t to = r.successors[k];
      if (to == UINT32_MAX) { sums.paths += ways[s]; sums.longest = std::max(sums.longest, longest[s] + 1); continue; }
      ways[to] += ways[s];
      longest[to] = std::max(longest[to], longest[s] + 1);
    }
  sums.acyclic = sums.order.size() == r.size();
  return sums;
}

}  // namespace stepward::explore
