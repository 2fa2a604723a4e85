#include "explore/state_set.hpp"

#include <cstring>

namespace stepward::explore {
namespace {

constexpr std::uint32_t first_bits = 12, most_bits = 31;

__extension__ typedef unsigned __int128 Wide;

std::uint64_t folded(std::uint64_t a, std::uint64_t b) {
  const Wide product = static_cast<Wide>(a) * b;
  return static_cast<std::uint64_t>(product) ^ static_cast<std::uint64_t>(product >> 64);
}

}  // namespace

StateSet::StateSet(const SteadyArray<std::uint64_t>& states, std::uint32_t words) : states_(states), words_(words) { take(first_bits); }

// Words by pairs, each pair multiplied to 128 bits and folded; the products do not wait for each other.
std::uint64_t StateSet::hash(const std::uint64_t* w, std::uint32_t words) {
  std::uint64_t sum = 0x9E3779B97F4A7C15ull, key = 0xA0761D6478BD642Full;
  std::uint32_t i = 0;
  for (; i + 1 < words; i += 2) {
    sum += folded(w[i] ^ key, w[i + 1] ^ 0xE7037ED1A0B428DBull);
    key = key * 0x9E3779B97F4A7C15ull + 1;
  }
  if (i < words) sum += folded(w[i] ^ key, 0x8EBC6AF09C88C6E3ull);
  return folded(sum, 0xD6E8FEB86659FD93ull);
}

void StateSet::prefetch_state(std::uint64_t hash) const {
  const std::uint32_t tag = tag_of(hash);
  const Slot& slot = slots_[first(tag)];
  if (slot.tag != tag || slot.behind == 0) return;
  const std::uint64_t* const state = states_.row(slot.behind - 1);
  __builtin_prefetch(state);
  __builtin_prefetch(state + words_ - 1);
}

std::uint32_t StateSet::insert(const std::uint64_t* w, std::uint64_t hash, std::uint32_t next) {
  const std::uint32_t tag = tag_of(hash);
  std::uint64_t at = first(tag);
  for (; slots_[at].behind != 0; at = (at + 1) & (slot_count_ - 1))
    if (slots_[at].tag == tag && std::memcmp(w, states_.row(slots_[at].behind - 1), words_ * 8u) == 0) return slots_[at].behind - 1;
  slots_[at] = {next + 1, tag};
  ++held_;
  return next;
}

bool StateSet::make_room(std::uint64_t more) {
  while (slots_ && (held_ + more) * 4 > slot_count_ * 3)
    if (bits_ == most_bits || !take(bits_ + 1)) return false;
  return slots_ != nullptr;
}

bool StateSet::take(std::uint32_t bits) {
  const std::uint64_t count = std::uint64_t(1) << bits;
  ZeroedBlock block(count * sizeof(Slot), bits >= 18);
  if (!block.data()) return false;
  Slot* const to = static_cast<Slot*>(block.data());
  bits_ = bits;
  for (std::uint64_t i = 0; i < slot_count_; ++i) {
    if (slots_[i].behind == 0) continue;
    std::uint64_t at = first(slots_[i].tag);
    while (to[at].behind != 0) at = (at + 1) & (count - 1);
    to[at] = slots_[i];
  }
  block_ = std::move(block);
  slots_ = to;
  slot_count_ = count;
  return true;
}

}  // namespace stepward::explore
