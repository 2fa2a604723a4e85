#pragma once
// From trees to one protocol: every name resolved, every routine call put in place.
//
// All mistakes of all files are reported in one run, in the order of the files. A declaration that is wrong still
// declares its name. The protocol is handed on only if what was found leaves every id in it meaningful: a dilution
// that does not add up or a date that has passed are errors too, but the walk can go on in spite of them.

#include <optional>
#include <string>

#include "diagnostics/diagnostic.hpp"
#include "model/protocol.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"

namespace stepward::model {

/// What the caller knows and the files do not.
struct BuildOptions {
  std::string today;  ///< ISO 8601; empty: review dates are not held against any day
};

/// Builds the protocol of `loaded.files[0]`. Findings (families N, D, V, T, X and the static ones of F) go to `sink`.
/// Nothing if a finding, here or already in `sink`, leaves the model without meaning. A library or a file of rules
/// gives a protocol without phases.
std::optional<Protocol> build(const resolve::Loaded& loaded, const source::Files& files, diagnostics::Sink& sink,
                              const BuildOptions& options = {});

/// True if an error of this code leaves a protocol that must not be walked.
bool prevents_walk(diagnostics::Code code);

}  // namespace stepward::model
