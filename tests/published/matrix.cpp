#include "matrix.hpp"

#include <algorithm>
#include <set>

namespace stepward::published {
namespace {

using diagnostics::Code;
using model::Event;
using model::Subject;

/// A rule broken at a place, whether it is told by itself or under another finding.
struct Breach {
  std::string number;
  source::Span at;
};

std::vector<Breach> breaches(const Checked& checked) {
  std::vector<Breach> out;
  for (const auto& d : checked.all) {
    if (d.code == Code::R101 || d.code == Code::R102) out.push_back({d.args.at(1), d.at});
    for (const auto& other : d.also)
      if (other.code == Code::R101 || other.code == Code::R102) out.push_back({other.args.at(1), other.at});
  }
  std::sort(out.begin(), out.end(), [](const Breach& a, const Breach& b) { return a.at.begin < b.at.begin; });
  return out;
}

/// What the wearer has on at the start.
std::vector<model::ItemId> outfit(const model::Protocol& p) {
  std::vector<model::ItemId> out;
  for (const model::PersonStart& person : p.people)
    if (person.role == p.acts)
      for (const model::Wearing& w : person.wearing) out.push_back(w.thing.item);
  return out;
}

bool is_kind(const model::Protocol& p, model::ItemId item, model::KindId kind) {
  return std::find(p[item].kinds.begin(), p[item].kinds.end(), kind) != p[item].kinds.end();
}

bool excepted(const model::Protocol& p, const Subject& s, model::ItemId item) {
  return std::any_of(s.except.begin(), s.except.end(), [&](const model::ItemOrKind& e) { return e.item == item || (e.kind && is_kind(p, item, e.kind)); });
}

/// False if the moment or state is about things of which the outfit has none.
bool is_open(const model::Protocol& p, const Subject& s) {
  if (s.what != Subject::What::item && s.what != Subject::What::kind) return true;
  const auto worn = outfit(p);
  return std::any_of(worn.begin(), worn.end(), [&](model::ItemId i) {
    return (s.what == Subject::What::item ? s.item == i : is_kind(p, i, s.kind)) && !excepted(p, s, i);
  });
}

bool any_open(const model::Protocol& p, const std::vector<Event>& events) {
  return events.empty() || std::any_of(events.begin(), events.end(), [&](const Event& e) { return is_open(p, e.subject); });
}

bool is_about_outfit(const model::Protocol& p, const model::Rule& rule) {
  for (const model::Events* events : {&rule.trigger, &rule.require, &rule.before})
    if (!any_open(p, events->events)) return false;
  const auto open = [&](const model::State& s) { return is_open(p, s.subject); };
  return std::all_of(rule.unless.states.begin(), rule.unless.states.end(), open);
}

/// A removal as the matrix writes it: "off:gown+single gloves".
std::string removal_words(const std::string& line) {
  const std::string head = "take off ";
  if (line.rfind(head, 0) != 0) return line;
  std::string things = line.substr(head.size(), line.find(" using ") - head.size());
  if (const auto together = things.find(" together"); together != std::string::npos) {
    things.resize(together);
    things.replace(things.find(" and "), 5, "+");
  }
  return "off:" + things;
}

std::string words_at(const Checked& checked, source::Span at) {
  const std::string text(checked.files.line_text(at.file, checked.files.position(at.file, at.begin).line));
  const auto begin = text.find_first_not_of(' ');
  return begin == std::string::npos ? "" : removal_words(text.substr(begin));
}

/// One movement takes off what the rule asks about and what it wants gone before.
bool is_together(const Checked& checked, const model::Rule& rule, source::Span at) {
  const model::Protocol& p = *checked.protocol;
  const auto takes = [&](const std::vector<Event>& events, model::ItemId i) {
    return std::any_of(events.begin(), events.end(), [&](const Event& e) {
      return e.subject.what == Subject::What::item ? e.subject.item == i : e.subject.what == Subject::What::kind && is_kind(p, i, e.subject.kind);
    });
  };
  for (const model::Line& line : p.lines) {
    if (line.span.file != at.file || line.span.begin > at.begin || at.begin >= line.span.end || line.things.size() < 2) continue;
    const auto has = [&](const std::vector<Event>& events) {
      return std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) { return t.item && takes(events, t.item); });
    };
    return has(rule.trigger.events) && has(rule.require.events);
  }
  return false;
}

}  // namespace

Cell cell_of(const Checked& checked, std::string_view number) {
  const model::Protocol& p = *checked.protocol;
  const auto rule = std::find_if(p.rules.begin(), p.rules.end(), [&](const model::Rule& r) { return r.number == number; });
  if (rule == p.rules.end()) return {"no such rule", {}};
  if (!is_about_outfit(p, *rule) || !checked.verdict.rules_tested.count(rule->number)) return {"–", {}};
  Cell cell{"ok", {}};
  for (const Breach& b : breaches(checked)) {
    if (b.number != number) continue;
    cell.sign = is_together(checked, *rule, b.at) ? "=" : "NO";
    cell.at.push_back(words_at(checked, b.at));
  }
  return cell;
}

std::vector<std::string> broken_rules(const Checked& checked) {
  std::set<std::string> out;
  for (const Breach& b : breaches(checked)) out.insert(b.number);
  return {out.begin(), out.end()};
}

}  // namespace stepward::published
