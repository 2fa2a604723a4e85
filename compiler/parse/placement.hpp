#pragma once
// Where each head may stand.
//
// The inside of every block is one of a few `Interior`s; phases, routines, interruptions, `if`, `only for` and `repeat`
// all hold steps and so share one. A head is allowed in a set of interiors. A few heads are narrower than their
// interior (`otherwise` belongs directly to an `if`, `happens` to an interruption); those name the block they need. A
// detail says more about the line above it and becomes that line's child. All of it is a table, so that a question
// about the language has one place to look, and so that a new head does not compile until it says where it stands.

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "syntax/tree.hpp"

namespace stepward::parse {

/// What the lines of a block are.
enum class Interior : std::uint8_t {
  file, document, zone, role, finding, surface, item, agent, verb, technique, variants, people, endings, stock, rhythm,
  copies, rule, set_aside, answer, text_for, steps,
};

/// A set of interiors, one bit each.
using Interiors = std::uint32_t;
constexpr Interiors in(Interior interior) { return Interiors{1} << static_cast<unsigned>(interior); }
template <typename... More>
constexpr Interiors in(Interior first, More... more) { return in(first) | in(more...); }

/// The words that open a head, and what `end` names to close it; both from the keyword list.
std::string_view words_of(syntax::NodeKind kind);
std::string_view closes_of(syntax::NodeKind kind);
inline bool is_block(syntax::NodeKind kind) { return !closes_of(kind).empty(); }

/// What stands inside a block of this kind; `file` for kinds that are no block.
Interior interior_of(syntax::NodeKind block);

/// The interiors in which a head may stand.
Interiors interiors_of(syntax::NodeKind kind);

/// The one block of steps that must directly hold a line of this kind; `file` when its interior is all that counts.
syntax::NodeKind holder_of(syntax::NodeKind kind);

/// True when the head says more about the line above it, in an interior where it is not a line of its own.
bool is_detail(syntax::NodeKind kind, Interior interior);

/// True for a line that divides its block, such as `otherwise`: by custom it stands at the depth of the block's head.
bool divides_its_block(syntax::NodeKind kind);

/// True when details may follow a line of this kind.
bool takes_details(syntax::NodeKind kind);

/// True when the kind may stand at the level of the file and nowhere else, so that it shows an open block's end was
/// forgotten.
bool only_in_file(syntax::NodeKind kind);

/// The names of the blocks that may hold the head, for a message: "zone, role".
std::string holders_in_words(syntax::NodeKind kind);

/// The head that was most likely meant by the first words of a line that none opens; `plain` when nothing is near.
/// Only heads that may stand in `interior` are considered.
syntax::NodeKind nearest_head(Interior interior, const std::vector<syntax::Token>& phrase);

}  // namespace stepward::parse
