#pragma once
// What all passes that build a protocol share: the files, the names in sight, the shapes of lines, and the result.
//
// The passes are free functions over this context, one file a topic, called in order by `build`:
//
//   declare        every declared name enters the table, with the slot of the protocol that it stands for
//   introduce      names that lines bring along (decisions, marks, records, recipients, `known as`)
//   documents, things, agents, techniques, frame   fill the slots
//   steps          phases, routines where they are called, interruptions
//   rules          rules of all files
//   checks         what only the whole shows: choices never used, answers that no branch handles, covers
//   texts          quoted texts against the lines that they stand at
//
// A slot exists as soon as its name is declared, even if the rest of its declaration is wrong: a name that was
// meant is never reported as unknown. What is said twice about one line is said once: routines are read anew at each
// call, so reports are compared before they are kept.

#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "model/from_syntax/frames.hpp"
#include "model/protocol.hpp"
#include "model/variants.hpp"
#include "resolve/cutting.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"

namespace stepward::model::reading {

using diagnostics::Code;
using resolve::NameClass;
using resolve::Reading;
using resolve::Segment;
using syntax::Node;
using syntax::NodeId;
using syntax::NodeKind;

/// A node with the file it stands in.
struct Place {
  std::uint32_t file = 0;  ///< position in Loaded::files
  NodeId node;
};

/// What a routine asks for at its call.
struct Parameter {
  std::uint32_t name_index = 0;  ///< the meaning index of its name; the same for all routines that use the word
  std::string name;
  std::string type;  ///< "surface", "item", a kind's name, or empty: anything
  source::Span span;
};

/// A routine as written; it is read anew wherever it is called.
struct RoutineText {
  Place place;
  std::vector<Parameter> parameters;
  std::vector<std::string> may_finish_as;  ///< names: the endings of another protocol count as well
  bool called = false;
};

/// A line with more words, numbers and commas than this is refused: trying all its cuts would take too long.
inline constexpr std::size_t longest_line = 400;
/// Nobody reads more findings than this; the rest is counted as one note.
inline constexpr std::size_t most_findings = 1'000;

/// A `local change` as written; its lines are read where the step is met. Beside it: Protocol::local_changes.
struct ChangeText {
  Place place;
  bool met = false;  ///< a step with that id was read
};

struct Context {
  Context(const resolve::Loaded& loaded_in, const source::Files& files_in);

  const resolve::Loaded& loaded;
  const source::Files& files;
  Protocol protocol;
  resolve::NameTable names;
  resolve::Cutter cutter;
  const Frames* frames;

  std::vector<Place> declared;               ///< every top-level declaration, in order
  std::vector<RoutineText> routines;         ///< by RoutineId
  std::vector<ChangeText> changes;           ///< by position in Protocol::local_changes
  std::vector<std::set<std::string>> steps_of_changed;  ///< by RoutineId: ids of steps; empty where nothing changes it
  std::string today;                         ///< ISO 8601, or empty
  std::vector<std::string> parameter_names;  ///< by the index of a parameter's name
  std::vector<std::string> units;            ///< words after `counted by`
  std::vector<std::string> line_names;       ///< words after `known as`
  std::vector<ChoiceValue> values;           ///< by the meaning index of a value's name
  std::vector<source::Span> decision_spans;  ///< where each decision is first made
  std::set<const Node*> misnamed;            ///< lines whose name was reported: nothing more is said of them
  SiteId hands_site;
  std::vector<Variant> variants;
  std::vector<bool> choice_used;
  std::vector<bool> decision_asked;
  bool usual_agent_needed = false;           ///< some line names no agent
  std::vector<Line> uncalled_lines;          ///< of routines that nothing calls here: read once, no part of the protocol

  const syntax::Tree& tree(const Place& place) const { return loaded.files[place.file].tree; }
  const Node& node(const Place& place) const { return tree(place)[place.node]; }
  bool is_root(const Place& place) const { return place.file == 0; }

  /// Adds a finding, unless the very same one was made before. The reference is good until the next one.
  diagnostics::Diagnostic& report(Code code, source::Span at, std::vector<std::string> args = {});
  /// How many findings there are; `take_back` forgets those that came since.
  std::size_t reported() const { return found_.size(); }
  void take_back(std::size_t reported);
  bool has_errors() const;
  /// All findings since the last call, in the order of the files.
  diagnostics::Sink findings();

  /// Cuts the phrase of `node` from token `from` on. Reports and gives nothing if it cannot be read, or in two ways.
  std::optional<Reading> read(const Node& node, const resolve::Frame& frame, std::size_t from = 0,
                              const std::vector<std::uint32_t>& parameters = {});
  /// The same without a report. `cut` holds what was found.
  bool try_read(const Node& node, const resolve::Frame& frame, resolve::Cut& cut, std::size_t from = 0,
                const std::vector<std::uint32_t>& parameters = {});
  void explain(const Node& node, const resolve::Cut& cut);

 private:
  void drop_impossible(const Node& node, std::vector<Reading>& readings) const;
  bool is_possible(const Node& node, const Reading& reading) const;
  void explain_word(const Node& node, const resolve::Stop& stop);

  diagnostics::Sink found_;
  std::unordered_map<std::uint64_t, std::vector<std::size_t>> found_at_;
  diagnostics::Diagnostic repeated_;
  std::size_t suggestions_ = 0;
};

/// The words of a segment, in lower case.
std::string words(const Node& node, const Segment& segment);
/// Where a segment stands.
source::Span span_of(const Node& node, const Segment& segment);
source::Span span_of(const Node& node, std::size_t begin, std::size_t end);
/// The text of the first quoted token, or of the segment with that label; empty if there is none.
std::string quoted(const Node& node, const Reading& reading, std::string_view label = "text");
/// The name of an item's surfaces, one of which is `part`; nothing if there is none.
std::optional<std::uint8_t> part_of(const Item& item, std::string_view part);

/// A number as written, exactly; nothing if it has more digits than can be reckoned with.
std::optional<Rational> exact(std::string_view number);
/// A whole number of at most `most`; nothing if it is none.
std::optional<std::uint32_t> whole(std::string_view number, std::uint32_t most);

}  // namespace stepward::model::reading
