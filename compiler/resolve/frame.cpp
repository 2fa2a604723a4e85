#include "resolve/frame.hpp"

#include <cctype>
#include <cstdio>
#include <cstdlib>

namespace stepward::resolve {
namespace {

[[noreturn]] void broken(std::string_view text, std::string_view why) {
  std::fprintf(stderr, "frame \"%.*s\": %.*s\n", static_cast<int>(text.size()), text.data(),
               static_cast<int>(why.size()), why.data());
  std::abort();
}

bool is_word_letter(char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '-' || c == '\''; }

/// Puts `prefix` before the labels of a shape's text.
std::string with_prefix(std::string_view shape, std::string_view prefix) {
  std::string out;
  for (std::size_t at = 0; at < shape.size(); ++at) {
    out += shape[at];
    if (shape[at] == '<' || shape[at] == '{') out += prefix;
    if (shape[at] == '$') {
      while (at + 1 < shape.size() && is_word_letter(shape[at + 1])) out += shape[++at];
      if (at + 1 < shape.size() && shape[at + 1] == '(') {
        out += shape[++at];
        out += prefix;
      } else {
        out += '(';
        out += prefix;
        out += ')';
      }
    }
  }
  return out;
}

/// Replaces every `$shape` by its text; shapes are named before they are used, so this ends.
std::string expanded(std::string_view text, const Shapes& shapes, int depth = 0) {
  if (depth > 8) broken(text, "shapes go round in a circle");
  std::string out;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (text[at] != '$') {
      out += text[at];
      continue;
    }
    std::size_t end = at + 1;
    while (end < text.size() && is_word_letter(text[end])) ++end;
    const auto found = shapes.find(text.substr(at + 1, end - at - 1));
    if (found == shapes.end()) broken(text, "there is no such shape");
    std::string_view prefix;
    if (end < text.size() && text[end] == '(') {
      const std::size_t close = text.find(')', end);
      prefix = text.substr(end + 1, close - end - 1);
      end = close + 1;
    }
    out += "( " + expanded(with_prefix(found->second, prefix), shapes, depth + 1) + " )";
    at = end - 1;
  }
  return out;
}

}  // namespace

/// Thompson's construction over the frame's text; states are joined by edges that take nothing.
class FrameCompiler {
 public:
  FrameCompiler(Frame& frame, NameTable& table, std::string_view text) : frame_(frame), table_(table), text_(text) {}

  void compile() {
    const Piece whole = alternatives();
    if (peek() != '\0') broken(text_, "something is left over");
    frame_.start_ = whole.from;
    frame_.accept_ = whole.to;
    std::size_t edges = 0;
    for (const auto& state : states_) edges += state.size();
    frame_.edges_.reserve(edges);
    frame_.ends_.reserve(states_.size());
    for (const auto& state : states_) {
      frame_.edges_.insert(frame_.edges_.end(), state.begin(), state.end());
      frame_.ends_.push_back(static_cast<std::uint32_t>(frame_.edges_.size()));
    }
  }

 private:
  struct Piece {
    std::uint16_t from, to;
  };

  char peek() {
    while (at_ < text_.size() && text_[at_] == ' ') ++at_;
    return at_ < text_.size() ? text_[at_] : '\0';
  }
  std::uint16_t state() {
    states_.emplace_back();
    return static_cast<std::uint16_t>(states_.size() - 1);
  }
  void join(std::uint16_t from, Edge edge, std::uint16_t to) {
    edge.to = to;
    states_[from].push_back(edge);
  }
  void expect(char c) {
    if (peek() != c) broken(text_, std::string("here should stand ") + c);
    ++at_;
  }
  Piece alone(Edge edge) {
    const Piece piece{state(), state()};
    join(piece.from, edge, piece.to);
    return piece;
  }

  Piece alternatives() {
    Piece first = sequence();
    if (peek() != '|') return first;
    const Piece all{state(), state()};
    for (Piece next = first;; next = sequence()) {
      join(all.from, {}, next.from);
      join(next.to, {}, all.to);
      if (peek() != '|') return all;
      ++at_;
    }
  }

