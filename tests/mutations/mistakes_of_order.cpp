// Mistakes of order: a line that comes before another although it must not.

#include <algorithm>

#include "mutant.hpp"

namespace stepward::mutations {
namespace {

using diagnostics::Code;
using model::VerbKind;
using syntax::NodeKind;

/// The statement whose line stands at `at`.
Place place_at(const Base& base, Origin at) {
  for (const Place& p : base.all({NodeKind::plain}))
    if (base.origin(p) == at) return p;
  return {};
}

struct Pair { Origin first, second; std::size_t variant; };

/// Pairs of lines of one verb of which `covering` says that their order matters, each once.
template <class Covering>
std::vector<Pair> pairs(const Base& base, VerbKind verb, Covering covering) {
  std::vector<Pair> out;
  const model::Protocol& p = *base.protocol;
  for (std::size_t v = 0; v < base.variants.size(); ++v) {
    const Course course = base.courses(base.variants[v]).front();
    for (std::size_t i = 0; i < course.size(); ++i)
      for (std::size_t j = i + 1; j < course.size(); ++j) {
        const Step &a = course[i], &b = course[j];
        if (b.conditional || (verb == VerbKind::don && a.conditional)) continue;  // moved, it would no longer be asked for
        if (!a.line || !b.line || p[a.line].verb != verb || p[b.line].verb != verb || p[a.line].of != p[b.line].of) continue;
        const auto one = item_of_line(base, a.line, v), other = item_of_line(base, b.line, v);
        if (!one || !other || one == other || !covering(one, other)) continue;
        const auto same = [&](const Pair& known) { return known.first == a.at && known.second == b.at; };
        if (std::none_of(out.begin(), out.end(), same)) out.push_back({a.at, b.at, v});
      }
  }
  return out;
}

bool asks_for(const Base& base, Place question, const std::string& finding) {
  const auto& phrase = base[question].phrase;
  return base[question].kind == NodeKind::if_question && phrase.size() > 2 && phrase[0].text == finding && phrase[1].text == "on";
}

std::string thing_asked(const Base& base, Place question) {
  std::string out;
  const auto& phrase = base[question].phrase;
  for (std::size_t i = 2; i < phrase.size(); ++i) out += phrase[i].text + " ";
  return out;
}

bool has_arms(const Base& base, Place question) {
  for (const Place& child : base.children(question))
    if (base[child].kind == NodeKind::otherwise || base[child].kind == NodeKind::otherwise_if) return true;
  return false;
}

/// "if soil … end if, if tear … end if" as "if tear … otherwise if soil … end if".
void put_tear_first(const Base& base, Copies& copies, Place soil, Place tear) {
  std::vector<TextLine> soil_lines = copies.cut(base.range(soil));
  soil_lines.pop_back();  // its `end if`; the other one closes both
  std::string& head = soil_lines.front().text;
  head.insert(head.find("if"), "otherwise ");
  copies.put_before({tear.file, base.range(tear).last}, soil_lines);
}

/// A question and those inside it.
void add_questions(const Base& base, Place p, Lines& out) {
  if (base[p].kind == NodeKind::if_question || base[p].kind == NodeKind::otherwise_if) out.insert(base.origin(p));
  for (const Place& child : base.children(p)) add_questions(base, child, out);
}

Mutant look_mutant(const Base& base, Place look, const std::vector<Place>& questions) {
  Mutant m = start(base, "a question before anyone looked", base.origin(look));
  m.codes = {Code::F201, Code::F202, Code::F203};
  m.may_lose_runs = false;  // a question that is asked too early loses its answers
  for (const Place& q : questions) add_questions(base, q, m.lines);
  return m;
}

bool is_verb(const Base& base, Origin at, VerbKind verb) {
  const auto lines = base.lines_at(at);
  return !lines.empty() && (*base.protocol)[lines.front()].verb == verb;
}

}  // namespace

std::vector<Place> questions_of(const Base& base, Place look) {
  std::vector<Place> out;
  const auto neighbours = base.neighbours(look);
  auto at = std::find(neighbours.begin(), neighbours.end(), look);
  for (++at; at != neighbours.end() && base[*at].kind == NodeKind::if_question; ++at) out.push_back(*at);
  return out;
}

// Of two removals the one of the covered thing moves right before the other: what lies between them stays behind both,
// so that nothing else is wrong.
std::vector<Mutant> removals_swapped(const Base& base) {
  const model::Protocol& p = *base.protocol;
  std::vector<Mutant> out;
  for (const Pair& pair : pairs(base, VerbKind::doff, [&](auto a, auto b) { return goes_tightly_over(p, a, b); })) {
    Mutant m = start(base, "two removals swapped", pair.second);
    m.note = "now before " + base.place_words(pair.first) + ": " + base.words(pair.first);
    m.variant = pair.variant;
    const auto moved = m.copies.cut(base.range(place_at(base, pair.second)));
    m.copies.put_before(pair.first, moved);
    m.codes = {Code::P401};
    m.lines = {pair.second};
    out.push_back(std::move(m));
  }
  return out;
}

namespace {

/// A putting on with the statements of its block behind it, up to the next thing that is put on in this variant: looks
/// at what went on, tests, ties.
Range with_what_follows(const Base& base, Place p, std::size_t variant) {
  Range out = base.range(p);
  const auto course = base.courses(base.variants[variant]).front();
  const auto neighbours = base.neighbours(p);
  for (auto at = std::find(neighbours.begin(), neighbours.end(), p) + 1; at != neighbours.end(); ++at) {
    const Origin here = base.origin(*at);
    const bool met = std::any_of(course.begin(), course.end(), [&](const Step& s) { return s.at == here; });
    if (met && is_verb(base, here, VerbKind::don)) break;
    out.last = base.range(*at).last;
  }
  return out;
}

}  // namespace

// The covered thing moves, with the looks and ties that belong to it, right behind the one that covers it.
std::vector<Mutant> put_on_under(const Base& base) {
  const model::Protocol& p = *base.protocol;
  std::vector<Mutant> out;
  for (const Pair& pair : pairs(base, VerbKind::don, [&](auto a, auto b) { return goes_tightly_over(p, b, a); })) {
    Mutant m = start(base, "an item put on under another", pair.first);
    m.note = "now behind " + base.place_words(pair.second) + ": " + base.words(pair.second);
    m.variant = pair.variant;
    const auto moved = m.copies.cut(with_what_follows(base, place_at(base, pair.first), pair.variant));
    m.copies.put_after({pair.second.file, base.range(place_at(base, pair.second)).last}, moved);
    m.codes = {Code::P404};
    m.lines = {pair.first};
    out.push_back(std::move(m));
  }
  return out;
}

std::vector<Mutant> tear_before_soil(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& soil : base.all({NodeKind::if_question})) {
    if (!asks_for(base, soil, "soil") || has_arms(base, soil)) continue;
    const auto neighbours = base.neighbours(soil);
    const auto next = std::find(neighbours.begin(), neighbours.end(), soil) + 1;
    if (next == neighbours.end() || !asks_for(base, *next, "tear") || has_arms(base, *next)) continue;
    if (thing_asked(base, soil) != thing_asked(base, *next) || !base.variant_of(base.origin(soil))) continue;
    Mutant m = start(base, "the tear question before the soil question", base.origin(soil));
    put_tear_first(base, m.copies, soil, *next);
    m.codes = {Code::F601, Code::P601};
    m.lines = {base.origin(soil)};
    out.push_back(std::move(m));
  }
  return out;
}

