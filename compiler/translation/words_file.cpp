#include "translation/words_file.hpp"

#include <algorithm>

#include "base/text.hpp"

namespace stepward::translation {
namespace {

using diagnostics::Code;
using syntax::Node;
using syntax::NodeId;
using syntax::NodeKind;
using syntax::Token;
using syntax::TokenKind;

bool is_quoted(const Node& node, std::size_t at) { return at < node.phrase.size() && node.phrase[at].kind == TokenKind::quoted; }
bool is_word(const Node& node, std::size_t at, std::string_view word) {
  return at < node.phrase.size() && node.phrase[at].kind == TokenKind::word && node.phrase[at].text == word;
}

/// The tokens from `begin` to `end` as they were written, with single blanks.
std::string written(const Node& node, std::size_t begin, std::size_t end) {
  std::string words;
  for (std::size_t at = begin; at < end && at < node.phrase.size(); ++at) {
    const Token& token = node.phrase[at];
    if (!words.empty()) words += ' ';
    words += token.kind == TokenKind::quoted || token.written.empty() ? token.text : token.written;
  }
  return words;
}

source::Span span_of(const Node& node, std::size_t begin, std::size_t end) {
  return {node.span.file, node.phrase[begin].span.begin, node.phrase[end - 1].span.end};
}

bool is_of_words(NodeKind kind) {
  return kind == NodeKind::words_in || kind == NodeKind::name_in_words || kind == NodeKind::phrase_in_words || kind == NodeKind::contract ||
         kind == NodeKind::text_for;
}

/// A file of words holds words and nothing that could happen; other files hold none.
void check_belongs(const syntax::Tree& tree, const source::Files& files, diagnostics::Sink& sink) {
  const bool words = tree.file_kind == "words";
  if (tree.nodes.empty() || tree.file_kind.empty()) return;
  for (const NodeId top : tree.root().children) {
    const Node& node = tree[top];
    const bool anywhere = node.kind == NodeKind::document || node.kind == NodeKind::use_words;
    if (anywhere || words == is_of_words(node.kind)) continue;
    const std::string file = words || tree.file_kind == "rules" ? "a file of " + tree.file_kind : "a " + tree.file_kind;
    sink.push_back(diagnostics::make(Code::N112, node.head, {std::string(files.text(node.head)), file}));
  }
}

class Reader {
 public:
  Reader(const syntax::Tree& tree, std::uint32_t file, diagnostics::Sink& sink) : tree_(tree), sink_(sink) { words_.file = file; }

  WordsFile run() {
    for (const NodeId top : tree_.root().children) {
      const Node& node = tree_[top];
      if (node.kind == NodeKind::words_in) read_heading(node);
      else if (node.kind == NodeKind::name_in_words) read_name(node);
      else if (node.kind == NodeKind::phrase_in_words) read_pair(node, "in quotes, the phrase in English", "in quotes, the phrase in the other language", words_.phrases);
      else if (node.kind == NodeKind::contract) read_pair(node, "in quotes, the words apart", "in quotes, the words drawn together", words_.contractions);
      else if (node.kind == NodeKind::text_for) read_passage(node);
    }
    if (!headed_) sink_.push_back(diagnostics::make(Code::X411, tree_.root().span));
    return std::move(words_);
  }

 private:
  void stops_early(const Node& node, const char* missing) { sink_.push_back(diagnostics::make(Code::N104, node.span, {missing})); }
  void does_not_fit(const Node& node, std::size_t at, const char* wanted) {
    const Token& token = node.phrase[at];
    const std::string found = token.kind == TokenKind::quoted ? "the quoted text" : "\"" + (token.written.empty() ? token.text : token.written) + "\"";
    sink_.push_back(diagnostics::make(Code::N103, token.span, {found, wanted}));
  }

