#include "reliability/event_order.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace stepward::reliability {
namespace {

/// What is known of an event while an order is made.
struct Standing {
  std::vector<std::size_t> sets;  ///< that it is in
  bool asked = false;
  std::size_t unfinished = 0;     ///< those of its sets that hold an event that was not asked for
};

/// Cut sets while their events are asked for.
class Asking {
 public:
  explicit Asking(const std::vector<CutSet>& sets) : sets_(sets) {
    for (std::size_t s = 0; s < sets.size(); ++s) {
      left_.push_back(sets[s].size());
      for (const EventId event : sets[s]) {
        events_[event].sets.push_back(s);
        ++events_[event].unfinished;
      }
    }
  }

  const std::map<EventId, Standing>& events() const { return events_; }
  std::size_t pending() const { return pending_; }

  void ask(EventId event) {
    Standing& own = events_[event];
    own.asked = true;
    ++pending_;
    for (const std::size_t s : own.sets) {
      if (--left_[s] == 0) finish(s);
    }
  }

  /// How many would be pending after this question.
  std::size_t pending_after(EventId event) const {
    std::map<EventId, std::size_t> finished;
    for (const std::size_t s : events_.at(event).sets) {
      if (left_[s] > 1) continue;
      for (const EventId other : sets_[s]) ++finished[other];
    }
    std::size_t done = 0;
    for (const auto& [other, count] : finished) done += events_.at(other).unfinished == count;
    return pending_ + 1 - done;
  }

  std::size_t begun_with(EventId event) const {
    const auto& sets = events_.at(event).sets;
    return static_cast<std::size_t>(
        std::count_if(sets.begin(), sets.end(), [&](std::size_t s) { return left_[s] < sets_[s].size(); }));
  }

 private:
  void finish(std::size_t set) {
    for (const EventId event : sets_[set]) {
      if (--events_[event].unfinished == 0 && events_[event].asked) --pending_;
    }
  }

  const std::vector<CutSet>& sets_;
  std::vector<std::size_t> left_;  ///< of each set, the events not asked for
  std::map<EventId, Standing> events_;
  std::size_t pending_ = 0;
};

std::vector<EventId> numbered(const std::vector<CutSet>& sets) {
  std::vector<EventId> order;
  const Asking asking(sets);
  for (const auto& [event, standing] : asking.events()) order.push_back(event);
  return order;
}

std::vector<EventId> greedy(const std::vector<CutSet>& sets) {
  Asking asking(sets);
  std::vector<EventId> waiting = numbered(sets), order;
  while (!waiting.empty()) {
    std::size_t best = 0;
    std::tuple<std::size_t, std::size_t, std::size_t> least;
    for (std::size_t i = 0; i < waiting.size(); ++i) {
      const std::size_t all = asking.events().at(waiting[i]).sets.size();
      const std::tuple cost(asking.pending_after(waiting[i]), sets.size() - asking.begun_with(waiting[i]), sets.size() - all);
      if (i == 0 || cost < least) std::tie(best, least) = std::pair(i, cost);
    }
    asking.ask(waiting[best]);
    order.push_back(waiting[best]);
    waiting.erase(waiting.begin() + static_cast<std::ptrdiff_t>(best));
  }
  return order;
}

}  // namespace

std::size_t most_pending(const std::vector<CutSet>& sets, const std::vector<EventId>& order) {
  Asking asking(sets);
  std::size_t most = 0;
  for (const EventId event : order) {
    asking.ask(event);
    most = std::max(most, asking.pending());
  }
  return most;
}

std::vector<EventId> order_of_events(const std::vector<CutSet>& sets) {
  const std::vector<EventId> first = numbered(sets), second = greedy(sets);
  return most_pending(sets, second) < most_pending(sets, first) ? second : first;
}

}  // namespace stepward::reliability
