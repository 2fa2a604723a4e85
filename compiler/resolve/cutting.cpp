#include "resolve/cutting.hpp"

#include <algorithm>

namespace stepward::resolve {
namespace {

using syntax::TokenKind;

/// Several hundred readings of one line are as good as two: it is refused.
constexpr std::size_t most_readings = 64;
constexpr std::int32_t not_reached = -2, reached_at_start = -1;

std::vector<std::uint32_t> cut_points(const Reading& reading) {
  std::vector<std::uint32_t> points;
  for (const Segment& segment : reading.segments) points.push_back(segment.end);
  return points;
}

/// True if `coarse` cuts only where `fine` does, and less often: some name of it takes more words in the same place.
bool is_coarser(const std::vector<std::uint32_t>& coarse, const std::vector<std::uint32_t>& fine) {
  return coarse.size() < fine.size() && std::includes(fine.begin(), fine.end(), coarse.begin(), coarse.end());
}

void keep_coarsest(std::vector<Reading>& readings) {
  if (readings.size() < 2) return;
  std::vector<std::vector<std::uint32_t>> points;
  for (const Reading& reading : readings) points.push_back(cut_points(reading));
  std::vector<Reading> kept;
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const bool beaten =
        std::any_of(points.begin(), points.end(), [&](const auto& p) { return is_coarser(p, points[i]); });
    if (!beaten) kept.push_back(std::move(readings[i]));
  }
  readings = std::move(kept);
}

bool fits(TokenKind token, EdgeKind edge) {
  switch (edge) {
    case EdgeKind::text: return token == TokenKind::quoted;
    case EdgeKind::number: return token == TokenKind::number;
    case EdgeKind::date: return token == TokenKind::date;
    case EdgeKind::ratio: return token == TokenKind::ratio;
    case EdgeKind::comma: return token == TokenKind::comma;
    case EdgeKind::nothing:
    case EdgeKind::word:
    case EdgeKind::name:
    case EdgeKind::words:
    case EdgeKind::any_words: return false;
  }
  return false;
}

bool is_free_word(const syntax::Token& token, EdgeKind edge) {
  if (token.kind == TokenKind::number) return edge == EdgeKind::any_words;
  if (token.kind != TokenKind::word) return false;
  return edge == EdgeKind::any_words || !is_joining_word(token.text);
}

}  // namespace

const Segment* Reading::find(std::string_view label) const {
  for (const Segment& segment : segments) {
    if (segment.label == label) return &segment;
  }
  return nullptr;
}

Phrase::Phrase(const NameTable& table, const std::vector<syntax::Token>& tokens_in) : tokens(&tokens_in) {
  words.reserve(tokens_in.size());
  for (const syntax::Token& token : tokens_in) {
    const bool may_stand_in_name = token.kind == TokenKind::word || token.kind == TokenKind::number;
    words.push_back(may_stand_in_name ? table.look_up(token.text) : unknown_word);
  }
}

void Cutter::reach(std::uint32_t from_node, std::uint32_t to_node, const Edge& edge, std::int32_t entry) {
  std::int32_t& first = first_back_[to_node];
  if (first == not_reached) open_[to_node / states_].push_back(to_node % static_cast<std::uint32_t>(states_));
  backs_.push_back({from_node, &edge, entry, std::max(first, reached_at_start)});
  first = static_cast<std::int32_t>(backs_.size() - 1);
}

void Cutter::follow(const Phrase& phrase, std::size_t position, std::uint32_t node, const Edge& edge,
                    const std::vector<std::uint32_t>& parameters) {
  const auto& tokens = *phrase.tokens;
  const auto node_at = [&](std::size_t pos) { return static_cast<std::uint32_t>((pos - start_) * states_ + edge.to); };
  if (edge.kind == EdgeKind::nothing) return reach(node, node_at(position), edge, -1);
  if (position >= tokens.size()) return;
  switch (edge.kind) {
    case EdgeKind::word:
      if (phrase.words[position] == edge.word) reach(node, node_at(position + 1), edge, -1);
      return;
    case EdgeKind::name:
      for (const NameTable::Match& match : matches_) {
        const Meaning& meaning = table_.entry(match.entry).meaning;
        if (!(edge.classes & only(meaning.what))) continue;
        const bool hidden = meaning.what == NameClass::parameter &&
                            std::find(parameters.begin(), parameters.end(), meaning.index) == parameters.end();
        if (!hidden) reach(node, node_at(position + match.length), edge, match.entry);
      }
      return;
    case EdgeKind::words:
    case EdgeKind::any_words:
      for (std::size_t end = position; end < tokens.size() && end < position + longest_name; ++end) {
        if (!is_free_word(tokens[end], edge.kind)) return;
        reach(node, node_at(end + 1), edge, -1);
      }
      return;
    case EdgeKind::text:
    case EdgeKind::number:
    case EdgeKind::date:
    case EdgeKind::ratio:
    case EdgeKind::comma:
      if (fits(tokens[position].kind, edge.kind)) reach(node, node_at(position + 1), edge, -1);
      return;
    case EdgeKind::nothing: return;
  }
}

