// `stepward library`: what ships inside the program.

#include <algorithm>

#include <fmt/format.h>

#include "driver/commands.hpp"
#include "parse/parse.hpp"
#include "resolve/standard_library.hpp"
#include "source/files.hpp"

namespace stepward::driver {
namespace {

using resolve::StandardFile;
using syntax::NodeKind;

/// The first written token of a detail of the document block.
std::string said_of(const syntax::Tree& tree, NodeKind what) {
  for (const syntax::NodeId top : tree.root().children) {
    if (tree[top].kind != NodeKind::document) continue;
    for (const syntax::NodeId detail : tree[top].children) {
      if (tree[detail].kind == what && !tree[detail].phrase.empty()) return tree[detail].phrase.front().written;
    }
  }
  return {};
}

std::string name_of(const StandardFile& file) {
  std::string_view name = file.path.substr(file.path.rfind('/') + 1);
  return std::string(name.substr(0, name.rfind('.')));
}

std::string title_of(const syntax::Tree& tree) {
  std::string title = said_of(tree, NodeKind::title);
  title.erase(std::remove(title.begin(), title.end(), '"'), title.end());
  return title;
}

std::string line_of(const StandardFile& file, std::size_t widest) {
  source::Files files;
  diagnostics::Sink ignored;
  const source::FileId id = files.add(std::string(file.path), std::string(file.text));
  const syntax::Tree tree = parse::parse(id, files.text(id), ignored);
  return fmt::format("use {:<7} standard {:<{}} {} version {}\n", tree.file_kind, '"' + name_of(file) + '"', widest + 2, title_of(tree),
                     said_of(tree, NodeKind::version));
}

std::string list() {
  std::string text;
  std::size_t widest = 0;
  for (const StandardFile& file : resolve::standard_files()) widest = std::max(widest, name_of(file).size());
  for (const StandardFile& file : resolve::standard_files()) text += line_of(file, widest);
  return text + "\n\"stepward library NAME\" shows one of them\n";
}

}  // namespace

Outcome library_command(const LibraryRequest& request) {
  if (request.name.empty()) return {ExitCode::fine, list(), ""};
  for (const StandardFile& file : resolve::standard_files()) {
    if (name_of(file) == request.name || file.path == request.name) return {ExitCode::fine, std::string(file.text), ""};
  }
  return refusal(ExitCode::wrong_use, fmt::format("the library holds nothing called \"{}\"; there are:\n{}", request.name, list()));
}

}  // namespace stepward::driver
