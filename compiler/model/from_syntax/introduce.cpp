// Names that lines bring along: `decide D as a or b`, `declare E`, `record R`, `report "…" to R`, `start timer T`,
// `known as N`.
//
// They are collected before any line is read, since a question or a rule may ask of them further up. Where such a name
// ends is simple here: it fills the line between fixed words. The line itself is read and checked later like any other.

#include <algorithm>

#include "model/from_syntax/passes.hpp"

namespace stepward::model::reading {
namespace {

using syntax::TokenKind;

class Introducer {
 public:
  explicit Introducer(Context& context) : context_(context), protocol_(context.protocol) {}

  void run() {
    for (const Place& place : context_.declared) {
      const NodeKind kind = context_.node(place).kind;
      if (kind == NodeKind::finding) add_marks_of_finding(place);
      if (kind == NodeKind::phase || kind == NodeKind::routine || kind == NodeKind::any_time ||
          kind == NodeKind::local_change)
        visit(place);
    }
  }

 private:
  void visit(const Place& top) {
    const syntax::Tree& tree = context_.tree(top);
    std::vector<NodeId> open{top.node};
    while (!open.empty()) {
      const Node& node = tree[open.back()];
      open.pop_back();
      if (node.kind == NodeKind::plain) introduce(node);
      if (node.kind == NodeKind::known_as) add_line_name(node);
      open.insert(open.end(), node.children.rbegin(), node.children.rend());
    }
  }

  void add_marks_of_finding(const Place& place) {
    for (const NodeId child : context_.node(place).children) {
      const Node& line = context_.tree(place)[child];
      if (line.kind != NodeKind::answered_by) continue;
      for (std::size_t at = 0; at < line.phrase.size(); ++at) {
        if (line.phrase[at].text != "declaring") continue;
        std::size_t end = at + 1;
        while (end < line.phrase.size() && line.phrase[end].kind == TokenKind::word && line.phrase[end].text != "or")
          ++end;
        name(line, at + 1, end, NameClass::mark, protocol_.marks);
      }
    }
  }

  void add_line_name(const Node& node) {
    const std::string given = resolve::words_of(node.phrase, 0, node.phrase.size());
    if (given.empty() || context_.names.find(given, resolve::only(NameClass::line))) return;
    context_.names.add(given, {NameClass::line, static_cast<std::uint32_t>(context_.line_names.size())}, node.span);
    context_.line_names.push_back(given);
  }

  /// The verb of a line and where what follows it begins; the verb stands first or behind a person.
  std::optional<std::pair<VerbKind, std::size_t>> verb_of(const Node& node) {
    const resolve::Phrase phrase(context_.names, node.phrase);
    std::vector<resolve::NameTable::Match> matches;
    std::vector<std::size_t> starts{0};
    context_.names.matches_at(phrase.words, 0, matches);
    for (const auto& match : matches) {
      if (context_.names.entry(match.entry).meaning.what == NameClass::role) starts.push_back(match.length);
    }
    for (auto start = starts.rbegin(); start != starts.rend(); ++start) {
      context_.names.matches_at(phrase.words, *start, matches);
      for (auto match = matches.rbegin(); match != matches.rend(); ++match) {
        const auto& meaning = context_.names.entry(match->entry).meaning;
        if (meaning.what == NameClass::verb)
          return std::pair{static_cast<VerbKind>(meaning.index), *start + match->length};
      }
    }
    return std::nullopt;
  }

  /// Where the tails of a line begin: how long it takes, and for which variants it is.
  static std::size_t end_of(const Node& node) {
    for (std::size_t at = 0; at + 1 < node.phrase.size(); ++at) {
      const std::string &word = node.phrase[at].text, &next = node.phrase[at + 1].text;
      if (word == "only" && next == "for") return at;
      if (word == "at" && (next == "least" || next == "most")) return at;
    }
    return node.phrase.size();
  }

  static std::size_t find(const Node& node, std::string_view word, std::size_t from, std::size_t end) {
    for (std::size_t at = from; at < end; ++at) {
      if (node.phrase[at].text == word) return at;
    }
    return end;
  }