void Cutter::walk(const Phrase& phrase, std::size_t from, const Frame& frame,
                  const std::vector<std::uint32_t>& parameters) {
  const std::size_t positions = phrase.tokens->size() - from + 1;
  states_ = frame.size();
  start_ = from;
  first_back_.assign(positions * states_, not_reached);
  backs_.clear();
  if (open_.size() < positions) open_.resize(positions);
  for (std::size_t at = 0; at < positions; ++at) open_[at].clear();
  first_back_[frame.start()] = reached_at_start;
  open_[0].push_back(frame.start());
  for (std::size_t at = 0; at < positions; ++at) {
    if (open_[at].empty()) continue;
    table_.matches_at(phrase.words, from + at, matches_);
    for (std::size_t next = 0; next < open_[at].size(); ++next) {
      const std::uint32_t state = open_[at][next];
      const auto node = static_cast<std::uint32_t>(at * states_ + state);
      for (const Edge& edge : frame.edges(state)) follow(phrase, from + at, node, edge, parameters);
    }
  }
}

std::vector<Reading> Cutter::readings(std::size_t from, const Frame& frame, std::size_t length) {
  std::vector<Reading> found;
  const auto end_node = static_cast<std::uint32_t>((length - from) * states_ + frame.accept());
  if (first_back_[end_node] == not_reached) return found;
  struct Step {
    std::int32_t back;
    std::size_t depth;
  };
  std::vector<Step> todo;
  std::vector<Segment> pieces;  // from the end of the line to its beginning
  std::vector<std::size_t> counts;
  const auto push_all = [&](std::uint32_t node, std::size_t depth) {
    for (std::int32_t b = first_back_[node]; b >= 0; b = backs_[static_cast<std::size_t>(b)].next)
      todo.push_back({b, depth});
  };
  push_all(end_node, 0);
  if (todo.empty()) found.emplace_back();
  while (!todo.empty() && found.size() < most_readings) {
    const Step step = todo.back();
    todo.pop_back();
    counts.resize(step.depth);
    pieces.resize(step.depth == 0 ? 0 : counts[step.depth - 1]);
    const Back& back = backs_[static_cast<std::size_t>(step.back)];
    if (back.edge->kind != EdgeKind::nothing) {
      Segment piece;
      piece.label = back.edge->label;
      piece.kind = back.edge->kind;
      piece.begin = static_cast<std::uint32_t>(back.from_node / states_ + from);
      piece.end = pieces.empty() ? static_cast<std::uint32_t>(length) : pieces.back().begin;
      if (back.entry >= 0) piece.meaning = table_.entry(back.entry).meaning;
      pieces.push_back(piece);
    }
    counts.push_back(pieces.size());
    const bool at_start = back.from_node == frame.start();
    if (!at_start) {
      push_all(back.from_node, step.depth + 1);
      continue;
    }
    Reading reading;
    reading.segments.assign(pieces.rbegin(), pieces.rend());
    const bool is_new =
        std::none_of(found.begin(), found.end(), [&](const Reading& r) { return r.segments == reading.segments; });
    if (is_new) found.push_back(std::move(reading));
  }
  return found;
}

Stop Cutter::stop(const Phrase& phrase, std::size_t from, const Frame& frame) const {
  Stop stop;
  std::size_t furthest = 0;
  for (std::size_t at = 0; at <= phrase.tokens->size() - from; ++at) {
    if (!open_[at].empty()) furthest = at;
  }
  stop.position = from + furthest;
  for (const std::uint32_t state : open_[furthest]) {
    for (const Edge& edge : frame.edges(state)) {
      stop.classes |= edge.classes;
      if (edge.kind == EdgeKind::word)
        stop.words.push_back(edge.shown);
      else if (edge.kind != EdgeKind::nothing && edge.kind != EdgeKind::name)
        stop.others.push_back(edge.kind);
    }
  }
  return stop;
}

Cut Cutter::cut(const Phrase& phrase, std::size_t from, const Frame& frame,
                const std::vector<std::uint32_t>& parameters) {
  Cut cut;
  walk(phrase, from, frame, parameters);
  cut.readings = readings(from, frame, phrase.tokens->size());
  keep_coarsest(cut.readings);
  if (cut.readings.empty()) cut.stop = stop(phrase, from, frame);
  return cut;
}

std::string shown_with_bars(const Reading& reading, const std::vector<syntax::Token>& phrase) {
  std::string shown;
  for (const Segment& segment : reading.segments) {
    if (!shown.empty()) shown += " | ";
    shown += words_of(phrase, segment.begin, segment.end);
  }
  return shown;
}

}  // namespace stepward::resolve
