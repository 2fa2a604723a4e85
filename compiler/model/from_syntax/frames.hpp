#pragma once
// The shapes of all lines, in one table that can be read beside docs/language/reference.md.
//
// A row of `frames.def` is STEPWARD_FRAME(name, shape): the shape of what stands on a line *after* its head (for an
// action line: after its verb). Pieces that several lines share are STEPWARD_SHAPE rows. How shapes are written is
// told in resolve/frame.hpp; what the labels become is told by the pass that reads the line.

#include "resolve/frame.hpp"

namespace stepward::model::reading {

struct Frames {
  /// Rules of a pack may name an ending, a mark and the like that this protocol does not have.
  enum class Names : std::uint8_t { must_be_known, may_be_missing };

  Frames(resolve::NameTable& table, Names names);

#define STEPWARD_SHAPE(name, shape)
#define STEPWARD_FRAME(name, shape) resolve::Frame name;
#include "model/from_syntax/frames.def"
};

/// Compiled when first asked for: a mend reads a protocol many times, and compiling them takes a third as long as reading it.
const Frames& frames_of(Frames::Names names);
/// The words of all frames, of whichever names; a table that the frames are to be used with begins as a copy of it.
const resolve::NameTable& words_of_frames();

}  // namespace stepward::model::reading
