#pragma once
// A set of fields, a bit each.

#include <bit>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace stepward::effects {

class FieldSet {
 public:
  explicit FieldSet(std::size_t fields = 0) : words_((fields + 63) / 64, 0) {}
  bool holds(std::size_t f) const { return words_[f / 64] >> (f % 64) & 1; }
  void add(std::size_t f) { words_[f / 64] |= std::uint64_t(1) << (f % 64); }
  void drop(std::size_t f) { words_[f / 64] &= ~(std::uint64_t(1) << (f % 64)); }
  /// Adds those of another set; true if that made a difference.
  bool add(const FieldSet& others) {
    bool grew = false;
    for (std::size_t i = 0; i < words_.size(); ++i) {
      grew |= (others.words_[i] & ~words_[i]) != 0;
      words_[i] |= others.words_[i];
    }
    return grew;
  }
  void drop(const FieldSet& others) { for (std::size_t i = 0; i < words_.size(); ++i) words_[i] &= ~others.words_[i]; }

  /// Calls `take` with each, in order.
  template <class Take>
  void each(Take take) const {
    for (std::size_t i = 0; i < words_.size(); ++i)
      for (std::uint64_t left = words_[i]; left != 0; left &= left - 1) take(i * 64 + static_cast<std::size_t>(std::countr_zero(left)));
  }

 private:
  std::vector<std::uint64_t> words_;
};

}  // namespace stepward::effects
