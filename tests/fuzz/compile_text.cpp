#include "compile_text.hpp"

#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <string>

#include "base/file_access.hpp"
#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "model/from_syntax.hpp"
#include "order/settle.hpp"
#include "parse/parse.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"
#include "tidy/tidy.hpp"
#include "translation/apply.hpp"

namespace stepward::tests {
namespace {

/// So few states that one odd input cannot hold up a run of millions.
constexpr std::uint64_t few_states = 500;

void demand(bool promise, const char* what) {
  if (promise) return;
  std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

void demand_sound(source::Span span, std::string_view text) {
  demand(span.begin <= span.end && span.end <= text.size(), "a span lies inside its file");
}

void demand_sound(const syntax::Tree& tree, std::string_view text) {
  demand(!tree.nodes.empty(), "a tree has a root");
  for (std::size_t i = 0; i < tree.nodes.size(); ++i) {
    const syntax::Node& node = tree.nodes[i];
    demand_sound(node.span, text);
    for (const syntax::Token& token : node.phrase) demand_sound(token.span, text);
    for (const syntax::NodeId child : node.children) {
      demand(child.value > i && child.value < tree.nodes.size(), "children follow their parents");
    }
  }
}

void demand_sound(const diagnostics::Sink& sink, const source::Files& files) {
  for (const diagnostics::Diagnostic& finding : sink) {
    if (finding.at.file) demand(finding.at.file.value < files.size(), "a finding stands in a file that was read");
    demand(!diagnostics::as_text(finding, files).empty(), "a finding has words");
  }
  demand(diagnostics::as_json(sink, files).size() > 2, "findings can be given as JSON");
}

/// Only the first step, which takes no time. True when every line was understood.
bool parses(std::string_view text) {
  source::Files files;
  diagnostics::Sink sink;
  const source::FileId file = files.add("sample.ward", std::string(text));
  demand_sound(parse::parse(file, files.text(file), sink), files.text(file));
  demand_sound(sink, files);
  return diagnostics::count(sink).errors == 0;
}

/// What can be read can be made tidy, says the same then (tidy itself looks), and is tidy the second time.
void demand_tidy_form(std::string_view text) {
  const auto tidied = [](std::string_view of) {
    source::Files files;
    diagnostics::Sink sink;
    const source::FileId file = files.add("sample.ward", std::string(of));
    return tidy::tidy(file, files.text(file), sink);
  };
  const tidy::Tidied once = tidied(text);
  demand(once.outcome != tidy::Outcome::would_differ, "the tidy form says the same");
  if (once.outcome == tidy::Outcome::tidy) demand(tidied(once.text).text == once.text, "the tidy form is tidy");
}

/// One text in eight, always the same ones.
bool is_chosen(std::string_view text) {
  std::uint32_t sum = 2166136261u;
  for (const char c : text) sum = (sum ^ static_cast<unsigned char>(c)) * 16777619u;
  return (sum >> 16) % 8 == 0;
}

}  // namespace

void compile_text(std::string_view text) {
  // Resolving builds every sentence form anew, a thousand times the cost of parsing a small text. Most random changes
  // end in a line that is not understood, so of those only some go on, and a run sees many more texts.
  demand_tidy_form(text);
  if (!parses(text) && !is_chosen(text)) return;
  FilesInMemory memory;
  memory.put("sample.ward", std::string(text));
  source::Files files;
  diagnostics::Sink sink;
  const resolve::Loaded loaded = resolve::load("sample.ward", memory, files, sink);
  if (!loaded.files.empty()) {
    auto protocol = model::build(loaded, files, sink, {"2031-06-01"});
    if (protocol) order::settle(*protocol, {true, few_states, few_states, 1}, files, sink);
    check::Options options;
    options.limit = few_states;
    options.workers = 1;
    if (protocol) check::check(*protocol, options, sink);
    if (protocol) {
      for (const translation::Dictionary& words : translation::dictionaries(loaded, *protocol, files, sink)) {
        demand(translation::translate(*protocol, words, translation::Marks::with_number).protocol.tongue.language == words.language, "papers can be made in a language");
      }
    }
  }
  diagnostics::sort(sink, files);
  demand_sound(sink, files);
}

}  // namespace stepward::tests
