#include <fmt/format.h>

#include "driver/dumps.hpp"

namespace stepward::driver {
namespace {

std::string_view kind_name(syntax::NodeKind kind) {
  switch (kind) {
    case syntax::NodeKind::file: return "file";
#define STEPWARD_HEAD(id, words, closes) \
  case syntax::NodeKind::id: return #id;
#include "keywords.def"
  }
  return "";
}

std::string token_text(const syntax::Token& token) {
  switch (token.kind) {
    case syntax::TokenKind::quoted: return '"' + token.text + '"';
    case syntax::TokenKind::comma: return ",";
    case syntax::TokenKind::word: return token.text;
    case syntax::TokenKind::number:
    case syntax::TokenKind::date:
    case syntax::TokenKind::ratio: return token.written;
  }
  return "";
}

void put_node(const Compilation& made, const syntax::Tree& tree, syntax::NodeId id, std::size_t depth, std::string& text) {
  const syntax::Node& node = tree[id];
  text += fmt::format("{:>5}  {}{}", made.files.position(tree.file, node.span.begin).line, std::string(2 * depth, ' '),
                      kind_name(node.kind));
  for (const syntax::Token& token : node.phrase) text += ' ' + token_text(token);
  text += '\n';
  for (const syntax::NodeId child : node.children) put_node(made, tree, child, depth + 1, text);
}

}  // namespace

std::string dump_tree(const Compilation& made) {
  std::string text;
  for (const resolve::LoadedFile& file : made.loaded.files) {
    text += fmt::format("{} ({})\n", file.path, file.tree.file_kind.empty() ? "unknown kind" : file.tree.file_kind);
    for (const syntax::NodeId top : file.tree.root().children) put_node(made, file.tree, top, 0, text);
  }
  return text;
}

}  // namespace stepward::driver
