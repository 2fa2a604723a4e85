#include "driver/standard_files.hpp"

#include "parse/parse.hpp"
#include "resolve/imports.hpp"
#include "resolve/standard_library.hpp"
#include "source/files.hpp"

namespace stepward::driver {
namespace {

std::string title_of(const syntax::Tree& tree) {
  for (const syntax::NodeId top : tree.root().children) {
    if (tree[top].kind != syntax::NodeKind::document) continue;
    for (const syntax::NodeId detail : tree[top].children) {
      if (tree[detail].kind == syntax::NodeKind::title && !tree[detail].phrase.empty()) return tree[detail].phrase.front().text;
    }
  }
  return {};
}

}  // namespace

std::vector<StandardSource> standard_sources() {
  std::vector<StandardSource> all;
  source::Files files;
  diagnostics::Sink ignored;
  for (const resolve::StandardFile& file : resolve::standard_files()) {
    const source::FileId id = files.add(std::string(file.path), std::string(file.text));
    StandardSource source{std::string(resolve::short_name(file.path)), std::string(file.path), std::string(file.text), {}, {}, {}, parse::parse(id, files.text(id), ignored)};
    source.title = title_of(source.tree);
    source.number = resolve::number_of(source.tree);
    source.version = resolve::version_of(source.tree);
    all.push_back(std::move(source));
  }
  return all;
}

}  // namespace stepward::driver
