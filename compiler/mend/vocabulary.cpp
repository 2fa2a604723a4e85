#include "mend/vocabulary.hpp"

#include <algorithm>
#include <map>
#include <set>

#include <fmt/format.h>

#include "model/blocks.hpp"


namespace stepward::mend {
namespace {

using model::Thing;
using model::VerbKind;

void add_new(std::vector<std::string>& list, const std::string& words) {
  if (std::find(list.begin(), list.end(), words) == list.end()) list.push_back(words);
}

/// The keys by how often each was counted, the commonest first.
template <class Key>
std::vector<Key> commonest(const std::map<Key, std::size_t>& counted) {
  std::vector<std::pair<Key, std::size_t>> order(counted.begin(), counted.end());
  std::stable_sort(order.begin(), order.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
  std::vector<Key> out;
  for (const auto& [key, count] : order) out.push_back(key);
  return out;
}

bool is_bare_hands(const model::Protocol& p, const Thing& thing) { return thing.what == Thing::What::site && p[thing.site].is_hands; }

/// What the lines of a routine do, those in its branches and in the routines that it calls included.
std::set<VerbKind> verbs_of_call(const model::Protocol& p, model::BlockId called) {
  const std::vector<bool> within = model::blocks_within(p, {called});
  std::set<VerbKind> out;
  for (std::uint32_t b = 0; b < within.size(); ++b)
    for (const model::Statement& s : within[b] ? p.blocks[b].statements : std::vector<model::Statement>{})
      if (s.line) out.insert(p[s.line].verb);
  return out;
}

std::string replaced(std::string text, const std::string& old, const std::string& by) {
  const std::size_t at = text.find(old);
  return at == std::string::npos ? text : text.replace(at, old.size(), by);
}

/// "soil on plastic apron" of a question's words, without what it joins to it; empty: it asks for something else.
std::string thing_asked(const std::string& question, const std::string& finding) {
  const std::string start = "if " + finding + " on ";
  const bool asks = question.rfind(start, 0) == 0 && question.find(" and ") == std::string::npos;
  return asks ? question.substr(start.size()) : std::string();
}

}  // namespace

std::optional<VerbKind> verb_of(model::Event::What event) {
  using What = model::Event::What;
  switch (event) {
    case What::takes_off: case What::comes_off: return VerbKind::doff;
    case What::puts_on: return VerbKind::don;
    case What::disinfects: return VerbKind::disinfect;
    case What::cleans: return VerbKind::clean;
    case What::tests: return VerbKind::test;
    case What::inspects: case What::found: case What::not_found: return VerbKind::inspect;
    case What::moves_to: case What::leaves: return VerbKind::move;
    case What::passes: return VerbKind::pass;
    case What::takes: return VerbKind::take;
    case What::answered: return VerbKind::decide;
    case What::declares: return VerbKind::declare;
    case What::records: return VerbKind::record;
    case What::reports: return VerbKind::report;
    case What::calls: return VerbKind::call;
    case What::timer_starts: return VerbKind::start_timer;
    case What::timer_stops: return VerbKind::stop_timer;
    case What::touches: case What::hands_touch_unclean: case What::does_line: return VerbKind::act;
    case What::strikes: case What::start: case What::ending: case What::any_ending: return std::nullopt;
  }
  return std::nullopt;
}

model::RoleId Vocabulary::role_called(const std::string& name) const {
  for (std::uint32_t r = 0; r < p_.roles.size(); ++r)
    if (p_.roles[r].name == name) return model::RoleId(r);
  return p_.acts;
}

std::vector<std::string> Vocabulary::names_of(const std::string& thing) const {
  if (thing.empty()) return {};
  const std::size_t whose = thing.find("'s ");
  const std::string whole = whose == std::string::npos ? thing : thing.substr(whose + 3);
  const std::string name = whole.substr(0, whole.find(" ("));  // "hands (outer gloves)": the layer is not written
  const std::string of = whose == std::string::npos ? "" : " of " + thing.substr(0, whose);
  std::vector<std::string> out;
  for (const model::Choice& choice : p_.choices)
    for (const auto& value : choice.values)
      if (value.item && p_[value.item].name == name) out.push_back(choice.name + of);
  out.push_back(name + of);
  return out;
}

std::string Vocabulary::doing(model::RoleId who, const char* verb, const char* third) const {
  return !who || who == p_.acts ? std::string(verb) : p_[who].name + ' ' + third;
}

/// The usual agent is left out only where the protocol's own lines leave it out.
std::string Vocabulary::with(model::AgentId agent) const {
  const std::string named = " with " + p_[agent].name;
  const bool is_written = std::any_of(outline_.all.begin(), outline_.all.end(), [&](const Statement& s) {
    return s.words.size() > named.size() && s.words.compare(s.words.size() - named.size(), named.size(), named) == 0;
  });
  return agent == p_.usual_agent && !is_written ? std::string() : named;
}

std::vector<model::AgentId> Vocabulary::agents(bool on_bare_hands) const {
  std::map<model::AgentId, std::size_t> used;
  for (const model::Line& line : p_.lines) {
    if (line.verb != VerbKind::disinfect || !line.agent) continue;
    const bool bare = std::any_of(line.things.begin(), line.things.end(), [&](const Thing& t) { return is_bare_hands(p_, t); });
    if (bare == on_bare_hands) ++used[line.agent];
  }
  // Where nothing is disinfected yet, what the libraries of the protocol have.
  const bool none = std::none_of(p_.lines.begin(), p_.lines.end(), [](const model::Line& line) { return line.verb == VerbKind::disinfect; });
  for (std::uint32_t a = 0; none && a < p_.agents.size(); ++a) used[model::AgentId(a)] = 1;
  return commonest(used);
}

std::vector<model::RoleId> Vocabulary::doers_of(VerbKind verb) const {
  std::map<model::RoleId, std::size_t> used;
  for (const model::Line& line : p_.lines)
    if (line.verb == verb) ++used[line.who];
  return commonest(used);
}

std::vector<std::string> Vocabulary::hands_disinfected_by(model::RoleId who) const {
  std::vector<std::string> out;
  for (model::AgentId agent : agents(false)) out.push_back(doing(who, "disinfect", "disinfects") + " hands" + with(agent));
  for (model::AgentId agent : agents(true)) out.push_back(doing(who, "disinfect", "disinfects") + " bare hands" + with(agent));
  return out;
}

std::vector<std::string> Vocabulary::disinfecting(const std::string& thing) const {
  const bool bare = thing.rfind("bare hands", 0) == 0;
  std::vector<std::string> out;
  for (model::AgentId agent : agents(bare)) out.push_back("disinfect " + thing + with(agent));
  return out;
}

std::vector<std::string> Vocabulary::looks_at(const std::string& thing, const std::string& findings) const {
  std::vector<std::string> out;
  for (model::RoleId who : doers_of(VerbKind::inspect)) out.push_back(fmt::format("{} {} for {}", doing(who, "inspect", "inspects"), thing, findings));
  if (out.empty()) out.push_back(fmt::format("inspect {} for {}", thing, findings));
  return out;
}

std::vector<std::string> Vocabulary::removals_of(const std::string& thing) const {
  std::vector<std::string> out;
  for (const Statement& s : outline_.all)
    if (s.line && p_[s.line].verb == VerbKind::doff && s.words.find(thing) != std::string::npos) add_new(out, s.words);
  add_new(out, "take off " + thing);
  return out;
}

std::vector<std::string> Vocabulary::answers_to(const std::string& finding, const std::string& thing) const {
  std::vector<std::string> out;
  for (const Statement& s : outline_.all) {
    const bool in_arm = s.parent != nowhere && outline_.all[s.parent].kind == syntax::NodeKind::if_question && s.arm == 0;
    const std::string asked = in_arm ? thing_asked(outline_.all[s.parent].words, finding) : std::string();
    if (!asked.empty() && (s.line || s.called)) add_new(out, replaced(s.words, asked, thing));
  }
  const auto declared = std::find_if(p_.findings.begin(), p_.findings.end(), [&](const model::Finding& f) { return f.name == finding; });
  for (const model::Answer& answer : declared == p_.findings.end() ? std::vector<model::Answer>{} : declared->answered_by) {
    if (answer.kind == model::AnswerKind::removal) add_new(out, "take off " + thing);
    if (answer.kind == model::AnswerKind::declaring)
      for (model::RoleId who : doers_of(VerbKind::declare)) add_new(out, doing(who, "declare", "declares") + ' ' + answer.mark);
    if (answer.kind == model::AnswerKind::declaring) add_new(out, "declare " + answer.mark);
    if (answer.kind != model::AnswerKind::cleaning) continue;
    for (const model::Technique& t : p_.techniques)
      if (std::any_of(t.serves.begin(), t.serves.end(), [](const auto& s) { return s.use == model::TechniqueUse::cleans; }))
        add_new(out, fmt::format("clean {} from {} using {}", finding, thing, t.name));
  }
  return out;
}

std::vector<std::string> Vocabulary::recording(const std::string& record, model::RoleId who) const {
  return record.empty() ? std::vector<std::string>{} : std::vector<std::string>{doing(who, "record", "records") + ' ' + record};
}

std::vector<std::string> Vocabulary::ways() const {
  std::vector<std::string> out = lines_that(VerbKind::move);
  for (model::RoleId who : doers_of(VerbKind::move))
    for (const model::Zone& zone : p_.zones) add_new(out, doing(who, "move to", "moves to") + ' ' + zone.name);
  if (out.empty())
    for (const model::Zone& zone : p_.zones) add_new(out, "move to " + zone.name);
  return out;
}

std::vector<std::string> Vocabulary::questions() const {
  std::vector<std::string> out;
  for (const Statement& s : outline_.all)
    if (s.kind == syntax::NodeKind::if_question && s.words.find(" on ") != std::string::npos) add_new(out, s.words);
  return out;
}

std::vector<std::string> Vocabulary::lines_that(VerbKind verb) const {
  std::vector<std::string> out;
  for (const Statement& s : outline_.all)
    if (s.line && p_[s.line].verb == verb) add_new(out, s.words);
  return out;
}

std::vector<std::string> Vocabulary::calls_that(VerbKind verb) const {
  std::vector<std::string> out;
  for (const Statement& s : outline_.all) {
    if (!s.called) continue;
    const std::set<VerbKind> verbs = verbs_of_call(p_, s.called);
    // A routine that changes what is worn is no way to clean hands or to look.
    const bool changes = verbs.count(VerbKind::doff) || verbs.count(VerbKind::don);
    const bool does = verbs.count(verb) && (!changes || verb == VerbKind::doff || verb == VerbKind::don || verb == VerbKind::declare);
    if (does) add_new(out, s.words);
  }
  return out;
}

}  // namespace stepward::mend