  Piece sequence() {
    const std::uint16_t from = state();
    Piece whole{from, from};
    while (peek() != '\0' && peek() != '|' && peek() != ')' && peek() != ']') {
      const Piece next = piece();
      join(whole.to, {}, next.from);
      whole.to = next.to;
    }
    return whole;
  }

  Piece piece() {
    switch (peek()) {
      case '(': return group();
      case '[': return optional();
      case '<': return slot();
      case '{': return labelled_word();
      case ',': ++at_; return alone({EdgeKind::comma, 0, unknown_word, 0, {}, ","});
    }
    return word({});
  }

  Piece group() {
    expect('(');
    const Piece inner = alternatives();
    expect(')');
    if (peek() != '*') return inner;
    ++at_;
    const Piece loop{state(), state()};
    join(loop.from, {}, loop.to);
    join(loop.to, {}, inner.from);
    join(inner.to, {}, loop.to);
    return loop;
  }

  Piece optional() {
    expect('[');
    const Piece inner = alternatives();
    expect(']');
    const Piece whole{state(), state()};
    join(whole.from, {}, inner.from);
    join(inner.to, {}, whole.to);
    join(whole.from, {}, whole.to);
    return whole;
  }

  std::string_view run() {
    const std::size_t begin = at_;
    while (at_ < text_.size() && (is_word_letter(text_[at_]) || text_[at_] == '.' || text_[at_] == '_')) ++at_;
    if (at_ == begin) broken(text_, "a word is missing");
    return text_.substr(begin, at_ - begin);
  }

  /// `is/are`: one edge for each.
  Piece word(std::string_view label) {
    const Piece piece{state(), state()};
    for (;;) {
      const std::string_view shown = run();
      join(piece.from, {EdgeKind::word, 0, table_.intern(shown), 0, label, shown}, piece.to);
      if (at_ >= text_.size() || text_[at_] != '/') return piece;
      ++at_;
    }
  }

  Piece labelled_word() {
    expect('{');
    const std::string_view label = run();
    expect('=');
    const bool is_comma = peek() == ',';
    at_ += is_comma;
    const Piece piece = is_comma ? alone({EdgeKind::comma, 0, unknown_word, 0, label, ","}) : word(label);
    expect('}');
    return piece;
  }

  Piece slot() {
    expect('<');
    Edge edge;
    edge.kind = EdgeKind::name;
    edge.label = run();
    if (peek() != ':') {
      const std::size_t dot = edge.label.rfind('.');
      add_class(edge, dot == std::string_view::npos ? edge.label : edge.label.substr(dot + 1));
    }
    while (peek() == ':' || peek() == ',') {
      ++at_;
      add_class(edge, run());
    }
    expect('>');
    return alone(edge);
  }

  void add_class(Edge& edge, std::string_view name) {
    if (name == "TEXT")
      edge.kind = EdgeKind::text;
    else if (name == "NUMBER")
      edge.kind = EdgeKind::number;
    else if (name == "DATE")
      edge.kind = EdgeKind::date;
    else if (name == "RATIO")
      edge.kind = EdgeKind::ratio;
    else if (name == "WORDS")
      edge.kind = EdgeKind::words;
    else if (name == "ANY")
      edge.kind = EdgeKind::any_words;
    else if (const auto what = class_named(name))
      edge.classes |= only(*what);
    else
      broken(text_, "there is no such class of names");
  }

  Frame& frame_;
  NameTable& table_;
  std::string_view text_;
  std::vector<std::vector<Edge>> states_;
  std::size_t at_ = 0;
};

Frame::Frame(NameTable& table, const Shapes& shapes, std::string_view text)
    : text_(std::make_shared<const std::string>(expanded(text, shapes))) {
  FrameCompiler(*this, table, *text_).compile();
}

}  // namespace stepward::resolve
