#pragma once
// The syntax tree: what the grammar hands over, before any name is known.
//
// Why this shape: the grammar reads lines, blocks, quotes and keywords; it cannot know where one name of several
// words ends and the next begins, because names are declared anywhere. So a statement keeps the head that the grammar
// recognised (`kind`) and the rest of its line as a flat phrase of tokens; `resolve` cuts phrases into names.
// Blocks and detail lines are children. The tree owns its text; nodes refer to each other by id; the root of a file
// is a node of kind `file` whose children are the top-level statements in order.

#include <cstdint>
#include <string>
#include <vector>

#include "base/id.hpp"
#include "source/span.hpp"

namespace stepward::syntax {

enum class TokenKind : std::uint8_t {
  word,    ///< letters, digits, hyphens, apostrophes; `text` holds it in lower case, `written` as typed
  quoted,  ///< "…" without its quotes; curly quotes are accepted
  number,  ///< 12 or 0.5
  date,    ///< 2031-03-15
  ratio,   ///< 1:10, always refused later, with both readings shown
  comma,
};

struct Token {
  TokenKind kind = TokenKind::word;
  std::string text;     ///< words in lower case; quoted text as written
  std::string written;  ///< as typed, for messages and for numbers of documents
  source::Span span;
};

/// The head of a statement. `keywords.def` in grammar/ is the one list of the words that open each.
enum class NodeKind : std::uint16_t {
  file,
#define STEPWARD_HEAD(id, words, closes) id,
#include "keywords.def"
};

struct NodeTag;
using NodeId = Id<NodeTag>;

struct Node {
  NodeKind kind = NodeKind::file;
  source::Span span;            ///< from the first word of the head to the end of its line
  source::Span head;            ///< the keyword words alone
  std::vector<Token> phrase;    ///< the rest of the line after the head
  std::vector<NodeId> children; ///< block content and detail lines, in order
  source::Span closed_by;       ///< the `end …` line of a block
};

/// One parsed file.
struct Tree {
  source::FileId file;
  int language_version = 0;     ///< the 1 of `stepward 1 protocol`; 0 when line 1 is missing or wrong
  std::string file_kind;        ///< protocol, library, rules or words
  std::vector<Node> nodes;      ///< nodes[0] is the file
  std::vector<source::Span> remarks;  ///< the remarks in order, each from its `#` to the end of the line

  const Node& operator[](NodeId id) const { return nodes[id.value]; }
  const Node& root() const { return nodes.front(); }
};

}  // namespace stepward::syntax
