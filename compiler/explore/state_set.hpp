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

  /// Words by pairs, each pair multiplied to 128 bits and folded; the products do not wait for each other.
  static std::uint64_t hash(const std::uint64_t* w, std::uint32_t words) {
    std::uint64_t sum = 0x9E3779B97F4A7C15ull, key = 0xA0761D6478BD642Full;
    std::uint32_t i = 0;
    for (; i + 1 < words; i += 2) {
      sum += folded(w[i] ^ key, w[i + 1] ^ 0xE7037ED1A0B428DBull);
      key = key * 0x9E3779B97F4A7C15ull + 1;
    }
    if (i < words) sum += folded(w[i] ^ key, 0x8EBC6AF09C88C6E3ull);
    return folded(sum, 0xD6E8FEB86659FD93ull);
  }

  void prefetch(std::uint64_t hash) const { __builtin_prefetch(slots_ + first(tag_of(hash)), 1); }
  void prefetch_state(std::uint64_t hash) const {
    const std::uint32_t tag = tag_of(hash);
    const Slot& slot = slots_[first(tag)];
    if (slot.tag != tag || slot.behind == 0) return;
    const std::uint64_t* const state = states_.row(slot.behind - 1);
    __builtin_prefetch(state);
    __builtin_prefetch(state + words_ - 1);
  }

  /// The position of the state; where it is new, that is `next`, and the caller appends it there.
  /// `Words`: of a state, or 0.
  template <std::uint32_t Words = 0>
  std::uint32_t insert(const std::uint64_t* w, std::uint64_t hash, std::uint32_t next) {
    const std::uint32_t tag = tag_of(hash);
    std::uint64_t at = first(tag);
    for (; slots_[at].behind != 0; at = (at + 1) & (slot_count_ - 1))
      if (slots_[at].tag == tag && same<Words>(w, states_.row(slots_[at].behind - 1))) return slots_[at].behind - 1;
    slots_[at] = {next + 1, tag};
    ++held_;
    return next;
  }

  /// The position of the state; UINT32_MAX: it is not there.
  std::uint32_t find(const std::uint64_t* w, std::uint64_t hash) const {
    const std::uint32_t tag = tag_of(hash);
    for (std::uint64_t at = first(tag); slots_[at].behind != 0; at = (at + 1) & (slot_count_ - 1))
      if (slots_[at].tag == tag && same<0>(w, states_.row(slots_[at].behind - 1))) return slots_[at].behind - 1;
    return UINT32_MAX;
  }

  /// Forgets all states; the caller empties the array.
  void clear();

  /// Room for so many more. False: there is no memory.
  bool make_room(std::uint64_t more);

 private:
  struct Slot { std::uint32_t behind = 0, tag = 0; };  ///< behind: the position and one more; 0: empty

  __extension__ typedef unsigned __int128 Wide;
  static std::uint64_t folded(std::uint64_t a, std::uint64_t b) {
    const Wide product = static_cast<Wide>(a) * b;
    return static_cast<std::uint64_t>(product) ^ static_cast<std::uint64_t>(product >> 64);
  }

  template <std::uint32_t Words>
  bool same(const std::uint64_t* a, const std::uint64_t* b) const {
    const std::uint32_t words = Words ? Words : words_;
    std::uint64_t differ = 0;
    for (std::uint32_t i = 0; i < words; ++i) differ |= a[i] ^ b[i];
    return differ == 0;
  }

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
