#pragma once
// Findings in order, on a terminal, as JSON, and as SARIF (sarif.cpp).
//
// Three small jobs that need a finding, the files it points into and the sentences of its code together. None of them
// decides anything: what a finding says was settled by whoever made it.
//
// A finding on a terminal:
//
//     error P401 exit.ward:182:14  coverall is still covered by plastic apron
//        182 |     take off coverall using unzip and roll down
//            |              ^^^^^^^^
//        hint  …
//        story 1 observer inspects suit: soil found   2 soil cleaned
//        because The apron holds the flap shut.
//        fix   take the apron off before line 182 on this path
//
// The caret counts terminal cells, not bytes, so it also stands right under letters that are wide or of several bytes.
//
// JSON: one object
//   format   "stepward findings"      version  1
//   counts   { error, warning, note }
//   summary  whatever facts the caller adds, by name
//   findings [ { code, name, severity, headline, hint, fix, because, source, args[],
//                at { file, line, column, end_line, end_column } or null,
//                places [ { caption, at } ], story [ { step, text, here } ],
//                also [ { code, headline, at } ], shared } ]
// Lines and columns start at 1 and count characters; `end_column` is the column behind the last character.

#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "source/files.hpp"

namespace stepward::diagnostics {

/// How many findings there are of each severity.
struct Counts {
  std::size_t errors = 0;
  std::size_t warnings = 0;
  std::size_t notes = 0;
};
Counts count(const Sink& findings);

/// Puts findings in the order in which they are shown: by file as read, line, code, then column.
void sort(Sink& findings, const source::Files& files);

/// How a finding looks on a terminal.
struct TextStyle {
  bool colour = false;  ///< with the terminal's escape sequences
};

/// One finding, ending in a line end. A finding without a place shows only its sentences.
std::string as_text(const Diagnostic& finding, const source::Files& files, TextStyle style = {});
/// All findings with an empty line after each.
std::string as_text(const Sink& findings, const source::Files& files, TextStyle style = {});

/// One entry of a register: what it says, by name.
using Cell = std::variant<std::int64_t, double, bool, std::string, std::vector<std::string>>;
struct Row { std::vector<std::pair<std::string, Cell>> cells; };

/// A fact about the run that stands in `summary`.
using Fact = std::variant<std::int64_t, double, bool, std::string, std::vector<std::string>, std::vector<Row>>;

/// The JSON text described above, indented, ending in a line end. Facts keep their order.
std::string as_json(const Sink& findings, const source::Files& files,
                    const std::vector<std::pair<std::string, Fact>>& summary = {});

/// One checked file, for SARIF.
struct SarifRun {
  std::string file;                      ///< as it was named
  const Sink* findings = nullptr;
  const source::Files* files = nullptr;
  std::string verdict;                   ///< in words
  bool was_read = true;
};
/// One run of a SARIF 2.1.0 log: stories as code flows, and a fix where the spelling of a name is all that is wrong.
std::string as_sarif_run(const SarifRun& checked);
/// The log of these runs, ending in a line end.
std::string as_sarif(const std::vector<std::string>& runs);

std::string_view severity_name(Severity severity);  ///< "error", "warning", "note"
std::string_view code_title(Code code);             ///< the name in the registry: "still_covered"

}  // namespace stepward::diagnostics
