#pragma once
// SPIN at work on one model: its verifier written, compiled and run, and what it printed.
//
// SPIN (Debian package `spin`) writes a verifier in C, which gcc compiles; it is run breadth first, without any reduction of its own and with full
// states, so that its counts are exact.

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>

#include "model/protocol.hpp"

namespace stepward::spin {

/// Says so on standard error where SPIN or gcc is missing.
bool is_installed();

struct Verified {
  std::uint64_t states = 0;                        ///< stored; 0: it did not get through, which is said on standard error
  std::map<std::uint32_t, std::uint32_t> met;      ///< reports that the model prints, with the steps of a shortest run
};

/// `promela` as `as_promela` wrote it; `folder` is made and filled.
Verified verified(const std::string& promela, const std::filesystem::path& folder);

/// The protocol in a file with all that it uses; none: it has a mistake.
std::optional<model::Protocol> protocol_of(const std::string& path);

}  // namespace stepward::spin
