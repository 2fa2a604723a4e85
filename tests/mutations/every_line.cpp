#include "every_line.hpp"

#include <algorithm>

namespace stepward::mutations {
namespace {

using model::VerbKind;
using syntax::NodeKind;

const std::initializer_list<NodeKind> statements = {NodeKind::plain,      NodeKind::if_question, NodeKind::only_for, NodeKind::repeat,
                                                    NodeKind::do_routine, NodeKind::finish_as,   NodeKind::resume};

/// Statements that some run of some variant can come to. A block counts by its own line or by the first line inside it.
std::vector<Place> all_statements(const Base& base) {
  std::vector<Place> out;
  for (const Place& p : base.all(statements)) {
    const bool line = base[p].kind == NodeKind::plain;
    if (line && base.lines_at(base.origin(p)).empty()) continue;
    const Range range = base.range(p);
    bool met = false;
    for (std::uint32_t at = range.first; at <= range.last && !met; ++at) met = base.variant_of({range.file, at}).has_value();
    if (met) out.push_back(p);
  }
  std::sort(out.begin(), out.end(), [&](Place a, Place b) { return base.origin(a) < base.origin(b); });
  return out;
}

bool is_of_bare_hands(const model::Protocol& p, const model::Line& line) {
  return std::all_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) { return t.what == model::Thing::What::site && p[t.site].is_hands; });
}

bool is_of_gloves(const model::Protocol& p, const model::Line& line) {
  return std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) {
    if (t.what != model::Thing::What::item) return false;
    const auto& sites = p[t.item].worn_on;
    return std::any_of(sites.begin(), sites.end(), [&](model::SiteId s) { return p[s].is_hands; });
  });
}

/// Gloves that go on again in an exit are a change; the same line of an entry is one of its puttings-on.
Deleted kind_of_line(const Base& base, const model::Line& line) {
  const model::Protocol& p = *base.protocol;
  switch (line.verb) {
    case VerbKind::disinfect: return is_of_bare_hands(p, line) ? Deleted::hand_rub : Deleted::disinfection;
    case VerbKind::doff: return Deleted::removal;
    case VerbKind::inspect: return Deleted::look;
    case VerbKind::don: return is_of_gloves(p, line) ? Deleted::glove_change : Deleted::other_line;
    case VerbKind::move: return Deleted::move;
    default: return Deleted::other_line;
  }
}

Deleted kind_of(const Base& base, Place place) {
  switch (base[place].kind) {
    case NodeKind::plain: return kind_of_line(base, (*base.protocol)[base.lines_at(base.origin(place)).front()]);
    case NodeKind::do_routine: return base.words(base.origin(place)).find("gloves") != std::string::npos ? Deleted::glove_change : Deleted::call;
    case NodeKind::finish_as:
    case NodeKind::resume: return Deleted::ending;
    default: return Deleted::block;
  }
}

/// The first line inside that some variant meets decides in which variant the edit is checked.
std::size_t variant_of(const Base& base, const Range& range) {
  for (std::uint32_t at = range.first; at <= range.last; ++at)
    if (const auto v = base.variant_of({range.file, at})) return *v;
  return 0;
}

bool same_text(const std::vector<TextLine>& a, const std::vector<TextLine>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const TextLine& x, const TextLine& y) { return x.text == y.text; });
}

}  // namespace

std::string_view words(Deleted kind) {
  switch (kind) {
    case Deleted::disinfection: return "disinfection";
    case Deleted::hand_rub: return "hand rub";
    case Deleted::removal: return "removal";
    case Deleted::look: return "look";
    case Deleted::glove_change: return "change of gloves";
    case Deleted::move: return "move";
    case Deleted::other_line: return "other line";
    case Deleted::block: return "block";
    case Deleted::call: return "call of a routine";
    case Deleted::ending: return "ending";
    case Deleted::look_with_questions: return "look with its questions (not in the sums)";
  }
  return "";
}

bool has_to_be_caught(Deleted kind) { return kind <= Deleted::move; }

std::vector<Deletion> every_deletion(const Base& base) {
  std::vector<Deletion> out;
  for (const Place& p : all_statements(base)) {
    Deletion d{start(base, "deleted", base.origin(p)), kind_of(base, p)};
    d.mutant.variant = variant_of(base, base.range(p));
    d.mutant.copies.erase(base.range(p));
    out.push_back(std::move(d));
  }
  return out;
}

std::vector<Deletion> looks_with_questions(const Base& base) {
  std::vector<Deletion> out;
  for (const Place& p : all_statements(base)) {
    if (base[p].kind != NodeKind::plain || kind_of(base, p) != Deleted::look || questions_of(base, p).empty()) continue;
    Deletion d{start(base, "deleted with its questions", base.origin(p)), Deleted::look_with_questions};
    d.mutant.copies.erase(base.range(p));
    for (const Place& question : questions_of(base, p)) d.mutant.copies.erase(base.range(question));
    out.push_back(std::move(d));
  }
  return out;
}

std::vector<Mutant> every_swap(const Base& base) {
  std::vector<Mutant> out;
  const auto all = all_statements(base);
  const auto is_statement = [&](Place p) { return std::find(all.begin(), all.end(), p) != all.end(); };
  for (const Place& p : all) {
    const auto neighbours = base.neighbours(p);
    const auto next = std::find(neighbours.begin(), neighbours.end(), p) + 1;
    if (next == neighbours.end() || !is_statement(*next)) continue;
    Mutant m = start(base, "swapped", base.origin(p));
    m.variant = variant_of(base, base.range(*next));
    m.note = "now behind " + base.words(base.origin(*next));
    if (same_text(m.copies.lines(base.range(p)), m.copies.lines(base.range(*next)))) continue;
    const auto moved = m.copies.cut(base.range(*next));
    m.copies.put_before(base.origin(p), moved);
    out.push_back(std::move(m));
  }
  return out;
}

std::vector<Mutant> every_swap_of_phases(const Base& base) {
  std::vector<Mutant> out;
  auto phases = base.all({NodeKind::phase});
  std::sort(phases.begin(), phases.end(), [&](Place a, Place b) { return base.origin(a) < base.origin(b); });
  for (std::size_t i = 0; i + 1 < phases.size(); ++i) {
    const Range first = base.range(phases[i]), second = base.range(phases[i + 1]);
    Mutant m = start(base, "phases swapped", base.origin(phases[i]));
    m.variant = variant_of(base, first);
    m.copies.put_before(base.origin(phases[i]), m.copies.cut(second));
    out.push_back(std::move(m));
  }
  return out;
}

}  // namespace stepward::mutations
