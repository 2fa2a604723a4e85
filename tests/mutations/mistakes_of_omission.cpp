// Mistakes of omission: a line, an arm or an ending that is no longer there, or an agent that should not be.

#include <algorithm>

#include "mutant.hpp"

namespace stepward::mutations {
namespace {

using diagnostics::Code;
using model::VerbKind;
using syntax::NodeKind;
using Thing = model::Thing::What;

// What a hand or a thing that was not cleaned leads to.
const Codes& codes_of_dirt() {
  static const Codes codes{Code::R101, Code::P101, Code::P102, Code::P103, Code::P104, Code::P105, Code::P106,
                           Code::P201, Code::P602, Code::P703};
  return codes;
}

const model::Line* line_at(const Base& base, Place p) {
  const auto lines = base.lines_at(base.origin(p));
  return lines.empty() ? nullptr : &(*base.protocol)[lines.front()];
}

/// All action lines with one verb that can be met in some variant, with the model's line.
std::vector<Place> lines_with(const Base& base, VerbKind verb) {
  std::vector<Place> out;
  for (const Place& p : base.all({NodeKind::plain})) {
    const model::Line* line = line_at(base, p);
    if (line && line->verb == verb && base.variant_of(base.origin(p))) out.push_back(p);
  }
  return out;
}

bool is_removal(const Base& base, const Step& s) { return s.line && (*base.protocol)[s.line].verb == VerbKind::doff; }

bool is_of_hands(const Base& base, const model::Line& line) {
  return std::all_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) {
    return t.what == Thing::hands || (t.what == Thing::site && (*base.protocol)[t.site].is_hands);
  });
}

/// Where a hand that was not cleaned has to be noticed: up to the next removal by the same person.
Lines up_to_next_removal(const Base& base, const Mutant& m, model::RoleId who) {
  return behind(base, m.variant, m.place, [&](const Step& s) { return is_removal(base, s) && (*base.protocol)[s.line].who == who; });
}

bool stands_between_removals(const Base& base, Origin at) {
  for (const model::Variant& variant : base.variants) {
    const auto courses = base.courses(variant);
    for (std::size_t c = 0; c < courses.size(); ++c)
      for (std::size_t i = 0; i < courses[c].size(); ++i) {
        if (courses[c][i].at != at) continue;
        if (c > 0) return true;  // an interruption comes between any two lines
        const auto here = courses[c].begin() + static_cast<std::ptrdiff_t>(i);
        const auto removal = [&](const Step& s) { return is_removal(base, s); };
        if (std::any_of(courses[c].begin(), here, removal) && std::any_of(here, courses[c].end(), removal)) return true;
      }
  }
  return false;
}

Mutant deleted(const Base& base, const std::string& operation, Place p) {
  Mutant m = start(base, operation, base.origin(p));
  m.copies.erase(base.range(p));
  return m;
}

}  // namespace

std::vector<Mutant> disinfections_deleted(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& p : lines_with(base, VerbKind::disinfect)) {
    if (!stands_between_removals(base, base.origin(p))) continue;
    Mutant m = deleted(base, "a disinfection between removals deleted", p);
    const model::Line& line = *line_at(base, p);
    m.codes = codes_of_dirt();
    m.lines = is_of_hands(base, line) ? up_to_next_removal(base, m, line.who) : all_behind(base, m.variant, m.place);
    out.push_back(std::move(m));
  }
  return out;
}

std::vector<Mutant> last_rubs_deleted(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& off : lines_with(base, VerbKind::doff)) {
    const model::ItemId item = item_of_line(base, base.lines_at(base.origin(off)).front(), 0);
    if (!item || std::none_of((*base.protocol)[item].worn_on.begin(), (*base.protocol)[item].worn_on.end(),
                              [&](model::SiteId s) { return (*base.protocol)[s].is_hands; }))
      continue;
    const auto neighbours = base.neighbours(off);
    for (auto at = std::find(neighbours.begin(), neighbours.end(), off) + 1; at != neighbours.end(); ++at) {
      const model::Line* line = line_at(base, *at);
      if (!line || line->verb != VerbKind::disinfect) continue;
      if (line->things.front().what != Thing::site) break;  // gloves are still on: no bare hands here
      Mutant m = deleted(base, "a hand rub after the last glove deleted", *at);
      m.codes = codes_of_dirt();
      m.lines = all_behind(base, m.variant, m.place);
      out.push_back(std::move(m));
      break;
    }
  }
  return out;
}

std::vector<Mutant> chlorine_at_bare_hands(const Base& base) {
  std::vector<Mutant> out;
  const auto add = [&](Place p, const std::string& text, const std::string& note) {
    Mutant m = start(base, "strong chlorine where hands may be bare", base.origin(p));
    std::string& line = m.copies.text_of(m.place);
    line = line.substr(0, line.find_first_not_of(' ')) + text;
    m.note = note;
    m.codes = {Code::P501};
    m.lines = {m.place};
    out.push_back(std::move(m));
  };
  for (const Place& p : lines_with(base, VerbKind::disinfect)) {
    const model::Line& line = *line_at(base, p);
    if ((*base.protocol)[line.agent].name == "hand rub" && line.things.front().what == Thing::site)
      add(p, "disinfect bare hands with strong chlorine", "instead of hand rub");
  }
  for (const Place& p : base.all({NodeKind::do_routine})) {
    if (base.words(base.origin(p)) != "do cleanse hands" || base[base.parent(p)].kind != NodeKind::any_time) continue;
    add(p, "disinfect hands with strong chlorine", "instead of do cleanse hands");
  }
  return out;
}

