#include "parse/blocks.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "parse/placement.hpp"

namespace stepward::parse {
namespace {

using diagnostics::Code;
using syntax::NodeId;
using syntax::NodeKind;

struct OpenBlock {
  NodeId node;
  NodeKind kind = NodeKind::file;
  std::size_t line = 0;      ///< its place in the list of lines
  NodeId last_line;          ///< the line that a detail would belong to
  NodeId entry;              ///< in `endings`: the ending that the following lines describe
  NodeId otherwise;          ///< in an `if`: its last arm, once there
  bool until = false;        ///< in a `repeat`: whether these were met
  bool if_still_not = false;
};

/// True for `X is normal` and `X is emergency`, which open an entry of `endings`.
bool names_ending(const std::vector<syntax::Token>& phrase) {
  const auto word = [&phrase](std::size_t i) {
    return phrase[i].kind == syntax::TokenKind::word ? std::string_view(phrase[i].text) : std::string_view();
  };
  for (std::size_t i = 0; i + 1 < phrase.size(); ++i) {
    if (word(i) == "is" && (word(i + 1) == "normal" || word(i + 1) == "emergency")) return true;
  }
  return false;
}

class Folding {
 public:
  Folding(std::vector<Line>& lines, std::string_view text, syntax::Tree& tree, Findings& findings)
      : lines_(lines), text_(text), tree_(tree), findings_(findings) {}

  Pairing run(std::size_t first) {
    for (at_ = first; at_ < lines_.size() && !stopped_ && !findings_.full(); ++at_) read(lines_[at_]);
    while (!open_.empty() && !stopped_ && !findings_.full()) abandon_innermost(nullptr);
    pairing_.too_deep = stopped_;
    return std::move(pairing_);
  }

 private:
  void read(Line& line) {
    switch (line.form) {
      case LineForm::first: return;
      case LineForm::ending: return close(line);
      case LineForm::statement: return line.head == NodeKind::plain ? place_plain(line) : place_headed(line);
    }
  }

  // ---- lines -------------------------------------------------------------------------------------------------------

  void place_plain(Line& line) {
    if (line.phrase.empty()) return;  // only odd characters, already reported
    const Interior here = interior();
    if ((interiors_of(NodeKind::plain) & in(here)) == 0) return report_not_understood(line);
    if (here == Interior::endings) return place_in_endings(line);
    innermost().last_line = attach(line, innermost().node);
  }

  void place_in_endings(Line& line) {
    OpenBlock& endings = innermost();
    if (names_ending(line.phrase)) {
      endings.entry = attach(line, endings.node);
    } else if (endings.entry) {
      attach(line, endings.entry);
    } else {
      findings_.report(Code::L403, line.span, {line.phrase.front().written});
    }
  }

  void place_headed(Line& line) {
    if (shows_missing_end(line)) {
      while (!open_.empty()) abandon_innermost(&line);
    }
    const Interior here = interior();
    if (const NodeKind holder = holder_of(line.head); holder != NodeKind::file && !held_by(holder) && !stands_outside_steps(line.head, here)) {
      return report_without_holder(line, holder);
    }
    if (is_detail(line.head, here)) return place_detail(line);
    if ((interiors_of(line.head) & in(here)) == 0) return report_out_of_place(line);
    lost_ = false;
    if (line.head == NodeKind::otherwise || line.head == NodeKind::otherwise_if) return place_otherwise(line);
    const NodeId node = attach(line, open_.empty() ? NodeId(std::size_t{0}) : innermost().node);
    if (is_block(line.head)) return open_block(line, node);
    if (!open_.empty()) note_line(line, node);
  }

  /// A head that would be right outside of all blocks and is wrong here, while nothing closes the block further on.
  bool shows_missing_end(const Line& line) const {
    const Interiors places = interiors_of(line.head);
    const bool only_outside_is_right = (places & in(Interior::file)) != 0 && (places & in(interior())) == 0;
    return !open_.empty() && only_outside_is_right && !closes_later(at_, 0);
  }

  /// What a line that opens no block changes in the block around it.
  void note_line(const Line& line, NodeId node) {
    OpenBlock& block = innermost();
    block.last_line = takes_details(line.head) ? node : NodeId();
    if (line.head == NodeKind::until) block.until = true;
    if (line.head == NodeKind::if_still_not) block.if_still_not = block.until;
  }

  void place_detail(Line& line) {
    const NodeId above = innermost().last_line;
    if (!above) {
      findings_.report(Code::L403, line.head_span, {std::string(words_of(line.head))});
    } else {
      attach(line, above);
    }
  }

