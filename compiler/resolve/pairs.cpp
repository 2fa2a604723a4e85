#include "resolve/pairs.hpp"

#include <optional>

namespace stepward::resolve {
namespace {

using diagnostics::Code;
using syntax::NodeKind;
using syntax::TokenKind;

std::vector<const syntax::Node*> pair_lines(const Loaded& loaded) {
  std::vector<const syntax::Node*> lines;
  if (loaded.files.empty()) return lines;
  const syntax::Tree& tree = loaded.files.front().tree;
  if (tree.file_kind != "protocol") return lines;  // that it does not belong there is told elsewhere
  for (const syntax::NodeId top : tree.root().children)
    if (tree[top].kind == NodeKind::pairs_with) lines.push_back(&tree[top]);
  return lines;
}

/// Reads the words of one line from the front; what is left when it is done cannot be read.
class Words {
 public:
  explicit Words(const syntax::Node& node) : node_(node) {}

  bool take(std::string_view word) {
    if (ends() || node_.phrase[at_].text != word) return false;
    ++at_;
    return true;
  }
  const syntax::Token* take(TokenKind kind) {
    if (ends() || node_.phrase[at_].kind != kind) return nullptr;
    return &node_.phrase[at_++];
  }
  const syntax::Token* take_any() { return ends() ? nullptr : &node_.phrase[at_++]; }
  bool ends() const { return at_ >= node_.phrase.size(); }

  void report_rest(diagnostics::Sink& sink) const {
    const std::string found = ends() ? "the end of the line" : "\"" + node_.phrase[at_].written + "\"";
    sink.push_back(diagnostics::make(Code::N209, ends() ? node_.span : node_.phrase[at_].span, {found}));
  }

 private:
  const syntax::Node& node_;
  std::size_t at_ = 0;
};

std::optional<PairsWith> read_line(const syntax::Node& node, diagnostics::Sink& sink) {
  PairsWith said;
  said.span = node.span;
  Words words(node);
  const syntax::Token* name = words.take(TokenKind::quoted);
  if (name) {
    said.named = name->text;
    said.name_span = name->span;
    const bool versioned = words.take("version");
    const syntax::Token* version = versioned ? words.take_any() : nullptr;
    if (version) said.version = version->written;
    words.take(",");
    said.moved_since = words.take("moved") && words.take("since");
    if (versioned == (version != nullptr) && words.ends()) return said;
  }
  words.report_rest(sink);
  return std::nullopt;
}

}  // namespace

std::vector<PairsWith> pairs_of(const Loaded& loaded, diagnostics::Sink& sink) {
  std::vector<PairsWith> pairs;
  for (const syntax::Node* line : pair_lines(loaded)) {
    std::optional<PairsWith> said = read_line(*line, sink);
    if (!said) continue;
    const std::string& here = loaded.files.front().path;
    const auto path = path_inside(here, said->named);
    if (!path) {
      sink.push_back(diagnostics::make(Code::N203, said->name_span, {said->named}));
    } else if (*path == here) {
      sink.push_back(diagnostics::make(Code::N204, said->name_span, {here, here}));
    } else {
      said->path = *path;
      pairs.push_back(std::move(*said));
    }
  }
  return pairs;
}

bool fits_as_entry(const PairsWith& said, const Loaded& exit, const Loaded& entry, diagnostics::Sink& sink) {
  if (entry.files.empty()) return false;
  const syntax::Tree& tree = entry.files.front().tree;
  if (!tree.file_kind.empty() && tree.file_kind != "protocol") {
    sink.push_back(diagnostics::make(Code::N206, said.span, {said.named, tree.file_kind, "protocol"}));
    return false;
  }
  if (const std::string version = version_of(tree); !said.version.empty() && !version.empty() && version != said.version)
    sink.push_back(diagnostics::make(Code::N205, said.span, {said.named, version, said.version}));
  diagnostics::Sink unsaid;  // the entry's own lines are reported when the entry is checked
  for (const PairsWith& back : pairs_of(entry, unsaid)) {
    if (back.path != exit.files.front().path) continue;
    diagnostics::Diagnostic loop = diagnostics::make(Code::N204, said.name_span, {exit.files.front().path, said.path});
    loop.places.push_back({back.span, "and back from here"});
    sink.push_back(std::move(loop));
    return false;
  }
  return true;
}

}  // namespace stepward::resolve
