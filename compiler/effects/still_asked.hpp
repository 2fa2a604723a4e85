#pragma once
// Which fields can a later operation still read? The backward half of `simplify.hpp`.
//
// The classic analysis goes through every edge from its end: what an operation reads is asked, what it surely overwrites
// is not asked before it. It is done twice here. First with all that may be asked at any place that an interruption comes
// back to: an operation whose field is not even then asked is dropped. Then with what a node's own context asks, told
// apart by mode, which is what the walk forgets by:
//
//     observer inspects hands of wearer for soil      sets known(bare hands) where they are bare, known(inner gloves) else
//     if hands of wearer are bare
//       if soil on hands of wearer …                  asks known(bare hands) where they are bare
//
// Without modes the look does not surely overwrite known(bare hands), so whatever was known of bare hands would be kept
// from the start of a run to its end, gloves on or off. With the mode "gloves on" nothing here asks for it.

#include "effects/system.hpp"

namespace stepward::effects {

/// Takes out operations that write what nothing asks, wherever interruptions come back to.
void drop_unread_writes(System& system);

/// Fills `system.asked`. `modes`: fields with the values 0 and 1.
void note_asked(System& system, const std::vector<FieldId>& modes);

}  // namespace stepward::effects
