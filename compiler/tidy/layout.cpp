#include "tidy/layout.hpp"

#include <algorithm>
#include <cstdint>
#include <vector>

#include "parse/placement.hpp"
#include "tidy/spacing.hpp"

namespace stepward::tidy {
namespace {

using syntax::NodeId;
using syntax::NodeKind;

/// A line that says something: the first line of a node, or the `end` of one.
struct Piece {
  std::uint32_t begin = 0;
  std::size_t depth = 0;
  NodeId node;
  bool is_end = false;
};

/// How deep every node stands. Children come after their parents in the tree, so one pass is enough.
std::vector<std::size_t> depths(const syntax::Tree& tree) {
  std::vector<std::size_t> all(tree.nodes.size(), 0);
  for (std::size_t parent = 1; parent < tree.nodes.size(); ++parent) {
    for (const NodeId child : tree.nodes[parent].children) {
      all[child.value] = all[parent] + (parse::divides_its_block(tree[child].kind) ? 0 : 1);
    }
  }
  return all;
}

std::vector<Piece> pieces_of(const syntax::Tree& tree) {
  const std::vector<std::size_t> depth = depths(tree);
  std::vector<Piece> pieces;
  for (std::size_t i = 1; i < tree.nodes.size(); ++i) {
    const syntax::Node& node = tree.nodes[i];
    pieces.push_back({node.span.begin, depth[i], NodeId(i), false});
    if (node.closed_by.end > 0) pieces.push_back({node.closed_by.begin, depth[i], NodeId(i), true});
  }
  std::sort(pieces.begin(), pieces.end(), [](const Piece& a, const Piece& b) { return a.begin < b.begin; });
  return pieces;
}

class Layout {
 public:
  Layout(const syntax::Tree& tree, std::string_view text) : tree_(tree), text_(text), pieces_(pieces_of(tree)) {}

  std::string run() {
    for (std::size_t begin = 0; begin < text_.size();) {
      const std::size_t end = std::min(text_.find('\n', begin), text_.size());
      put_line(begin, end);
      begin = end + 1;
    }
    put_waiting(0);
    return std::move(out_);
  }

 private:
  /// One line of the source, which holds a piece, a remark, both or neither.
  void put_line(std::size_t begin, std::size_t end) {
    const bool remarked = next_remark_ < tree_.remarks.size() && tree_.remarks[next_remark_].begin < end;
    const std::size_t remark = remarked ? tree_.remarks[next_remark_++].begin : end;
    if (next_piece_ < pieces_.size() && pieces_[next_piece_].begin < end) {
      const Piece& piece = pieces_[next_piece_++];
      put_waiting(piece.depth + (stands_inside(piece) ? 0 : 1));
      return put(piece.depth, words_of(piece), remark, end);
    }
    if (!first_line_put_ && has_letters(text_.substr(begin, remark - begin))) {
      put_waiting(0);
      first_line_put_ = true;
      return put(0, plain_words(text_.substr(begin, remark - begin)), remark, end);
    }
    waiting_.push_back(remarked ? without_blanks_behind(text_.substr(remark, end - remark)) : std::string());
  }

  /// True for a line that is one of its block; its end and the lines that divide it are not.
  bool stands_inside(const Piece& piece) const {
    return !piece.is_end && !parse::divides_its_block(tree_[piece.node].kind);
  }

  /// The first line of a file has no node; in front of it stand only blanks.
  static bool has_letters(std::string_view words) { return !plain_words(words).empty(); }

  std::string words_of(const Piece& piece) const {
    const syntax::Node& node = tree_[piece.node];
    return piece.is_end ? end_words(node, text_) : statement_words(node, text_);
  }

  void put(std::size_t depth, const std::string& words, std::size_t remark, std::size_t end) {
    out_.append(2 * depth, ' ');
    out_ += words;
    if (remark < end) out_ += gap_before_remark(text_.substr(0, remark)) + without_blanks_behind(text_.substr(remark, end - remark));
    out_ += '\n';
  }

  /// Empty lines and remarks stand where the next line stands; how deep, is known only when it comes.
  void put_waiting(std::size_t depth) {
    bool empty_before = out_.empty();
    for (const std::string& line : waiting_) {
      if (line.empty() && empty_before) continue;
      empty_before = line.empty();
      if (!line.empty()) out_.append(2 * depth, ' ');
      out_ += line + '\n';
    }
    waiting_.clear();
  }

  const syntax::Tree& tree_;
  std::string_view text_;
  std::vector<Piece> pieces_;
  std::string out_;
  std::vector<std::string> waiting_;  ///< remarks on their own lines, and empty ones, since the last line
  std::size_t next_piece_ = 0;
  std::size_t next_remark_ = 0;
  bool first_line_put_ = false;
};

}  // namespace

std::string lay_out(const syntax::Tree& tree, std::string_view text) {
  std::string out = Layout(tree, text).run();
  while (out.size() > 1 && out.substr(out.size() - 2) == "\n\n") out.pop_back();
  return out;
}

}  // namespace stepward::tidy
