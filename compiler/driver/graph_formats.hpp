#pragma once
// What `stepward graph` can write, by name.
//
// Several formats are asked for together, since they are made from the same things: the numbers of the card, the step graph
// with its lowered rules, the flow chart. Each of these is made once, however many formats want it.

#include <optional>
#include <string>
#include <vector>

#include "driver/pipeline.hpp"

namespace stepward::driver {

/// The names that `--as` knows, in the order in which they are listed.
std::vector<std::string> graph_format_names();

/// How a file of this format ends: ".graph.json", ".svg".
std::string graph_file_ending(const std::string& format);

/// The sizes of sheets that a flow chart can be cut to.
std::vector<std::string> chart_sheet_names();

/// Whether a walk has anything to say in this format.
bool tells_of_walk(const std::string& format);

struct Written {
  std::vector<std::string> formats;
  bool walk = false;       ///< say of each way of the step graph whether some run takes it
  std::string sheet;       ///< svg: the pages that each chart is cut to; empty: all charts are on one sheet
  unsigned workers = 1;
};

/// One file's worth. `part`: what is told apart where a format has several, such as "-gown-goggles-page-2"; empty: it has one.
struct GraphText {
  std::string format, part, text;
};

/// The variants of a protocol that resolved without an error, in each of these formats, in their order. None: a format is
/// unknown, this build cannot place boxes, the library that does gave up, a chart is too wide for its pages, or a walk that was
/// asked for came to no end; `why` says it.
std::optional<std::vector<GraphText>> written_as(const Written& how, const Compilation& made, const std::vector<model::Variant>& variants,
                                                 std::string& why);

}  // namespace stepward::driver
