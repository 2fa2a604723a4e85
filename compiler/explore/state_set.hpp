#pragma once
// Which states were met already: a flat table of their positions in the array of states.
//
// A slot is eight bytes: a position and the upper half of the state's hash, its *tag*. The tag's upper bits are the
// slot where the search begins; it goes on to the next until an empty one. So a table that doubles need not hash anew:
// what stood at slot s goes to 2s or 2s+1, in the same order, which reads and writes memory from end to end. A state is
// only compared where the tag is the same, which is nearly always because it is the same state.
//
//     tag 1011…, table of 8 slots:    slot 5 (101) → taken by another tag → slot 6: same tag, compare
//     doubled to 16 slots:            slot 11 (1011)
//
// Every look into the table misses the cache, and so does every comparison. Whoever has a batch of states therefore
// announces all of them (`prefetch`), then all that look alike (`prefetch_state`), and only then inserts them.

#include "explore/steady_array.hpp"

namespace stepward::explore {

class StateSet {
 public:
  /// Looks into `states`, which the caller appends to.
  StateSet(const SteadyArray<std::uint64_t>& states, std::uint32_t words);

  static std::uint64_t hash(const std::uint64_t* w, std::uint32_t words);

  void prefetch(std::uint64_t hash) const { __builtin_prefetch(slots_ + first(tag_of(hash)), 1); }
  void prefetch_state(std::uint64_t hash) const;

  /// The position of the state; where it is new, that is `next`, and the caller appends it there.
  std::uint32_t insert(const std::uint64_t* w, std::uint64_t hash, std::uint32_t next);

  /// Room for so many more. False: there is no memory.
  bool make_room(std::uint64_t more);

 private:
  struct Slot { std::uint32_t behind = 0, tag = 0; };  ///< behind: the position and one more; 0: empty

  static std::uint32_t tag_of(std::uint64_t hash) { return static_cast<std::uint32_t>(hash >> 32); }
  std::uint64_t first(std::uint32_t tag) const { return tag >> (32 - bits_); }
  bool take(std::uint32_t bits);

  const SteadyArray<std::uint64_t>& states_;
  std::uint32_t words_, bits_ = 0;
  std::uint64_t held_ = 0, slot_count_ = 0;
  ZeroedBlock block_;
  Slot* slots_ = nullptr;
};

}  // namespace stepward::explore
