#pragma once
// Strong ids: 32-bit positions in a vector, one type per kind of thing.
//
// Every representation stores its parts in vectors and refers to them by such an id, never by pointer,
// so that a representation can be copied, compared and passed between folders without owning anything else.
// A default-made id is `none`; using it as an index is a mistake of the caller.

#include <cstdint>
#include <functional>

namespace stepward {

template <class Tag>
struct Id {
  std::uint32_t value = UINT32_MAX;

  constexpr Id() = default;
  constexpr explicit Id(std::uint32_t position) : value(position) {}
  constexpr explicit Id(std::size_t position) : value(static_cast<std::uint32_t>(position)) {}

  /// True when the id names something.
  constexpr explicit operator bool() const { return value != UINT32_MAX; }
  friend constexpr bool operator==(Id a, Id b) { return a.value == b.value; }
  friend constexpr bool operator!=(Id a, Id b) { return a.value != b.value; }
  friend constexpr bool operator<(Id a, Id b) { return a.value < b.value; }
};

}  // namespace stepward

template <class Tag>
struct std::hash<stepward::Id<Tag>> {
  std::size_t operator()(stepward::Id<Tag> id) const noexcept { return id.value * 0x9E3779B97F4A7C15ull; }
};
