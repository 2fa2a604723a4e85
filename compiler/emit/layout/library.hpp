#pragma once
// Layered layout by Graphviz ("dot"): ranks by the direction of the flow, few crossings, short lines.
//
// Boxes come with their size, and labels only as room, so that no font of the machine has a say: the same sketch gives
// the same drawing wherever the same Graphviz is installed. Lanes are no layout of the library's own that would be stable
// (clusters in ranks of their own end it): the flow is laid out without them, boxes are then piled up in their lanes, and the
// library finds ways around the boxes as they stand.
//
// Graphviz keeps state of its own for the whole process, and has faults that end it. So nobody but the child processes of
// driver/layered.hpp, which says which faults these are, should place sketches here: one after the other, and only so many.

#include <memory>
#include <optional>
#include <string>

#include "emit/layout/sketch.hpp"

namespace stepward::emit::layout {

class Library {
 public:
  Library();
  ~Library();
  Library(const Library&) = delete;
  Library& operator=(const Library&) = delete;

  /// Places a sketch. `straight`: in lanes, ways are drawn from box to box without asking the library for ways around the others.
  /// None: it could not be, and `why` says what the library said.
  std::optional<Drawing> place(const Sketch& sketch, bool straight, std::string& why);

 private:
  struct Context;
  std::unique_ptr<Context> context_;
};

}  // namespace stepward::emit::layout
