#pragma once
// Turns the slice of a run into the lines that a nurse reads.

#include "explore/slice.hpp"
#include "model/protocol.hpp"

namespace stepward::check {

/// At most `most` lines; the last one is the finding itself, marked here.
std::vector<diagnostics::StoryLine> story_lines(const model::Protocol& protocol, const graph::Graph& graph, const effects::System& system,
                                                const explore::Packed& packed, const explore::Story& story,
                                                const std::string& last_line, std::size_t most = 12);

/// "wearer takes off plastic apron": the line in the words of the source, without its technique.
std::string line_in_words(const model::Protocol& protocol, const model::Variant& variant, const model::Line& line);

}  // namespace stepward::check
