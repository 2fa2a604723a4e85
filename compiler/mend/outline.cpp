#include "mend/outline.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <tuple>
#include <utility>

namespace stepward::mend {
namespace {

using syntax::NodeKind;

bool holds_steps(NodeKind kind) { return kind == NodeKind::phase || kind == NodeKind::routine || kind == NodeKind::any_time; }

bool is_nested_block(NodeKind kind) {
  return kind == NodeKind::if_question || kind == NodeKind::only_for || kind == NodeKind::repeat || kind == NodeKind::together ||
         kind == NodeKind::any_order;
}

bool divides(NodeKind kind) {
  return kind == NodeKind::otherwise_if || kind == NodeKind::otherwise || kind == NodeKind::until || kind == NodeKind::if_still_not;
}

using SpanKey = std::pair<std::uint32_t, std::uint32_t>;
SpanKey key(source::Span span) { return {span.file.value, span.begin}; }

/// What the model made of the statements of the text.
struct Meanings {
  std::map<SpanKey, model::LineId> lines;
  std::map<SpanKey, model::BlockId> calls;
};

Meanings meanings_of(const model::Protocol& protocol) {
  Meanings out;
  for (std::uint32_t l = 0; l < protocol.lines.size(); ++l) out.lines.emplace(key(protocol.lines[l].span), model::LineId(l));
  for (const model::Block& block : protocol.blocks)
    for (const model::Statement& s : block.statements)
      if (s.what == model::Statement::What::call) out.calls.emplace(key(s.span), s.block);
  return out;
}

class OutlineReader {
 public:
  OutlineReader(const source::Files& files, const Meanings& meanings, Outline& out) : files_(files), meanings_(meanings), out_(out) {}

  void read(const syntax::Tree& tree, std::uint32_t file) {
    tree_ = &tree;
    file_ = file;
    for (syntax::NodeId child : tree.root().children)
      if (holds_steps(tree[child].kind)) open(child, nowhere, 0);
    // A block is opened before its statements, and these wait in line instead of on a stack.
    for (std::size_t next = 0; next < waiting_.size(); ++next) fill(waiting_[next].first, waiting_[next].second);
    waiting_.clear();
  }

 private:
  void fill(syntax::NodeId block, std::uint32_t parent) {
    std::uint32_t arm = 0;
    for (syntax::NodeId child : (*tree_)[block].children) {
      const NodeKind kind = (*tree_)[child].kind;
      if (divides(kind)) ++arm;
      else if (is_step(kind) || kind == NodeKind::finish_as || kind == NodeKind::resume) open(child, parent, arm);
    }
  }

  void open(syntax::NodeId id, std::uint32_t parent, std::uint32_t arm) {
    const syntax::Node& node = (*tree_)[id];
    Statement s{file_, node.kind, node.span, line_of(node.span), last_line(id), parent, arm, static_cast<bool>(node.closed_by.file),
                without_margin(std::string(files_.text(node.span))), {}, {}};
    if (const auto line = meanings_.lines.find(key(node.span)); line != meanings_.lines.end()) s.line = line->second;
    if (const auto call = meanings_.calls.find(key(node.span)); call != meanings_.calls.end()) s.called = call->second;
    out_.all.push_back(std::move(s));
    if (holds_steps(node.kind) || is_nested_block(node.kind)) waiting_.emplace_back(id, static_cast<std::uint32_t>(out_.all.size() - 1));
  }

  std::uint32_t line_of(source::Span span) const { return files_.position(span.file, span.begin).line; }

  std::uint32_t last_line(syntax::NodeId id) const {
    const syntax::Node& node = (*tree_)[id];
    if (node.closed_by.file) return line_of(node.closed_by);
    std::uint32_t last = line_of(node.span);
    for (syntax::NodeId detail : node.children) last = std::max(last, line_of((*tree_)[detail].span));
    return last;
  }

  static std::string without_margin(std::string words) {
    words.erase(std::find_if(words.rbegin(), words.rend(), [](char c) { return c != ' ' && c != '\t'; }).base(), words.end());
    return words;
  }

  const source::Files& files_;
  const Meanings& meanings_;
  Outline& out_;
  const syntax::Tree* tree_ = nullptr;
  std::uint32_t file_ = 0;
  std::vector<std::pair<syntax::NodeId, std::uint32_t>> waiting_;
};

/// Blocks are filled one level after the other; whoever looks for what comes before and behind a line needs the order of the text.
void put_in_order_of_text(Outline& outline) {
  std::vector<std::uint32_t> order(outline.all.size()), place(outline.all.size());
  std::iota(order.begin(), order.end(), 0u);
  std::sort(order.begin(), order.end(), [&](std::uint32_t a, std::uint32_t b) {
    const Statement &one = outline.all[a], &other = outline.all[b];
    return std::tie(one.file, one.span.begin) < std::tie(other.file, other.span.begin);
  });
  for (std::uint32_t at = 0; at < order.size(); ++at) place[order[at]] = at;
  std::vector<Statement> in_order;
  for (const std::uint32_t from : order) {
    in_order.push_back(std::move(outline.all[from]));
    std::uint32_t& parent = in_order.back().parent;
    if (parent != nowhere) parent = place[parent];
  }
  outline.all = std::move(in_order);
}

}  // namespace

bool is_step(NodeKind kind) { return kind == NodeKind::plain || kind == NodeKind::do_routine || is_nested_block(kind); }

std::uint32_t Outline::at(std::uint32_t file, std::uint32_t line) const {
  std::uint32_t best = nowhere;
  for (std::uint32_t s = 0; s < all.size(); ++s) {
    if (all[s].file != file || line < all[s].first || line > all[s].last) continue;
    if (best == nowhere || all[s].last - all[s].first <= all[best].last - all[best].first) best = s;
  }
  return best;
}

std::vector<std::uint32_t> Outline::siblings(std::uint32_t statement) const {
  const Statement& one = all[statement];
  std::vector<std::uint32_t> out;
  for (std::uint32_t s = 0; s < all.size(); ++s) {
    const bool together = all[s].file == one.file && all[s].parent == one.parent && all[s].arm == one.arm;
    if (together && (one.parent != nowhere || all[s].kind == one.kind)) out.push_back(s);
  }
  return out;
}

Outline outline_of(const resolve::Loaded& loaded, const source::Files& files, const model::Protocol& protocol) {
  Outline out;
  const Meanings meanings = meanings_of(protocol);
  OutlineReader reader(files, meanings, out);
  for (std::uint32_t f = 0; f < loaded.files.size(); ++f) {
    out.paths.push_back(loaded.files[f].path);
    if (!loaded.files[f].standard) reader.read(loaded.files[f].tree, f);
  }
  put_in_order_of_text(out);
  return out;
}

}  // namespace stepward::mend
