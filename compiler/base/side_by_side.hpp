#pragma once
// Work that falls into parts which know nothing of each other, by several threads; the result depends on no number of them.

#include <atomic>
#include <cstddef>
#include <exception>
#include <functional>
#include <thread>
#include <vector>

namespace stepward {

/// Calls `job` for 0 … count-1, by so many workers at a time; a job writes only what is its own. When all are done, what the first
/// of the failed ones threw is thrown again.
inline void side_by_side(std::size_t count, unsigned workers, const std::function<void(std::size_t)>& job) {
  std::atomic<std::size_t> next{0};
  std::vector<std::exception_ptr> faults(count);
  const auto work = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        job(i);
      } catch (...) {
        faults[i] = std::current_exception();
      }
    }
  };
  std::vector<std::thread> others;
  for (unsigned w = 1; w < workers && w < count; ++w) others.emplace_back(work);
  work();
  for (std::thread& other : others) other.join();
  for (const std::exception_ptr& fault : faults) {
    if (fault) std::rethrow_exception(fault);
  }
}

}  // namespace stepward