std::vector<Mutant> questions_before_look(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& look : base.all({NodeKind::plain})) {
    const Origin at = base.origin(look);
    if (!is_verb(base, at, VerbKind::inspect) && !is_verb(base, at, VerbKind::decide)) continue;
    const auto questions = questions_of(base, look);
    if (questions.empty() || !base.variant_of(at)) continue;
    Mutant deleted = look_mutant(base, look, questions), moved = deleted;
    deleted.note = "the look deleted";
    deleted.copies.erase(base.range(look));
    if (is_verb(base, at, VerbKind::decide)) deleted.codes.insert(Code::N101);
    moved.note = "the look moved behind its questions";
    const auto lines = moved.copies.cut(base.range(look));
    moved.copies.put_after({look.file, base.range(questions.back()).last}, lines);
    out.push_back(std::move(deleted));
    out.push_back(std::move(moved));
  }
  return out;
}

namespace {

bool takes_off(const Base& base, Place p, const std::string& kind, std::size_t variant) {
  for (const model::LineId line : base.lines_at(base.origin(p))) {
    const model::Protocol& protocol = *base.protocol;
    if (protocol[line].verb != VerbKind::doff) continue;
    const model::ItemId item = item_of_line(base, line, variant);
    if (!item) continue;
    for (const model::KindId k : protocol[item].kinds)
      if (protocol[k].name == kind) return true;
  }
  return false;
}

/// The top-level statements of all phases in order.
std::vector<Place> top_statements(const Base& base) {
  std::vector<Place> out;
  for (const Place& phase : base.all({NodeKind::phase}))
    for (const Place& s : base.children(phase)) out.push_back(s);
  return out;
}

bool holds_removal(const Base& base, Place p, const std::string& kind, std::size_t variant) {
  if (takes_off(base, p, kind, variant)) return true;
  const auto children = base.children(p);
  return std::any_of(children.begin(), children.end(), [&](Place c) { return holds_removal(base, c, kind, variant); });
}

}  // namespace

// The look at the respirator, its questions, its removal and the disinfection behind it move together to every place
// between the removal of the hood (which covers its straps) and that of the suit.
std::vector<Mutant> respirator_before_suit(const Base& base) {
  std::vector<Mutant> out;
  const auto top = top_statements(base);
  std::size_t off = top.size(), look = 0, last_hood = 0, last_suit = 0;
  for (std::size_t i = 0; i < top.size(); ++i) {
    for (std::size_t v = 0; v < base.variants.size(); ++v) {
      if (holds_removal(base, top[i], "breathing cover", v)) off = i;
      if (holds_removal(base, top[i], "head cover", v)) last_hood = i;
      if (holds_removal(base, top[i], "suit", v)) last_suit = i;
    }
  }
  if (off == top.size()) return out;
  for (look = off; look > 0 && !is_verb(base, base.origin(top[look]), VerbKind::inspect);) --look;
  const Range moved{top[off].file, base.range(top[look]).first, base.range(top[off + 1]).last};
  const auto before = [&](Place p) {
    Mutant m = start(base, "the respirator off before the suit", base.origin(top[off]));
    m.note = "moved before " + base.place_words(base.origin(p)) + ": " + base.words(base.origin(p));
    m.variant = base.variant_of(base.origin(p)).value_or(0);
    const auto lines = m.copies.cut(moved);
    m.copies.put_before(base.origin(p), lines);
    m.codes = {Code::R101};
    m.lines = {base.origin(top[off])};
    out.push_back(std::move(m));
  };
  for (std::size_t i = last_hood + 1; i <= last_suit; ++i) {
    before(top[i]);
    if (base[top[i]].kind != NodeKind::only_for) continue;
    for (const Place& inner : base.children(top[i])) {
      before(inner);
      bool done = false;
      for (std::size_t v = 0; v < base.variants.size(); ++v) done = done || takes_off(base, inner, "suit", v);
      if (done) break;
    }
  }
  return out;
}

}  // namespace stepward::mutations
