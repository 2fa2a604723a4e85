#include "model/from_syntax/text_names.hpp"

#include <algorithm>
#include <iterator>

#include "wording/heard.hpp"
#include "wording/step_text.hpp"

namespace stepward::model::reading {
namespace {

bool holds_word(const Words& words, const std::string& word) { return std::find(words.begin(), words.end(), word) != words.end(); }

bool names_head(const Words& words, const std::string& name) { return wording::are_heard(words, wording::head_word(name)); }

bool names_thing(const Words& words, const Named& named) { return Naming::names_whole(words, named) || names_head(words, named.name); }

/// Hands are whatever is outermost on them, and people name their parts.
bool names_hands(const Words& words) {
  constexpr const char* parts[] = {"hands", "palms", "fingers", "fingertips", "gloves"};
  return std::any_of(std::begin(parts), std::end(parts), [&](const char* part) { return wording::are_heard(words, part); });
}

}  // namespace

Wardrobe::Wardrobe(const Protocol& protocol, const Variant& variant) : worn_(protocol.roles.size()), dressed_(!protocol.people.empty()) {
  for (std::uint32_t i = 0; i < protocol.items.size(); ++i) all_.insert(ItemId{i});
  for (const PersonStart& person : protocol.people) {
    for (const Wearing& wearing : person.wearing) {
      if (holds(wearing.only_for, variant)) add(person.role, item_of(protocol, wearing.thing, variant));
    }
  }
  for (const Line& line : protocol.lines) {
    if (line.verb != VerbKind::don || !holds(line.only_for, variant)) continue;
    for (const Thing& thing : line.things) add(line.of, item_of(protocol, thing, variant));
  }
}

void Wardrobe::add(RoleId who, ItemId item) {
  if (who && item) worn_[who.value].insert(item);
}

bool Naming::names_whole(const Words& words, const Named& named) {
  return wording::are_heard(words, named.name) || wording::are_heard(words, named.called) ||
         std::any_of(named.also_called.begin(), named.also_called.end(), [&](const std::string& also) { return wording::are_heard(words, also); });
}

bool Naming::names(const Words& words, const Thing& thing) const {
  if (holds_word(words, "[item]") || holds_word(words, "[surface]")) return true;
  if (thing.what == Thing::What::choice && holds_word(words, "[" + protocol_[thing.choice].name + "]")) return true;
  if (const ItemId item = item_of(protocol_, thing, variant_)) return names_item(words, item, whose(thing));
  switch (thing.what) {
    case Thing::What::hands: return names_hands(words);
    case Thing::What::site: return names_thing(words, protocol_[thing.site]) || (protocol_[thing.site].is_hands && names_hands(words));
    case Thing::What::spot: return names_thing(words, protocol_[thing.spot]);
    case Thing::What::supply: return names_thing(words, protocol_[thing.supply]);
    case Thing::What::kind: return !thing.kind || wording::are_heard(words, protocol_[thing.kind].name);  // none: a routine's parameter
    case Thing::What::item:
    case Thing::What::choice:
    case Thing::What::role: return true;  // nothing that could be named: a choice that has no item here
  }
  return true;
}

bool Naming::names_one(const Words& words) const {
  return std::any_of(line_.things.begin(), line_.things.end(), [&](const Thing& thing) { return names(words, thing); });
}

std::string Naming::other_item(const Words& words) const {
  for (std::uint32_t i = 0; i < protocol_.items.size(); ++i) {
    if (names_whole(words, protocol_.items[i]) && !handles(ItemId{i})) return protocol_.items[i].name;
  }
  return {};
}

std::string Naming::phrase(const Thing& thing) const {
  if (const ItemId item = item_of(protocol_, thing, variant_)) return protocol_[item].name;
  return wording::thing_phrase(protocol_, variant_, thing, {});
}

bool Naming::handles(ItemId item) const {
  return std::any_of(line_.things.begin(), line_.things.end(), [&](const Thing& thing) { return item_of(protocol_, thing, variant_) == item; });
}

bool Naming::names_item(const Words& words, ItemId item, RoleId who) const {
  const Item& it = protocol_[item];
  if (names_whole(words, it)) return true;
  const auto another_worn_is = [&](const auto& test) {
    const std::set<ItemId>& worn = wardrobe_.of(who);
    return std::any_of(worn.begin(), worn.end(), [&](ItemId other) { return other != item && test(protocol_[other]); });
  };
  const std::string head = wording::head_word(it.name);
  const bool is_only_one = !another_worn_is([&](const Item& other) { return wording::head_word(other.name) == head; });
  if (is_only_one && wording::are_heard(words, head)) return true;
  return std::any_of(it.kinds.begin(), it.kinds.end(), [&](KindId kind) {
    const auto of_kind = [&](const Item& other) { return std::find(other.kinds.begin(), other.kinds.end(), kind) != other.kinds.end(); };
    return wording::are_heard(words, protocol_[kind].name) && !another_worn_is(of_kind);
  });
}

}  // namespace stepward::model::reading
