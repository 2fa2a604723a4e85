#pragma once
// Drafts as they are thought of, each change once.

#include <algorithm>
#include <tuple>
#include <utility>
#include <vector>

#include "mend/drafts.hpp"

namespace stepward::mend {

class DraftList {
 public:
  /// A change that was thought of before keeps the smaller weight and distance.
  void add(Change change, std::uint32_t distance, std::uint32_t weight) {
    const auto known = std::find_if(drafts_.begin(), drafts_.end(), [&](const Draft& d) { return d.change == change; });
    if (known != drafts_.end()) {
      known->weight = std::min(known->weight, weight);
      known->distance = std::min(known->distance, distance);
      return;
    }
    const std::uint32_t size = std::max(1u, change.written);
    drafts_.push_back({std::move(change), size, distance, weight});
  }

  /// By weight; of equals the nearer one, then as they came.
  std::vector<Draft> take() {
    std::stable_sort(drafts_.begin(), drafts_.end(), [](const Draft& a, const Draft& b) { return std::tie(a.weight, a.distance) < std::tie(b.weight, b.distance); });
    return std::move(drafts_);
  }

 private:
  std::vector<Draft> drafts_;
};

}  // namespace stepward::mend
