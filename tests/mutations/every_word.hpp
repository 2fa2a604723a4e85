#pragma once
// Blind edits inside a line: who does it, where it leads, what a hand meets, what is worn,
// whether its time is waited for. Like those of
// every_line.hpp, nothing is expected of them.

#include "mutant.hpp"

namespace stepward::mutations {

/// A disinfection whose contact time nobody waits for.
std::vector<Mutant> every_wait_left_out(const Base& base);
/// A move by another person of the protocol, or to another of its places.
std::vector<Mutant> every_move_changed(const Base& base);
/// A removal by another person's hands.
std::vector<Mutant> every_removal_by_another(const Base& base);
/// A person who begins without one of the things that the protocol has them wear.
std::vector<Mutant> every_item_left_off(const Base& base);
/// A technique of taking off that handles the front. Its lines stand in no course, so every variant has to be looked at.
std::vector<Mutant> every_hand_at_the_front(const Base& base);

}  // namespace stepward::mutations
