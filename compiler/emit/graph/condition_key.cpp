// What questions are named after in ids.

#include <fmt/format.h>

#include "emit/graph/node_ids.hpp"

namespace stepward::emit::step_graph {
namespace {

using model::Atom;

std::string findings_key(const model::Protocol& protocol, const Atom& atom) {
  std::string names;
  for (const model::FindingId finding : atom.findings) names += (names.empty() ? "" : " or ") + protocol[finding].name;
  return names;
}

std::string person_key(const model::Protocol& protocol, model::RoleId who) { return who ? protocol[who].name : "anyone"; }

std::string asked_of(const model::Protocol& protocol, const Atom& atom) {
  switch (atom.what) {
    case Atom::What::found: return findings_key(protocol, atom) + " on " + thing_key(protocol, atom.thing);
    case Atom::What::worn: return fmt::format("{} worn by {}", thing_key(protocol, atom.thing), person_key(protocol, atom.who));
    case Atom::What::hands_bare: return fmt::format("hands of {} bare", person_key(protocol, atom.who));
    case Atom::What::answer: return protocol[atom.decision].name + " is " + protocol[atom.decision].answers[atom.answer];
    case Atom::What::declared: return protocol.marks[atom.mark.value].name + " declared";
    case Atom::What::recorded: return protocol.records[atom.record.value].name + " recorded";
    case Atom::What::in_zone: return person_key(protocol, atom.who) + " in " + protocol[atom.zone].name;
  }
  return "";
}

}  // namespace

std::string thing_key(const model::Protocol& protocol, const model::Thing& thing) {
  switch (thing.what) {
    case model::Thing::What::item: return protocol[thing.item].name;
    case model::Thing::What::choice: return protocol[thing.choice].name;
    case model::Thing::What::kind: return protocol[thing.kind].name;
    case model::Thing::What::site: return protocol[thing.site].name;
    case model::Thing::What::spot: return protocol[thing.spot].name;
    case model::Thing::What::supply: return protocol[thing.supply].name;
    case model::Thing::What::hands: return "hands";
    case model::Thing::What::role: return protocol[thing.role].name;
  }
  return "";
}

std::string condition_key(const model::Protocol& protocol, const model::Condition& condition) {
  std::string key;
  for (const Atom& atom : condition.atoms) {
    if (!key.empty()) key += condition.all ? " and " : " or ";
    key += (atom.negated ? "not " : "") + asked_of(protocol, atom);
  }
  return key.empty() ? "otherwise" : key;
}

}  // namespace stepward::emit::step_graph
