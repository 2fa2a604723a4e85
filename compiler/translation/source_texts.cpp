#include "translation/source_texts.hpp"

#include "base/text.hpp"

namespace stepward::translation {
namespace {

using syntax::Node;
using syntax::NodeId;
using syntax::NodeKind;
using syntax::Token;
using syntax::TokenKind;

std::string folded_phrase(const Node& node) {
  std::string words;
  for (const Token& token : node.phrase) {
    if (!words.empty()) words += ' ';
    words += token.text;
  }
  return text::fold(words);
}

/// Lines that a paper never prints, though they hold quoted words. Why a step is done is printed; why a technique touches
/// nothing is not.
bool is_printed(NodeKind kind, NodeKind within) {
  return kind != NodeKind::source && kind != NodeKind::agreed_by && !(kind == NodeKind::because && within == NodeKind::technique);
}

class Collector {
 public:
  explicit Collector(const syntax::Tree& tree) : tree_(tree) {}

  void run(std::vector<SourceText>& texts, std::vector<std::string>& places) {
    texts_ = &texts;
    places_ = &places;
    for (const NodeId top : tree_.root().children) read(tree_[top]);
  }

 private:
  void read(const Node& node) {
    switch (node.kind) {
      case NodeKind::verb: return read_block(node, "verb");
      case NodeKind::technique: return read_block(node, "technique");
      case NodeKind::phase: return read_block(node, "phase");
      case NodeKind::routine: return read_block(node, "routine");
      case NodeKind::any_time: return read_block(node, "any time");
      case NodeKind::variants: return read_block(node, "variants");
      case NodeKind::set_aside: return read_block(node, "set aside");
      case NodeKind::local_change: return read_block(node, "local change");
      case NodeKind::answered_slip: return read_block(node, "answer to");
      default: return;  // no other statement of a file has texts that are printed
    }
  }

  void read_block(const Node& node, const char* kind) {
    const std::string name = folded_phrase(node), place = name.empty() ? std::string(kind) : kind + (' ' + name);
    places_->push_back(place);
    read_lines(node, {place});
  }

  /// The lines inside of a block or under a line. Steps stand in blocks of blocks, and share the place of the outermost.
  void read_lines(const Node& node, const std::vector<std::string>& within) {
    for (const NodeId id : node.children) {
      const Node& line = tree_[id];
      std::vector<std::string> places = within;
      if (const std::string known = known_as(line); !known.empty()) {
        places.push_back(known);
        places_->push_back(known);
      }
      if (is_printed(line.kind, node.kind)) {
        for (const Token& token : line.phrase) {
          if (token.kind == TokenKind::quoted && !token.text.empty()) texts_->push_back({token.text, token.span, places});
        }
      }
      read_lines(line, places);
    }
  }

  std::string known_as(const Node& line) const {
    for (const NodeId child : line.children) {
      if (tree_[child].kind == NodeKind::known_as) return folded_phrase(tree_[child]);
    }
    return {};
  }

  const syntax::Tree& tree_;
  std::vector<SourceText>* texts_ = nullptr;
  std::vector<std::string>* places_ = nullptr;
};

void collect(const resolve::Loaded& loaded, std::vector<SourceText>& texts, std::vector<std::string>& places) {
  for (const resolve::LoadedFile& file : loaded.files) {
    if (file.tree.file_kind != "words" && !file.tree.nodes.empty()) Collector(file.tree).run(texts, places);
  }
}

}  // namespace

std::vector<SourceText> source_texts(const resolve::Loaded& loaded) {
  std::vector<SourceText> texts;
  std::vector<std::string> places;
  collect(loaded, texts, places);
  return texts;
}

std::vector<std::string> places_of_texts(const resolve::Loaded& loaded) {
  std::vector<SourceText> texts;
  std::vector<std::string> places;
  collect(loaded, texts, places);
  return places;
}

}  // namespace stepward::translation