namespace {

/// An arm from its head to the line before the next arm or the end of the block.
Range arm_range(const Base& base, Place arm) {
  Range out = base.range(arm);
  const auto siblings = base.children(base.parent(arm));
  for (auto at = std::find(siblings.begin(), siblings.end(), arm) + 1; at != siblings.end(); ++at) {
    if (base[*at].kind == NodeKind::otherwise || base[*at].kind == NodeKind::otherwise_if) break;
    out.last = base.range(*at).last;
  }
  return out;
}

}  // namespace

std::vector<Mutant> arms_and_endings_deleted(const Base& base) {
  std::vector<Mutant> out;
  const auto complete = [&](Mutant m, Origin course_line) {
    m.variant = base.variant_of(course_line).value_or(0);
    m.codes = codes_of_dirt();
    m.codes.insert({Code::F101, Code::F105, Code::F401, Code::F102, Code::P601, Code::P202, Code::P701, Code::P702});
    m.lines = all_behind(base, m.variant, course_line);
    m.lines.insert(course_line);
    out.push_back(std::move(m));
  };
  for (const Place& p : base.all({NodeKind::otherwise})) {
    if (!base.variant_of(base.origin(base.parent(p)))) continue;
    Mutant m = start(base, "an arm or an ending deleted", base.origin(p));
    m.note = "the arm and its lines";
    m.copies.erase(arm_range(base, p));
    complete(std::move(m), base.origin(base.parent(p)));
  }
  for (const Place& p : base.all({NodeKind::finish_as})) {
    if (!base.variant_of(base.origin(p))) continue;
    Mutant m = deleted(base, "an arm or an ending deleted", p);
    m.lines.insert(base.origin(base.parent(p)));
    const Origin block = base.origin(base.parent(p));
    complete(m, base.origin(p));
    out.back().lines.insert(block);
  }
  return out;
}

std::vector<Mutant> loops_without_look(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& loop : base.all({NodeKind::repeat})) {
    for (const Place& p : base.children(loop)) {
      const model::Line* line = line_at(base, p);
      if (!line || (line->verb != VerbKind::inspect && line->verb != VerbKind::decide) || !base.variant_of(base.origin(p))) continue;
      Mutant m = deleted(base, "a loop whose body cannot change its answer", p);
      m.codes = {Code::F301, Code::N101};
      m.lines = {base.origin(loop)};
      for (const Place& part : base.children(loop))
        if (base[part].kind == NodeKind::until) m.lines.insert(base.origin(part));
      out.push_back(std::move(m));
    }
  }
  return out;
}

std::vector<Mutant> removals_deleted(const Base& base) {
  std::vector<Mutant> out;
  for (const Place& p : lines_with(base, VerbKind::doff)) {
    Mutant m = deleted(base, "a removal deleted", p);
    m.codes = codes_of_dirt();
    m.codes.insert({Code::P401, Code::P701, Code::P403, Code::P404, Code::P405, Code::P601});
    m.lines = all_behind(base, m.variant, m.place);
    out.push_back(std::move(m));
  }
  return out;
}

// What meets the border last: worn things that are wiped, and things whose removal uncovers nothing else that comes off.
std::vector<Mutant> carried_over_border(const Base& base) {
  const model::Protocol& p = *base.protocol;
  std::vector<Mutant> out;
  const auto add = [&](Place place, const std::string& note) {
    Mutant m = deleted(base, "a dirty item carried over the border", place);
    m.note = note;
    m.codes = {Code::P201, Code::R101, Code::P701, Code::P703};
    for (const Origin& at : all_behind(base, m.variant, m.place))
      for (const Place& s : base.all({NodeKind::plain, NodeKind::finish_as})) {
        if (base.origin(s) != at) continue;
        const model::Line* line = line_at(base, s);
        if (!line || line->verb == VerbKind::move) m.lines.insert(at);
      }
    out.push_back(std::move(m));
  };
  for (const Place& place : lines_with(base, VerbKind::disinfect))
    if (base[base.parent(place)].kind != NodeKind::routine && !is_of_hands(base, *line_at(base, place))) add(place, "its disinfection deleted");
  for (const Place& place : lines_with(base, VerbKind::doff)) {
    const std::size_t v = base.variant_of(base.origin(place)).value_or(0);
    const model::ItemId item = item_of_line(base, line_at(base, place) ? base.lines_at(base.origin(place)).front() : model::LineId(), v);
    if (!item || base[base.parent(place)].kind == NodeKind::routine) continue;  // a change in between is not the last of it
    bool uncovers = false;
    for (const Place& other : lines_with(base, VerbKind::doff)) {
      const model::ItemId under = item_of_line(base, base.lines_at(base.origin(other)).front(), v);
      uncovers = uncovers || (under && goes_tightly_over(p, item, under));
    }
    if (uncovers) continue;
    add(place, "its removal deleted");
    // What stays on is in the way of looks and removals before it gets to the border.
    Mutant& m = out.back();
    m.codes.insert({Code::P401, Code::P405, Code::P601});
    m.lines = all_behind(base, m.variant, m.place);
  }
  return out;
}

}  // namespace stepward::mutations
