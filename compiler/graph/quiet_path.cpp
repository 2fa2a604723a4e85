#include "graph/quiet_path.hpp"

#include <algorithm>

#include "model/variants.hpp"

namespace stepward::graph {

using model::Atom;
using model::ItemId;
using model::Protocol;
using model::RoleId;
using model::Statement;
using model::Thing;
using model::Variant;

bool asks_aloud(const model::Condition& condition) {
  return std::any_of(condition.atoms.begin(), condition.atoms.end(), [](const Atom& atom) {
    return atom.what == Atom::What::found || atom.what == Atom::What::answer;
  });
}

namespace {

void collect(const Protocol& protocol, const Variant& variant, model::BlockId block, std::vector<model::LineId>& out) {
  if (!block) return;
  for (const Statement& statement : protocol[block].statements) {
    switch (statement.what) {
      case Statement::What::line:
        if (model::holds(protocol[statement.line].only_for, variant)) out.push_back(statement.line);
        break;
      case Statement::What::question:
        for (const auto& arm : statement.arms) collect(protocol, variant, arm.block, out);
        break;
      case Statement::What::only_for:
        if (model::holds(statement.only_for, variant)) collect(protocol, variant, statement.block, out);
        break;
      case Statement::What::repeat:
        collect(protocol, variant, statement.block, out);
        collect(protocol, variant, statement.fallback, out);
        break;
      case Statement::What::call:
      case Statement::What::together: collect(protocol, variant, statement.block, out); break;
      case Statement::What::finish:
      case Statement::What::resume: break;
    }
  }
}

bool is_of_kind(const model::Item& item, model::KindId kind) {
  return std::find(item.kinds.begin(), item.kinds.end(), kind) != item.kinds.end();
}

/// The items that would make "X is worn" true.
std::vector<ItemId> items_meant(const Protocol& protocol, const Variant& variant, const Thing& thing) {
  std::vector<ItemId> items;
  if (thing.what == Thing::What::kind) {
    for (std::size_t i = 0; i < protocol.items.size(); ++i) {
      if (is_of_kind(protocol.items[i], thing.kind)) items.push_back(ItemId{i});
    }
  } else if (const ItemId item = model::item_of(protocol, thing, variant)) {
    items.push_back(item);
  }
  return items;
}

std::vector<ItemId> hand_items(const Protocol& protocol) {
  std::vector<ItemId> items;
  for (std::size_t i = 0; i < protocol.items.size(); ++i) {
    const auto& sites = protocol.items[i].worn_on;
    const bool on_hands = std::any_of(sites.begin(), sites.end(), [&](auto site) { return protocol[site].is_hands; });
    if (on_hands) items.push_back(ItemId{i});
  }
  return items;
}

RoleId or_acting(const Protocol& protocol, RoleId who) { return who ? who : protocol.acts; }

std::map<RoleId, std::set<ItemId>> worn_at_start(const Protocol& protocol, const Variant& variant) {
  std::map<RoleId, std::set<ItemId>> worn;
  for (const auto& person : protocol.people) {
    for (const auto& wearing : person.wearing) {
      if (!model::holds(wearing.only_for, variant)) continue;
      if (const ItemId item = model::item_of(protocol, wearing.thing, variant)) worn[person.role].insert(item);
    }
  }
  return worn;
}

std::map<RoleId, model::ZoneId> zones_at_start(const Protocol& protocol) {
  std::map<RoleId, model::ZoneId> zones;
  for (const auto& person : protocol.people) {
    if (person.zone) zones[person.role] = person.zone;
  }
  return zones;
}

bool has(const std::map<RoleId, std::set<ItemId>>& worn, RoleId who, ItemId item) {
  const auto found = worn.find(who);
  return found != worn.end() && found->second.count(item) != 0;
}

bool is_closed_choice(const Protocol& protocol, const Variant& variant, const Thing& thing) {
  return thing.what == Thing::What::choice && !model::item_of(protocol, thing, variant);
}

}  // namespace

std::vector<model::LineId> lines_of(const Protocol& protocol, const Variant& variant) {
  std::vector<model::LineId> lines;
  for (const auto& phase : protocol.phases) collect(protocol, variant, phase.block, lines);
  for (const auto& interruption : protocol.interruptions) collect(protocol, variant, interruption.block, lines);
  return lines;
}

Settled::Settled(const Protocol& protocol, const Variant& variant)
    : protocol_(protocol),
      variant_(variant),
      at_start_(worn_at_start(protocol, variant)),
      begins_in_(zones_at_start(protocol)) {
  for (const auto line : lines_of(protocol, variant)) read(protocol[line]);
}

void Settled::read(const model::Line& line) {
  if (line.verb == model::VerbKind::don || line.verb == model::VerbKind::doff) {
    Worn& worn = line.verb == model::VerbKind::don ? put_on_ : taken_off_;
    for (const Thing& thing : line.things) {
      if (const ItemId item = model::item_of(protocol_, thing, variant_))
        worn[or_acting(protocol_, line.of)].insert(item);
    }
  }
  if (line.verb == model::VerbKind::move) moves_.insert(line.who);
  if (line.verb == model::VerbKind::declare) declared_.insert(line.mark);
  if (line.verb == model::VerbKind::record) recorded_.insert(line.records.begin(), line.records.end());
}

std::optional<bool> Settled::worn(RoleId who, const std::vector<ItemId>& any_of) const {
  bool perhaps = false;
  for (const ItemId item : any_of) {
    const bool first = has(at_start_, who, item);
    if (first && !has(taken_off_, who, item)) return true;
    perhaps = perhaps || first || has(put_on_, who, item);
  }
  return perhaps ? std::nullopt : std::optional<bool>(false);
}

std::optional<bool> Settled::answer(const Atom& atom) const {
  const RoleId who = or_acting(protocol_, atom.who);
  switch (atom.what) {
    case Atom::What::found:
      return is_closed_choice(protocol_, variant_, atom.thing) ? std::optional<bool>(false) : std::nullopt;
    case Atom::What::worn: return worn(who, items_meant(protocol_, variant_, atom.thing));
    case Atom::What::hands_bare: {
      const auto gloved = worn(who, hand_items(protocol_));
      return gloved ? std::optional<bool>(!*gloved) : std::nullopt;
    }
    case Atom::What::answer: return std::nullopt;
    case Atom::What::declared: return declared_.count(atom.mark) ? std::nullopt : std::optional<bool>(false);
    case Atom::What::recorded: return recorded_.count(atom.record) ? std::nullopt : std::optional<bool>(false);
    case Atom::What::in_zone: {
      const auto begins = begins_in_.find(who);
      if (moves_.count(who) || begins == begins_in_.end()) return std::nullopt;
      return begins->second == atom.zone;
    }
  }
  return std::nullopt;
}

std::optional<bool> Settled::answer(const model::Condition& condition) const {
  bool open = false;
  for (const Atom& atom : condition.atoms) {
    auto value = answer(atom);
    if (!value) {
      open = true;
      continue;
    }
    if (atom.negated) value = !*value;
    if (*value != condition.all) return *value;  // one false settles an `and`, one true an `or`
  }
  return open ? std::nullopt : std::optional<bool>(condition.all);
}

QuietState::QuietState(const Protocol& protocol, const Variant& variant)
    : protocol_(protocol), variant_(variant), worn_(worn_at_start(protocol, variant)), in_(zones_at_start(protocol)) {}

void QuietState::apply(const model::Line& line) {
  const RoleId of = or_acting(protocol_, line.of);
  for (const Thing& thing : line.things) {
    const ItemId item = model::item_of(protocol_, thing, variant_);
    if (item && line.verb == model::VerbKind::don) worn_[of].insert(item);
    if (item && line.verb == model::VerbKind::doff) worn_[of].erase(item);
  }
  if (line.verb == model::VerbKind::move) in_[line.who] = line.zone;
  if (line.verb == model::VerbKind::declare) declared_.insert(line.mark);
  if (line.verb == model::VerbKind::record) recorded_.insert(line.records.begin(), line.records.end());
}

bool QuietState::wears_any(RoleId who, const std::vector<ItemId>& any_of) const {
  return std::any_of(any_of.begin(), any_of.end(), [&](ItemId item) { return has(worn_, who, item); });
}

bool QuietState::answer(const Atom& atom) const {
  const RoleId who = or_acting(protocol_, atom.who);
  switch (atom.what) {
    case Atom::What::found: return false;
    case Atom::What::worn: return wears_any(who, items_meant(protocol_, variant_, atom.thing));
    case Atom::What::hands_bare: return !wears_any(who, hand_items(protocol_));
    case Atom::What::answer: return atom.answer == 0;
    case Atom::What::declared: return declared_.count(atom.mark) != 0;
    case Atom::What::recorded: return recorded_.count(atom.record) != 0;
    case Atom::What::in_zone: {
      const auto found = in_.find(who);
      return found != in_.end() && found->second == atom.zone;
    }
  }
  return false;
}

bool QuietState::answer(const model::Condition& condition) const {
  const auto holds = [&](const Atom& atom) { return answer(atom) != atom.negated; };
  return condition.all ? std::all_of(condition.atoms.begin(), condition.atoms.end(), holds)
                       : std::any_of(condition.atoms.begin(), condition.atoms.end(), holds);
}

}  // namespace stepward::graph
