// `stepward library`: what ships inside the program.

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "driver/commands.hpp"
#include "driver/standard_files.hpp"

namespace stepward::driver {
namespace {

/// How a file asks for it; a protocol is not used but begun from.
std::string asked_for(const StandardSource& file) {
  if (file.tree.file_kind == "protocol") return "stepward new " + file.name;
  return fmt::format("use {:<7} standard \"{}\"", file.tree.file_kind, file.name);
}

std::string list(const std::vector<StandardSource>& files) {
  std::string text;
  std::size_t widest = 0;
  for (const StandardSource& file : files) widest = std::max(widest, asked_for(file).size());
  for (const StandardSource& file : files) text += fmt::format("{:<{}} {} version {}\n", asked_for(file), widest + 1, file.title, file.version);
  return text + "\n\"stepward library NAME\" shows one of them\n";
}

// ---- where its statements come from

using syntax::Node;
using syntax::NodeKind;

/// Whatever says something of the world and may name a source for it.
bool is_statement(NodeKind kind) {
  return kind == NodeKind::zone || kind == NodeKind::role || kind == NodeKind::finding || kind == NodeKind::surface || kind == NodeKind::item ||
         kind == NodeKind::agent || kind == NodeKind::technique || kind == NodeKind::rule;
}

std::string_view written(const StandardSource& file, source::Span span) { return std::string_view(file.text).substr(span.begin, span.end - span.begin); }

constexpr std::array<std::string_view, 5> marks = {"read", "quoted by another", "from memory", "common practice", "local"};

std::size_t mark_of(std::string_view source) {
  const auto* mark = std::find_if(marks.begin(), marks.end(), [&](std::string_view each) { return source.rfind(each, 0) == 0; });
  return static_cast<std::size_t>(mark - marks.begin());
}

/// Each statement with its sources as they are written, then how many sources bear each mark.
std::string sources_of(const StandardSource& file) {
  std::array<std::size_t, marks.size() + 1> counts{};
  std::string text = fmt::format("{}: {}, version {}\n", file.name, file.title, file.version);
  std::size_t statements = 0, bare = 0;
  for (const syntax::NodeId top : file.tree.root().children) {
    const Node& statement = file.tree[top];
    if (!is_statement(statement.kind)) continue;
    ++statements;
    text += fmt::format("\n{}\n", written(file, statement.span));
    bool has_source = false;
    for (const syntax::NodeId detail : statement.children) {
      if (file.tree[detail].kind != NodeKind::source) continue;
      const std::string_view source = written(file, file.tree[detail].span).substr(std::string_view("source ").size());
      text += fmt::format("  {}\n", source);
      ++counts[mark_of(source)];
      has_source = true;
    }
    if (has_source) continue;
    text += "  says no source\n";
    ++bare;
  }
  text += fmt::format("\n{} statements; sources:", statements);
  for (std::size_t mark = 0; mark < marks.size(); ++mark) text += fmt::format(" {} {}{}", counts[mark], marks[mark], mark + 1 < marks.size() ? "," : "");
  return text + fmt::format("; without a source: {}\n", bare);
}

}  // namespace

Outcome library_command(const LibraryRequest& request) {
  const std::vector<StandardSource> files = standard_sources();
  if (request.name.empty()) return {ExitCode::fine, list(files), ""};
  for (const StandardSource& file : files) {
    if (file.name == request.name || file.path == request.name) return {ExitCode::fine, request.sources ? sources_of(file) : file.text, ""};
  }
  return refusal(ExitCode::wrong_use, fmt::format("the library holds nothing called \"{}\"; there are:\n{}", request.name, list(files)));
}

}  // namespace stepward::driver
