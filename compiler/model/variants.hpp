#pragma once
// Variants: the combinations of print-time choices that a protocol is made for.
//
// A variant gives each choice the index of one of its values, or -1 where the choice is not open ("eye choice … only
// for respirator"). Combinations that the protocol excludes are not variants at all. The order is fixed: the first
// choice declared changes slowest, values in the order of their declaration; so variant 0 takes every first value
// that is allowed. A protocol without choices has exactly one variant, the empty one.

#include <optional>
#include <string>
#include <vector>

#include "model/protocol.hpp"

namespace stepward::model {

/// More combinations than this are refused (V109) rather than walked for hours.
inline constexpr std::size_t most_variants = 4096;

/// All combinations that are not excluded, in their fixed order; at most `most_variants` of them.
std::vector<Variant> all_variants(const Protocol& protocol);

/// True if every value of the condition is the one chosen. An empty condition always holds.
bool holds(const VariantCondition& condition, const Variant& variant);

/// True if some variant meets the condition.
bool can_hold(const VariantCondition& condition, const std::vector<Variant>& variants);

/// The values chosen, joined for the reader: "coverall · respirator · goggles". Empty for a protocol without choices.
std::string variant_name(const Protocol& protocol, const Variant& variant);

/// The item that a thing stands for in this variant: an item itself, or the value of a choice. None for everything
/// else, for a choice that is not open, and for a value that is no item.
ItemId item_of(const Protocol& protocol, const Thing& thing, const Variant& variant);

/// The technique by which `line` (take off, put on, test, clean) handles `item`: the one the line names, else the
/// item's usual one for this verb; may be none.
TechniqueId technique_of(const Protocol& protocol, const Line& line, ItemId item);

}  // namespace stepward::model
