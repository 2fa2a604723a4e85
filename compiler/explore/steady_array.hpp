#pragma once
// Arrays of a walk: they grow without moving what they hold, and lie in large pages once they are large.
//
// A vector that grows copies itself, which for a moment takes three times its room, and moves what another thread may
// be reading. A steady array grows piece by piece instead: 2^18 elements a piece, so an element's place is two shifts
// away. Fresh memory comes from the operating system, zeroed, and only what is touched takes room.

#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

namespace stepward::explore {

/// Zeroed memory. `data` is null where the system has none left.
class ZeroedBlock {
 public:
  ZeroedBlock() = default;
  /// `large`: in pages of 2 MiB, if the system has such: fewer misses where memory is read at random.
  ZeroedBlock(std::size_t bytes, bool large);
  ~ZeroedBlock();
  ZeroedBlock(ZeroedBlock&& other) noexcept : data_(std::exchange(other.data_, nullptr)), bytes_(std::exchange(other.bytes_, 0)) {}
  ZeroedBlock& operator=(ZeroedBlock&& other) noexcept {
    std::swap(data_, other.data_);
    std::swap(bytes_, other.bytes_);
    return *this;
  }
  void* data() const { return data_; }

 private:
  void* data_ = nullptr;
  std::size_t bytes_ = 0;
};

/// Rows of `width` elements each, 2^32 at most. T is a number.
template <class T>
class SteadyArray {
 public:
  explicit SteadyArray(std::uint32_t width = 1) : width_(width), directory_(kPieces * sizeof(T*), false), pieces_(static_cast<T**>(directory_.data())) {}

  std::size_t size() const { return size_; }
  bool empty() const { return size_ == 0; }
  const T* row(std::size_t i) const { return pieces_[i >> kShift] + (i & kWithin) * width_; }
  T* row(std::size_t i) { return pieces_[i >> kShift] + (i & kWithin) * width_; }
  const T& operator[](std::size_t i) const { return *row(i); }
  T& operator[](std::size_t i) { return *row(i); }

  /// Room for so many rows more. False: there is no memory, and nothing has changed.
  bool make_room(std::size_t more) {
    while (size_ + more > blocks_.size() << kShift) {
      const std::size_t bytes = (sizeof(T) * width_) << kShift;
      ZeroedBlock block(bytes, !blocks_.empty() && bytes >= kLarge);
      if (!block.data() || !pieces_ || blocks_.size() == kPieces) return false;
      pieces_[blocks_.size()] = static_cast<T*>(block.data());
      blocks_.push_back(std::move(block));
    }
    return true;
  }

  /// No rows; the room stays, and what lies in it is no longer zero.
  void clear() { size_ = 0; }

  /// After `make_room`.
  void push_back(T value) { *row(size_++) = value; }
  T* append_row() { return row(size_++); }

  class Iterator {
   public:
    Iterator(const SteadyArray& of, std::size_t at) : of_(&of), at_(at) {}
    const T& operator*() const { return (*of_)[at_]; }
    Iterator& operator++() { ++at_; return *this; }
    friend bool operator!=(const Iterator& a, const Iterator& b) { return a.at_ != b.at_; }

   private:
    const SteadyArray* of_;
    std::size_t at_;
  };
  Iterator begin() const { return {*this, 0}; }
  Iterator end() const { return {*this, size_}; }

 private:
  static constexpr std::size_t kShift = 18, kWithin = (std::size_t(1) << kShift) - 1, kLarge = std::size_t(1) << 21, kPieces = std::size_t(1) << 14;

  std::uint32_t width_;
  std::size_t size_ = 0;
  ZeroedBlock directory_;  ///< of all pieces there may ever be, so that it does not move either
  T** pieces_ = nullptr;
  std::vector<ZeroedBlock> blocks_;
};

}  // namespace stepward::explore
