#pragma once
// Every single deletion and every adjacent swap of the statements of a protocol, blind: nothing is expected of them.
//
// A statement is an action line with its details, a whole block (`if … end if`), a call of a routine, an ending. Two are
// adjacent if one follows the other in the same block or arm. What is deleted has a kind: six of them have to be caught.

#include "mutant.hpp"

namespace stepward::mutations {

/// What a deleted statement was. The first six matter to somebody's skin; a deletion of them must not go unnoticed.
enum class Deleted { disinfection, hand_rub, removal, look, glove_change, move, other_line, block, call, ending, look_with_questions };
std::string_view words(Deleted kind);
bool has_to_be_caught(Deleted kind);

struct Deletion { Mutant mutant; Deleted kind = Deleted::other_line; };

/// In the order of the text.
std::vector<Deletion> every_deletion(const Base& base);
/// Each look taken out with the questions right behind it, so that nobody asks for what it would have found.
std::vector<Deletion> looks_with_questions(const Base& base);
/// Swaps that give the same text again are left out.
std::vector<Mutant> every_swap(const Base& base);
/// Two neighbouring phases change places.
std::vector<Mutant> every_swap_of_phases(const Base& base);

}  // namespace stepward::mutations
