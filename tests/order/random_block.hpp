#pragma once
// Small protocols with lines in any safe order, made from numbers: the same number gives the same text.
//
// Lines dirty a glove, clean it, take something off, look, ask, do nothing but be named by a rule, or stand on one variant's card only.
// Rules bind them by their names at random, so that some texts allow many orders, some one and some none.

#include <string>

#include "model/protocol.hpp"
#include "source/files.hpp"

namespace stepward::tests {

struct Wanted {
  unsigned seed = 0;
  unsigned lines = 4;        ///< of each block
  unsigned blocks = 1;
  bool called_twice = false; ///< the block stands in a routine that two phases call
  bool acts_only = false;    ///< nothing is touched, so that only rules bind; and four of them
};

std::string random_block(const Wanted& wanted);

struct ReadBlock {
  source::Files files;
  model::Protocol protocol;
};

/// A text that has to be read without errors; else the test fails, with the text and what was found in it.
ReadBlock read_block(const std::string& text);

}  // namespace stepward::tests
