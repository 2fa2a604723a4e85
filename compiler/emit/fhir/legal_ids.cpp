#include "emit/fhir/legal_ids.hpp"

#include <cctype>
#include <cstdint>

#include <fmt/format.h>

namespace stepward::emit::fhir {
namespace {

constexpr std::size_t longest_id = 64;

/// FNV-1a, 32 bits (published by Fowler, Noll and Vo; constants from memory).
std::uint32_t digest(const std::string& text) {
  std::uint32_t hash = 2166136261u;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 16777619u;
  return hash;
}

/// `lost`: something was in the name that the id does not show.
std::string spelt(const std::string& name, bool& lost) {
  std::string id;
  for (const char c : name) {
    const auto byte = static_cast<unsigned char>(c);
    const bool plain = byte < 0x80 && (std::isalnum(byte) != 0 || c == '-' || c == '.');
    if (plain) {
      id += c;
    } else if (c == ':') {
      id += '.';
    } else {
      lost = lost || (c != '_' && c != ' ');
      id += '-';
    }
  }
  return id;
}

std::string with_digits(std::string id, const std::string& name) {
  if (id.size() > longest_id - 9) id.resize(longest_id - 9);
  return fmt::format("{}-{:08x}", id, digest(name));
}

}  // namespace

std::string LegalIds::of(const std::string& name) {
  const auto known = given_.find(name);
  if (known != given_.end()) return known->second;
  bool lost = name.empty();
  std::string id = spelt(name, lost);
  if (lost || id.size() > longest_id) id = with_digits(id, name);
  for (int again = 1; !used_.insert(id).second; ++again) id = with_digits(id, fmt::format("{}{}", name, again));
  given_[name] = id;
  return id;
}

}  // namespace stepward::emit::fhir
