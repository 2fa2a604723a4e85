#pragma once
// What the section on slips and the table of failure modes say alike of one slip.

#include <string>
#include <vector>

#include "emit/dossier/writer.hpp"

namespace stepward::emit::dossier {

/// The act, once in each form that a variant or a call of its routine gives it.
Text acts_of(const Writer& writer, const slips::Row& row);
/// ": soil", of a look that misses; where it looks at several things, ": soil, the goggles".
std::string what_was_missed(const Writer& writer, const slips::Row& row);
/// What it comes to and at which steps, the worst of all variants first; variants may come to other harm, and are told of theirs.
std::vector<std::string> slip_harms(const Writer& writer, const slips::Row& row);
/// What whoever confirms sees, in time or too late; empty: there is nothing to see.
std::string seen_by_confirm(const Writer& writer, const slips::Row& row);

}  // namespace stepward::emit::dossier
