#pragma once
// A list of which most hold a few elements only: the first N lie in the list itself, and only a longer one takes memory of its own.
//
// A guard is a handful of tests, and lowering makes hundreds of thousands of them for one protocol. As vectors of vectors
// they took an eighth of the time of `slips`, to fetch memory and to give it back:
//
//     vector of vectors      guard → alternatives → tests        two places in memory for the commonest guard, one test
//     few of few             guard: alternatives: tests          none
//
// A list of up to N elements moves with its owner, so a pointer into it does not outlive a move, as with `std::string`.

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <initializer_list>
#include <memory>
#include <new>
#include <utility>

namespace stepward {

template <class T, std::uint32_t N>
class Few {
 public:
  Few() = default;
  Few(std::initializer_list<T> elements) { append(elements.begin(), elements.end()); }
  Few(const Few& other) { append(other.begin(), other.end()); }
  Few(Few&& other) noexcept { take(other); }
  Few& operator=(const Few& other) {
    if (this == &other) return *this;
    clear();
    append(other.begin(), other.end());
    return *this;
  }
  Few& operator=(Few&& other) noexcept {
    if (this == &other) return *this;
    clear();
    give_back();
    take(other);
    return *this;
  }
  ~Few() {
    clear();
    give_back();
  }

  std::size_t size() const { return size_; }
  bool empty() const { return size_ == 0; }
  T* begin() { return is_apart() ? apart_ : reinterpret_cast<T*>(own_); }
  T* end() { return begin() + size_; }
  const T* begin() const { return is_apart() ? apart_ : reinterpret_cast<const T*>(own_); }
  const T* end() const { return begin() + size_; }
  T& operator[](std::size_t i) { return begin()[i]; }
  const T& operator[](std::size_t i) const { return begin()[i]; }
  const T& front() const { return *begin(); }
  T& back() { return end()[-1]; }

  void push_back(T element) {
    if (size_ == room_) make_room(2 * room_);
    std::construct_at(end(), std::move(element));
    ++size_;
  }
  T& emplace_back() {
    push_back(T());
    return back();
  }
  void clear() { keep_first(0); }
  void reserve(std::size_t room) {
    if (room > room_) make_room(static_cast<std::uint32_t>(room));
  }
  /// Drops all elements that are so.
  template <class Is>
  void drop_if(Is is) {
    keep_first(static_cast<std::uint32_t>(std::remove_if(begin(), end(), is) - begin()));
  }

  friend bool operator==(const Few& a, const Few& b) { return std::equal(a.begin(), a.end(), b.begin(), b.end()); }

 private:
  bool is_apart() const { return room_ > N; }

  void append(const T* first, const T* last) {
    reserve(static_cast<std::size_t>(last - first));
    std::uninitialized_copy(first, last, begin());
    size_ = static_cast<std::uint32_t>(last - first);
  }
  void keep_first(std::uint32_t count) {
    std::destroy(begin() + count, end());
    size_ = count;
  }
  void make_room(std::uint32_t room) {
    T* const to = std::allocator<T>().allocate(room);
    std::uninitialized_move(begin(), end(), to);
    std::destroy(begin(), end());
    give_back();
    apart_ = to;
    room_ = room;
  }
  /// Of an empty list.
  void give_back() {
    if (is_apart()) std::allocator<T>().deallocate(apart_, room_);
    room_ = N;
  }
  /// All that another list holds, which is empty afterwards; of a list that has no memory of its own and is empty.
  void take(Few& other) {
    if (other.is_apart()) {
      apart_ = other.apart_;
      room_ = std::exchange(other.room_, N);
      size_ = std::exchange(other.size_, 0);
    } else {
      std::uninitialized_move(other.begin(), other.end(), begin());
      size_ = other.size_;
      other.clear();
    }
  }

  union {
    T* apart_;
    alignas(T) std::byte own_[N * sizeof(T)];
  };
  std::uint32_t size_ = 0, room_ = N;
};

}  // namespace stepward