  void place_otherwise(Line& line) {
    OpenBlock& question = innermost();
    question.last_line = NodeId();
    if (question.otherwise) {
      auto& finding = findings_.report(Code::L405, line.head_span, {std::string(words_of(line.head))});
      finding.places.push_back({tree_[question.otherwise].head, "last otherwise"});
      return;
    }
    const NodeId node = attach(line, question.node);
    if (line.head == NodeKind::otherwise) question.otherwise = node;
  }

  // ---- blocks ------------------------------------------------------------------------------------------------------

  void open_block(const Line& line, NodeId node) {
    if (open_.size() == deepest_nesting) {
      findings_.report(Code::L305, line.head_span, {std::to_string(deepest_nesting)});
      stopped_ = true;
      return;
    }
    if (!open_.empty()) innermost().last_line = NodeId();
    OpenBlock block;
    block.node = node;
    block.kind = tree_.nodes[node.value].kind;
    block.line = at_;
    open_.push_back(block);
  }

  void close(const Line& line) {
    const auto same = [&line](const OpenBlock& block) { return closes_of(block.kind) == line.closes; };
    const bool is_open = !line.closes.empty() && std::any_of(open_.begin(), open_.end(), same);
    if (!is_open) return close_without_block(line);
    while (!same(innermost())) abandon_innermost(&line);
    warn_of_words_after(line);
    close_innermost(line);
  }

  /// An `end` that names nothing that is open: a wrong word when the innermost block has no other end, else a stray.
  void close_without_block(const Line& line) {
    if (open_.empty() && lost_) return;  // the end of a block whose first line was not understood
    pairing_.balanced = false;
    const bool wrong_word = !open_.empty() && !closes_later(at_ + 1, open_.size() - 1);
    const std::string innermost_end = open_.empty() ? "phase" : std::string(closes_of(innermost().kind));
    if (line.closes.empty()) {
      findings_.report(Code::L304, line.span, {innermost_end});
    } else if (wrong_word) {
      auto& finding = findings_.report(Code::L303, line.head_span,
                                       {std::string(line.closes), name_of_innermost(), innermost_end});
      finding.places.push_back({tree_[innermost().node].head, "opened here"});
    } else {
      findings_.report(Code::L302, line.head_span, {std::string(line.closes)});
    }
    if (wrong_word) close_innermost(line);
  }

  void close_innermost(const Line& line) {
    const OpenBlock block = innermost();
    open_.pop_back();
    tree_.nodes[block.node.value].closed_by = line.span;
    pairing_.extents.push_back({block.line, at_});
    if (block.kind != NodeKind::repeat || (block.until && block.if_still_not)) return;
    const NodeKind missing = block.until ? NodeKind::if_still_not : NodeKind::until;
    findings_.report(Code::L407, tree_[block.node].head, {std::string(words_of(missing))});
  }

  /// Gives up on the innermost block: its end is missing. `noticed_at` is the line that shows it, if not the end of
  /// the file.
  void abandon_innermost(const Line* noticed_at) {
    const OpenBlock block = innermost();
    pairing_.balanced = false;
    auto& finding = findings_.report(Code::L301, tree_[block.node].head,
                                     {name_of_innermost(), std::string(closes_of(block.kind))});
    if (noticed_at) finding.places.push_back({noticed_at->head_span, "needed before"});
    if (const Line* odd = first_odd_end(block.line)) finding.places.push_back({odd->span, "indentation differs"});
    open_.pop_back();
  }

  /// The first `end` after line `from` that is indented unlike the line it closes: the likely place of the slip.
  const Line* first_odd_end(std::size_t from) const {
    for (const Extent& extent : pairing_.extents) {
      const bool inside = extent.opening > from;
      if (inside && margin(lines_[extent.opening]) != margin(lines_[extent.ending])) return &lines_[extent.ending];
    }
    return nullptr;
  }

  /// Whether the lines from `from` on close the block at `level` of the open blocks, other blocks of its kind being
  /// paired. Looks no further than the lines that block can reach.
  bool closes_later(std::size_t from, std::size_t level) const {
    const std::string_view wanted = closes_of(open_[level].kind);
    const bool top_level = only_in_file(open_[level].kind);
    std::size_t inside = 0;
    for (std::size_t i = from; i < lines_.size(); ++i) {
      const Line& line = lines_[i];
      if (line.form == LineForm::statement && closes_of(line.head) == wanted) ++inside;
      if (line.form == LineForm::statement && !top_level && only_in_file(line.head)) return false;
      if (line.form != LineForm::ending) continue;
      if (line.closes == wanted && inside-- == 0) return true;
      if (line.closes != wanted && closes_outer(line, level)) return false;
    }
    return false;
  }

