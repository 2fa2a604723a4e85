#pragma once
// A finding as data: a code, where, and the names it is about. No English here.
//
// Every folder that detects something makes these; `wording/` holds the sentences, keyed by code; the renderers in this
// folder put both together for a terminal or as JSON. `args` fill the numbered gaps of the code's sentences, in the
// order that `wording/messages.def` documents. One mistake, one diagnostic: what follows from it stands under `also`.

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "source/span.hpp"

namespace stepward::diagnostics {

enum class Severity : std::uint8_t { note, warning, error };

/// The registry, `codes.def`: one line a code.
enum class Code : std::uint16_t {
#define STEPWARD_CODE(id, severity, name) id,
#include "diagnostics/codes.def"
#undef STEPWARD_CODE
};

/// Another place that matters, with the key of its caption's words in `args` order.
struct Place { source::Span span; std::string caption; };

/// One line of a story, already in ward words; `here` marks the last one, the finding itself.
struct StoryLine { std::string step; std::string text; bool here = false; };

/// What else the same mistake breaks: a finding of its own, told by its headline alone.
struct Also { Code code{}; source::Span at; std::vector<std::string> args; };

struct Diagnostic {
  Code code{};
  Severity severity = Severity::error;
  source::Span at;
  std::vector<std::string> args;
  std::vector<Place> places;
  std::vector<StoryLine> story;
  std::string because;            ///< the rule's or finding's reason, a full sentence
  std::string source;             ///< where the reason comes from
  std::string fix;                ///< one line that could be typed; empty: the code's own fix sentence, if it has one
  std::vector<Also> also;         ///< most likely mended with it
  std::string shared;             ///< "4 of 6 variants" or empty
};

/// Where passes put what they find.
using Sink = std::vector<Diagnostic>;

std::string_view code_name(Code code);        ///< "P401"
Severity default_severity(Code code);
bool parse_code(std::string_view text, Code& out);
/// How many codes there are; they are numbered from 0 without gaps.
std::size_t code_count();

/// A finding of a code with its default severity, ready to be filled further.
Diagnostic make(Code code, source::Span at, std::vector<std::string> args = {});

}  // namespace stepward::diagnostics