  void introduce(const Node& node) {
    const auto verb = verb_of(node);
    if (!verb) return;
    const std::size_t from = verb->second, end = end_of(node);
    if (verb->first == VerbKind::decide) add_decision(node, from, end);
    if (verb->first == VerbKind::declare) name(node, from, end, NameClass::mark, protocol_.marks);
    if (verb->first == VerbKind::record) add_records(node, from, end);
    if (verb->first == VerbKind::start_timer) name(node, from, end, NameClass::timer, protocol_.timers);
    if (verb->first == VerbKind::report && from < end && node.phrase[from].kind == TokenKind::quoted) {
      name(node, find(node, "to", from + 1, end) + 1, end, NameClass::recipient, protocol_.recipients);
    }
  }

  void add_records(const Node& node, std::size_t from, std::size_t end) {
    for (std::size_t begin = from; begin < end;) {
      std::size_t next = begin;
      while (next < end && node.phrase[next].kind != TokenKind::comma && node.phrase[next].text != "and") ++next;
      name(node, begin, next, NameClass::record, protocol_.records);
      begin = next + 1;
    }
  }

  void add_decision(const Node& node, std::size_t from, std::size_t end) {
    const std::size_t as = find(node, "as", from, end);
    const auto index = name(node, from, as, NameClass::decision, protocol_.decisions);
    if (!index) return;
    std::vector<std::string> answers;
    for (std::size_t begin = as + 1; begin < end;) {
      std::size_t next = begin;
      while (next < end && node.phrase[next].kind != TokenKind::comma && node.phrase[next].text != "or") ++next;
      const std::string answer = resolve::words_of(node.phrase, begin, next);
      if (!answer.empty()) answers.push_back(answer);
      if (!answer.empty() && !context_.names.find(answer, resolve::only(NameClass::answer))) {
        context_.names.add(answer, {NameClass::answer, 0}, span_of(node, begin, next));
      }
      begin = next + 1;
    }
    settle_answers(node, *index, std::move(answers));
  }

  void settle_answers(const Node& node, std::uint32_t index, std::vector<std::string> answers) {
    Decision& decision = protocol_.decisions[index];
    if (index == context_.decision_spans.size()) {
      context_.decision_spans.push_back(node.span);
      check_answers(node, answers);
      decision.answers = std::move(answers);
    } else if (decision.answers != answers) {
      auto& differs = context_.report(Code::N117, node.span, {decision.name});
      differs.places.push_back({context_.decision_spans[index], "decided first"});
    }
  }

  void check_answers(const Node& node, std::vector<std::string>& answers) {
    for (std::size_t at = 0; at < answers.size(); ++at) {
      if (std::find(answers.begin(), answers.begin() + static_cast<std::ptrdiff_t>(at), answers[at]) ==
          answers.begin() + static_cast<std::ptrdiff_t>(at))
        continue;
      context_.report(Code::N107, node.span, {answers[at]});
      answers.erase(answers.begin() + static_cast<std::ptrdiff_t>(at--));
    }
  }

  /// The index of the name among `slots`, entered on first sight; nothing if the words are no name.
  template <class Slot>
  std::optional<std::uint32_t> name(const Node& node, std::size_t begin, std::size_t end, NameClass what,
                                    std::vector<Slot>& slots) {
    if (begin >= end || end - begin > resolve::longest_name) return std::nullopt;
    for (std::size_t at = begin; at < end; ++at) {
      const bool plain =
          node.phrase[at].kind == TokenKind::word || (at > begin && node.phrase[at].kind == TokenKind::number);
      if (!plain) return std::nullopt;
    }
    if (resolve::is_joining_word(node.phrase[begin].text)) return std::nullopt;
    const std::string words = resolve::words_of(node.phrase, begin, end);
    if (const auto* known = context_.names.find(words, resolve::only(what))) return known->meaning.index;
    const auto index = static_cast<std::uint32_t>(slots.size());
    Slot slot;
    slot.name = words;
    slot.called = "the " + words;
    slot.span = span_of(node, begin, end);
    context_.names.add(words, {what, index}, slot.span);
    slots.push_back(std::move(slot));
    return index;
  }

  Context& context_;
  Protocol& protocol_;
};

}  // namespace

void introduce_names(Context& context) { Introducer(context).run(); }

}  // namespace stepward::model::reading