  /// `words in Spanish` and perhaps `for NUMBER version V`.
  void read_heading(const Node& node) {
    if (headed_) {
      sink_.push_back(diagnostics::make(Code::N113, node.span, {"the language of this file"}));
      sink_.back().places.push_back({words_.heading, "said first"});
      return;
    }
    headed_ = true;
    words_.heading = node.span;
    if (node.phrase.empty()) return stops_early(node, "a language, such as Spanish");
    if (node.phrase[0].kind != TokenKind::word) return does_not_fit(node, 0, "the name of a language");
    words_.language = node.phrase[0].written;
    if (node.phrase.size() == 1) return;
    if (!is_word(node, 1, "for")) return does_not_fit(node, 1, "\"for\" and the number of a document");
    const auto version = static_cast<std::size_t>(
        std::find_if(node.phrase.begin() + 2, node.phrase.end(), [](const Token& t) { return t.text == "version"; }) - node.phrase.begin());
    words_.of_number = written(node, 2, version);
    words_.of_version = written(node, version + 1, node.phrase.size());
    if (words_.of_number.empty()) return stops_early(node, "the number of the document");
    if (version < node.phrase.size() && words_.of_version.empty()) stops_early(node, "its version");
  }

  /// What stands in front of a quote, as words or itself in quotes.
  std::size_t end_of_source(const Node& node) {
    if (is_quoted(node, 0)) return 1;
    std::size_t at = 0;
    while (at < node.phrase.size() && !is_quoted(node, at)) ++at;
    return at;
  }

  void read_name(const Node& node) {
    const std::size_t end = end_of_source(node);
    if (end == 0 || end >= node.phrase.size()) return stops_early(node, end == 0 ? "the name" : "in quotes, the name in the other language");
    if (!is_quoted(node, end)) return does_not_fit(node, end, "the name in the other language, in quotes");
    Entry entry{written(node, 0, end), node.phrase[end].text, {}, node.span, span_of(node, 0, end), node.phrase[end].span};
    if (end + 1 < node.phrase.size()) {
      if (!is_word(node, end + 1, "called")) return does_not_fit(node, end + 1, "\"called\" and how it is said on a line");
      if (!is_quoted(node, end + 2)) return stops_early(node, "in quotes, how it is said on a line");
      if (end + 3 < node.phrase.size()) return does_not_fit(node, end + 3, "the end of the line");
      entry.called = node.phrase[end + 2].text;
    }
    words_.names.push_back(std::move(entry));
  }

  void read_pair(const Node& node, const char* first, const char* second, std::vector<Entry>& into) {
    if (!is_quoted(node, 0)) return stops_early(node, first);
    if (!is_quoted(node, 1)) return stops_early(node, second);
    if (node.phrase.size() > 2) return does_not_fit(node, 2, "the end of the line");
    into.push_back({node.phrase[0].text, node.phrase[1].text, {}, node.span, node.phrase[0].span, node.phrase[1].span});
  }

  void read_passage(const Node& node) {
    if (node.phrase.empty()) return stops_early(node, "whose texts these are");
    Passage passage{text::fold(written(node, 0, node.phrase.size())), span_of(node, 0, node.phrase.size()), {}};
    const Node* from = nullptr;
    for (const NodeId child : node.children) {
      const Node& line = tree_[child];
      if (!is_quoted(line, 0)) {
        stops_early(line, "the text, in quotes");
      } else if (line.phrase.size() > 1) {
        does_not_fit(line, 1, "the end of the line");
      } else if (line.kind == NodeKind::from_text) {
        if (from) stops_early(*from, "a line below it that begins with say");
        from = &line;
      } else if (!from) {
        sink_.push_back(diagnostics::make(Code::X412, line.span));
      } else {
        passage.texts.push_back({from->phrase[0].text, line.phrase[0].text, {}, line.span, from->phrase[0].span, line.phrase[0].span});
        from = nullptr;
      }
    }
    if (from) stops_early(*from, "a line below it that begins with say");
    words_.passages.push_back(std::move(passage));
  }

  const syntax::Tree& tree_;
  diagnostics::Sink& sink_;
  WordsFile words_;
  bool headed_ = false;
};

}  // namespace

std::vector<WordsFile> read_words(const resolve::Loaded& loaded, const source::Files& files, diagnostics::Sink& sink) {
  std::vector<WordsFile> all;
  for (std::uint32_t file = 0; file < loaded.files.size(); ++file) {
    check_belongs(loaded.files[file].tree, files, sink);
    if (loaded.files[file].tree.file_kind == "words") all.push_back(Reader(loaded.files[file].tree, file, sink).run());
  }
  return all;
}

}  // namespace stepward::translation