  bool closes_outer(const Line& line, std::size_t level) const {
    return std::any_of(open_.begin(), open_.begin() + static_cast<std::ptrdiff_t>(level),
                       [&line](const OpenBlock& block) { return closes_of(block.kind) == line.closes; });
  }

  // ---- reports -----------------------------------------------------------------------------------------------------

  void report_not_understood(Line& line) {
    if (open_.empty() && lost_) return;
    const NodeKind meant = nearest_head(interior(), line.phrase);
    auto& finding = open_.empty() ? findings_.report(Code::L409, line.span)
                                  : findings_.report(Code::L401, line.span, {name_of_innermost()});
    if (meant != NodeKind::plain) finding.fix = with_head(line, meant);
    if (meant != NodeKind::plain && is_block(meant)) return open_detached(line, meant);
    lost_ = open_.empty() && meant == NodeKind::plain;
  }

  void report_out_of_place(Line& line) {
    if (open_.empty() && lost_) return;
    const std::string words(words_of(line.head));
    if (open_.empty()) {
      findings_.report(Code::L408, line.head_span, {words, holders_in_words(line.head)});
      lost_ = true;
      return;
    }
    findings_.report(Code::L402, line.head_span, {words, name_of_innermost(), holders_in_words(line.head)});
    if (is_block(line.head)) open_detached(line, line.head);
  }

  void report_without_holder(Line& line, NodeKind holder) {
    if (open_.empty() && lost_) return;
    const std::string words(words_of(line.head));
    if (holder == NodeKind::if_question) {
      findings_.report(Code::L404, line.head_span, {words});
    } else if (holder == NodeKind::repeat) {
      findings_.report(Code::L406, line.head_span, {words});
    } else {
      report_out_of_place(line);
    }
  }

  /// Opens a block that will not be part of the tree, so that its lines are read as what they are.
  void open_detached(Line& line, NodeKind kind) {
    line.head = kind;
    const NodeId node = add(line);
    open_block(line, node);
  }

  /// The line with the words of `meant` in place of those that stand there.
  std::string with_head(const Line& line, NodeKind meant) const {
    const std::string words(words_of(meant));
    const auto typed = static_cast<std::size_t>(std::count(words.begin(), words.end(), ' ')) + 1;
    const std::uint32_t rest = line.phrase[typed - 1].span.end;
    return words + std::string(text_.substr(rest, line.span.end - rest));
  }

  void warn_of_words_after(const Line& line) {
    if (line.phrase.empty()) return;
    const source::Span words{line.span.file, line.phrase.front().span.begin, line.phrase.back().span.end};
    findings_.report(Code::L306, words, {std::string(line.closes)});
  }

  // ---- small things ------------------------------------------------------------------------------------------------

  OpenBlock& innermost() { return open_.back(); }
  Interior interior() const { return open_.empty() ? Interior::file : interior_of(open_.back().kind); }
  /// A head that needs its one holder among steps may also be at home in another kind of block.
  static bool stands_outside_steps(NodeKind head, Interior here) {
    return here != Interior::steps && (interiors_of(head) & in(here)) != 0;
  }
  bool held_by(NodeKind holder) const { return !open_.empty() && open_.back().kind == holder; }
  std::string name_of_innermost() const { return std::string(words_of(open_.back().kind)); }
  std::string_view margin(const Line& line) const {
    return text_.substr(line.margin.begin, line.margin.end - line.margin.begin);
  }

  NodeId add(Line& line) {
    syntax::Node node;
    node.kind = line.head;
    node.span = line.span;
    node.head = line.head_span;
    node.phrase = std::move(line.phrase);
    tree_.nodes.push_back(std::move(node));
    return NodeId(tree_.nodes.size() - 1);
  }

  NodeId attach(Line& line, NodeId parent) {
    const NodeId node = add(line);
    tree_.nodes[parent.value].children.push_back(node);
    return node;
  }

  std::vector<Line>& lines_;
  std::string_view text_;
  syntax::Tree& tree_;
  Findings& findings_;
  Pairing pairing_;
  std::vector<OpenBlock> open_;  ///< from the outermost to the innermost
  std::size_t at_ = 0;           ///< the line that is being read
  bool stopped_ = false;         ///< too deep to go on
  bool lost_ = false;            ///< outside all blocks, behind a line that was not understood
};

}  // namespace

Pairing fold_blocks(std::vector<Line>& lines, std::size_t first, std::string_view text, syntax::Tree& tree,
                    Findings& findings) {
  return Folding(lines, text, tree, findings).run(first);
}

}  // namespace stepward::parse
