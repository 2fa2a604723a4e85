#pragma once
// SHA-256 (FIPS 180-4) of a text: what a card's check words and the short hash in its square code are made from.
//
// Written out here because the core builds without any library that would bring one, and because the words on a card
// must be the same in ten years.

#include <array>
#include <cstdint>
#include <string>
#include <string_view>

namespace stepward::emit {

using Digest = std::array<std::uint8_t, 32>;

Digest sha256(std::string_view text);

/// The first `bytes` bytes in hexadecimal.
std::string short_hash(const Digest& digest, std::size_t bytes = 6);

}  // namespace stepward::emit
