#include "explore/state_set.hpp"

#include <algorithm>

namespace stepward::explore {
namespace {

constexpr std::uint32_t first_bits = 12, most_bits = 31;

}  // namespace

StateSet::StateSet(const SteadyArray<std::uint64_t>& states, std::uint32_t words) : states_(states), words_(words) { take(first_bits); }

bool StateSet::make_room(std::uint64_t more) {
  while (slots_ && (held_ + more) * 4 > slot_count_ * 3)
    if (bits_ == most_bits || !take(bits_ + 1)) return false;
  return slots_ != nullptr;
}

void StateSet::clear() {
  held_ = 0;
  if (slot_count_ <= std::uint64_t(1) << (first_bits + 4)) {
    std::fill_n(slots_, slot_count_, Slot());
    return;
  }
  slot_count_ = 0;
  take(first_bits);
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
