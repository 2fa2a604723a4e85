#pragma once
// What is known of things by their number, and forgotten all at once: every edge begins anew, and touches few of thousands.

#include <cstdint>
#include <utility>
#include <vector>

namespace stepward::explore {

template <class T>
class KnownOfEdge {
 public:
  explicit KnownOfEdge(std::size_t things) : of_(things) {}
  void forget() { ++edge_; }
  /// What is known of it, and whether that is nothing yet.
  std::pair<T&, bool> at(std::uint32_t thing) {
    Known& known = of_[thing];
    const bool is_new = std::exchange(known.edge, edge_) != edge_;
    return {known.what, is_new};
  }

 private:
  struct Known { std::uint32_t edge = 0; T what{}; };
  std::vector<Known> of_;
  std::uint32_t edge_ = 1;
};

}  // namespace stepward::explore
