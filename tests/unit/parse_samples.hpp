#pragma once
// A small text parsed, with its findings as "code:line" in order: what the parse tests compare.

#include <string>

#include "parse/parse.hpp"
#include "source/files.hpp"

namespace stepward::tests {

struct Parsed {
  source::Files files;
  diagnostics::Sink sink;
  syntax::Tree tree;

  /// The findings in the order in which they were made: "L201:3 L302:7".
  std::string codes() const {
    std::string all;
    for (const diagnostics::Diagnostic& finding : sink) {
      if (!all.empty()) all += ' ';
      all += std::string(diagnostics::code_name(finding.code)) + ':' +
             std::to_string(files.position(finding.at.file, finding.at.begin).line);
    }
    return all;
  }
  std::string_view text(source::Span span) const { return files.text(span); }
  /// The line at a place of the first block of the file.
  const syntax::Node& step(std::size_t place) const { return tree[tree[tree.root().children.at(0)].children.at(place)]; }
  const syntax::Node& only_step() const { return step(0); }
};

inline Parsed parse_text(std::string text) {
  Parsed parsed;
  const source::FileId file = parsed.files.add("sample.ward", std::move(text));
  parsed.tree = parse::parse(file, parsed.files.text(file), parsed.sink);
  return parsed;
}

/// Lines inside a phase, from line 3 of the file on.
inline Parsed steps(const std::string& lines) {
  return parse_text("stepward 1 protocol\nphase \"A\"\n" + lines + "\nend phase\n");
}

}  // namespace stepward::tests
