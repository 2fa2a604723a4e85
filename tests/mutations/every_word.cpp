#include "every_word.hpp"

#include <algorithm>
#include <numeric>

namespace stepward::mutations {
namespace {

using model::VerbKind;
using syntax::NodeKind;

struct MetLine { Place place; const model::Line* line = nullptr; };

std::vector<MetLine> met_lines(const Base& base, VerbKind verb) {
  std::vector<MetLine> out;
  for (const Place& p : base.all({NodeKind::plain})) {
    const auto lines = base.lines_at(base.origin(p));
    if (lines.empty() || !base.variant_of(base.origin(p))) continue;
    const model::Line& line = (*base.protocol)[lines.front()];
    if (line.verb == verb) out.push_back({p, &line});
  }
  return out;
}

/// A line in its three parts: margin, words, and the choice it is only for.
struct Parts {
  std::string margin, words, only_for;
  std::string text() const { return margin + words + only_for; }
};

Parts parts_of(const std::string& text) {
  Parts out;
  const std::size_t begin = text.find_first_not_of(' '), end = std::min(text.find(" only for "), text.size());
  out.margin = text.substr(0, begin);
  out.words = text.substr(begin, end - begin);
  out.only_for = text.substr(end);
  return out;
}

/// The words without the name of who does it.
std::string without_doer(const Base& base, const MetLine& at, const std::string& words) {
  const std::string doer = (*base.protocol)[at.line->who].name + " ";
  return words.rfind(doer, 0) == 0 ? words.substr(doer.size()) : words;
}

Mutant with_words(const Base& base, const std::string& operation, Origin at, const Parts& parts) {
  Mutant m = start(base, operation, at);
  m.copies.text_of(at) = parts.text();
  m.note = parts.words;
  return m;
}

}  // namespace

std::vector<Mutant> every_wait_left_out(const Base& base) {
  std::vector<Mutant> out;
  for (const MetLine& at : met_lines(base, VerbKind::disinfect)) {
    const Origin origin = base.origin(at.place);
    Parts parts = parts_of(start(base, "", origin).copies.text_of(origin));
    if (parts.words.find(" without waiting") != std::string::npos) continue;
    parts.words += " without waiting";
    out.push_back(with_words(base, "not waited for", origin, parts));
  }
  return out;
}

std::vector<Mutant> every_move_changed(const Base& base) {
  std::vector<Mutant> out;
  const model::Protocol& p = *base.protocol;
  for (const MetLine& at : met_lines(base, VerbKind::move)) {
    const Origin origin = base.origin(at.place);
    const Parts before = parts_of(start(base, "", origin).copies.text_of(origin));
    for (std::uint32_t who = 0; who < p.roles.size(); ++who)
      for (const model::Zone& to : p.zones) {
        Parts parts = before;
        parts.words = p.roles[who].name + " moves to " + to.name;
        const bool same = model::RoleId(who) == at.line->who && before.words.find(" to " + to.name) != std::string::npos;
        if (!same) out.push_back(with_words(base, "moved otherwise", origin, parts));
      }
  }
  return out;
}

std::vector<Mutant> every_removal_by_another(const Base& base) {
  std::vector<Mutant> out;
  const model::Protocol& p = *base.protocol;
  for (const MetLine& at : met_lines(base, VerbKind::doff)) {
    const Origin origin = base.origin(at.place);
    const Parts before = parts_of(start(base, "", origin).copies.text_of(origin));
    if (at.line->things.size() != 1 || before.words.find(" of ") != std::string::npos) continue;
    for (std::uint32_t who = 0; who < p.roles.size(); ++who) {
      if (model::RoleId(who) == at.line->who) continue;
      Parts parts = before;
      parts.words = p.roles[who].name + " " + without_doer(base, at, before.words);
      parts.words.insert(std::min(parts.words.find(" using "), parts.words.size()), " of " + p[at.line->who].name);
      out.push_back(with_words(base, "taken off by another", origin, parts));
    }
  }
  return out;
}

std::vector<Mutant> every_item_left_off(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& people : base.all({NodeKind::people}))
    for (const Place& p : base.children(people)) {
      const Origin origin = base.origin(p);
      const Parts before = parts_of(start(base, "", origin).copies.text_of(origin));
      const std::string comma = ", ";
      // What is named first stays, since the line has to name something.
      for (std::size_t at = before.words.find(comma, std::min(before.words.find(" wearing "), before.words.size())); at != std::string::npos;) {
        const std::size_t next = before.words.find(comma, at + comma.size()), end = std::min(next, before.words.size());
        Parts parts = before;
        parts.words.erase(at, end - at);
        out.push_back(with_words(base, "begins without", origin, parts));
        out.back().note = "without " + before.words.substr(at + comma.size(), end - at - comma.size());
        at = next;
      }
      // Who wears one thing only, and is said to be somewhere, may begin without it.
      const std::size_t wearing = before.words.find(" wearing ");
      if (wearing == std::string::npos || before.words.find(comma, wearing) != std::string::npos || before.words.find(" in ") >= wearing) continue;
      Parts bare = before;
      bare.words.erase(wearing);
      out.push_back(with_words(base, "begins without", origin, bare));
      out.back().note = "without " + before.words.substr(wearing + std::string(" wearing ").size());
    }
  return out;
}

std::vector<Mutant> every_hand_at_the_front(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& technique : base.all({NodeKind::technique})) {
    const auto lines = base.children(technique);
    const auto is = [&](NodeKind kind) { return std::find_if(lines.begin(), lines.end(), [&](Place p) { return base[p].kind == kind; }); };
    const auto off = is(NodeKind::takes_off), handles = is(NodeKind::handles);
    if (off == lines.end() || handles == lines.end()) continue;
    const Origin origin = base.origin(*handles);
    Parts parts = parts_of(start(base, "", origin).copies.text_of(origin));
    parts.words = "handles front of it";
    Mutant m = with_words(base, "a hand at the front", origin, parts);
    m.all_variants.resize(base.variants.size());
    std::iota(m.all_variants.begin(), m.all_variants.end(), std::size_t{0});
    out.push_back(std::move(m));
  }
  return out;
}

}  // namespace stepward::mutations
