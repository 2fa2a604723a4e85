#pragma once
// Layered layout by Graphviz ("dot"): ranks by the direction of the flow, few crossings, short lines.
//
// Boxes come with their size, and labels only as room, so that no font of the machine has a say: the same sketch gives
// the same drawing wherever the same Graphviz is installed. Lanes are no layout of the library's own that would be stable
// (clusters in ranks of their own end it): the flow is laid out without them, boxes are then piled up in their lanes, and the
// library finds ways around the boxes as they stand. Graphviz keeps state of its own for the whole process, so
// one `Layered` is used at a time, on one thread.

#include <memory>
#include <optional>
#include <string>

#include "emit/layout/sketch.hpp"

namespace stepward::emit::layout {

class Layered {
 public:
  Layered();
  ~Layered();
  Layered(const Layered&) = delete;
  Layered& operator=(const Layered&) = delete;

  /// Places a sketch. None: it could not be, and `why` says what the library said.
  std::optional<Drawing> place(const Sketch& sketch, std::string& why);

 private:
  struct Library;
  std::unique_ptr<Library> library_;
};

}  // namespace stepward::emit::layout
