#pragma once
// The poster: what is taken off and put on, in order, and how hands are cleansed after the last of it, under its phases and zones, in
// letters that are read at 2 m.
//
// It is made from the wearer's card, with its numbers and its words, and leaves almost all of it out: no looks, no disinfection in between,
// no questions and no branch. A zone in which nothing of this is done has no band. So it says first, and in the foot of every face, that it is not the whole procedure and which card is.

#include <optional>

#include "emit/document/document.hpp"
#include "emit/paper_parts.hpp"

namespace stepward::emit {

/// None where the person who acts takes nothing off and puts nothing on while all goes well.
std::optional<Sheet> poster(const PaperSource& source);

}  // namespace stepward::emit
