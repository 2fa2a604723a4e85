#pragma once
// Which variant somebody means by the words behind --only.

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::driver {

/// The position among `all_variants` of the one that `words` fit: its whole name, or enough of its parts to leave only
/// one ("gown", "coverall with goggles", "coverall, face shield"). Nothing if none fits, or several do; then `why` says
/// so and lists them.
std::optional<std::size_t> variant_meant(const model::Protocol& protocol, const std::string& words, std::string& why);

/// A name as part of a file's name: lower case letters and digits, joined by single hyphens.
std::string slug(const std::string& name);
/// A document's number or version as part of a file's name: whatever a file system could stumble over becomes a hyphen.
std::string file_part(const std::string& text);

}  // namespace stepward::driver
