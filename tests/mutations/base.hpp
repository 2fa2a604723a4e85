#pragma once
// A protocol before any edit: its text, its trees, its model, and the order in which its lines come.
//
// Operators ask three kinds of question here: where a statement stands in the text (trees), what it does (model), and
// what comes before and behind it once routines are put in place (courses). The three are joined by `Origin`.

#include <optional>
#include <string>
#include <vector>

#include "copies.hpp"
#include "model/protocol.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"

namespace stepward::mutations {

/// A statement of the text. Its node is valid as long as the base.
struct Place {
  std::uint32_t file = 0;
  syntax::NodeId node;
  friend bool operator==(const Place&, const Place&) = default;
};

/// One statement in the order of the course: an action line, or something between lines.
struct Step {
  enum class What : std::uint8_t { line, question, arm, until, finish, resume } what = What::line;
  Origin at;
  model::LineId line;                    ///< line
  const model::Statement* statement = nullptr;
  const model::Condition* condition = nullptr;  ///< arm, until
  model::EndingId ending;                ///< finish
  bool conditional = false;              ///< inside the arm of a question, or behind a loop that failed
};
/// The protocol's own lines, or those of one interruption, with called routines in place and every branch in turn.
using Course = std::vector<Step>;

struct Base {
  std::string main;                      ///< path of the protocol
  Copies copies;
  source::Files files;
  resolve::Loaded loaded;
  diagnostics::Sink findings;
  std::optional<model::Protocol> protocol;
  std::vector<model::Variant> variants;
  std::vector<std::vector<syntax::NodeId>> parents;  ///< per file and node

  const syntax::Node& operator[](Place p) const { return loaded.files[p.file].tree[p.node]; }
  Place parent(Place p) const { return {p.file, parents[p.file][p.node.value]}; }
  std::vector<Place> children(Place p) const;
  Origin origin(source::Span span) const;
  Origin origin(Place p) const { return origin((*this)[p].span); }
  /// The whole statement: its line, its details, its block.
  Range range(Place p) const;
  /// The statements of the same block or arm, in order.
  std::vector<Place> neighbours(Place p) const;
  /// All statements of these kinds in the protocol, and in the routines and interruptions that can run.
  std::vector<Place> all(std::initializer_list<syntax::NodeKind> kinds) const;
  /// The model's lines that this statement became: one for each call of its routine.
  std::vector<model::LineId> lines_at(Origin at) const;
  std::string words(Origin at) const;    ///< the text of a line without its margin
  std::string place_words(Origin at) const;  ///< file and line for a reader

  /// First the protocol's own lines, then a course for each interruption.
  std::vector<Course> courses(const model::Variant& variant) const;
  /// The first variant in which one of the lines at `at` can be met; none if it never is.
  std::optional<std::size_t> variant_of(Origin at) const;
};

/// Reads `main` from `files`. Ends the program if it is not clean.
Base base_of(const FilesInMemory& files, const std::string& main);
/// Every file of both folders by its name, each reading the copies of the standard library among them.
FilesInMemory examples_and_library(const std::string& source_dir);
/// Reads `main` from the folder of examples, with copies of the standard library.
Base read_base(const std::string& source_dir, const std::string& main);

}  // namespace stepward::mutations
