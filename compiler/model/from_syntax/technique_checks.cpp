#include <algorithm>
#include <numeric>

#include "model/from_syntax/techniques.hpp"

namespace stepward::model::reading {
namespace {

bool has_kind(const Item& item, KindId kind) {
  return std::find(item.kinds.begin(), item.kinds.end(), kind) != item.kinds.end();
}

bool matches(const Protocol& protocol, const Target& target, ItemId item) {
  if (target.anything) return true;
  if (target.item) return target.item == item;
  return target.kind && has_kind(protocol[item], target.kind);
}

bool serves_alone(const Protocol& protocol, const Technique& technique, TechniqueUse use, ItemId item) {
  return std::any_of(technique.serves.begin(), technique.serves.end(), [&](const TechniqueService& service) {
    return service.use == use && service.together.size() == 1 && matches(protocol, service.together[0], item);
  });
}

/// True if some order of the items meets the targets one by one. Sets on a line are small.
bool serves_set(const Protocol& protocol, const Technique& technique, TechniqueUse use,
                const std::vector<ItemId>& items) {
  std::vector<std::size_t> order(items.size());
  for (const TechniqueService& service : technique.serves) {
    if (service.use != use || service.together.size() != items.size() || items.size() > 6) continue;
    std::iota(order.begin(), order.end(), std::size_t{0});
    do {
      bool all = true;
      for (std::size_t at = 0; at < items.size(); ++at)
        all = all && matches(protocol, service.together[at], items[order[at]]);
      if (all) return true;
    } while (std::next_permutation(order.begin(), order.end()));
  }
  return false;
}

bool serves_place(const Protocol& protocol, const Technique& technique, TechniqueUse use, const Thing& thing) {
  const KindId made_of = thing.what == Thing::What::spot ? protocol[thing.spot].made_of : KindId{};
  return std::any_of(technique.serves.begin(), technique.serves.end(), [&](const TechniqueService& service) {
    if (service.use != use || service.together.size() != 1) return false;
    const Target& target = service.together[0];
    if (target.anything) return !target.items_only;
    return (target.site && target.site == thing.site) || (target.spot && target.spot == thing.spot) ||
           (target.kind && target.kind == made_of);
  });
}

const char* doing(TechniqueUse use) {
  switch (use) {
    case TechniqueUse::takes_off: return "take off";
    case TechniqueUse::puts_on: return "put on";
    case TechniqueUse::tests: return "test";
    case TechniqueUse::cleans: return "clean";
  }
  return "";
}

/// Calls `take` with every combination of items that the things stand for, each once.
template <class Take>
void each_set(const Context& context, const std::vector<Thing>& things, const VariantCondition& where, Take take) {
  std::set<std::vector<ItemId>> seen;
  const bool open =
      std::any_of(things.begin(), things.end(), [](const Thing& t) { return t.what == Thing::What::choice; });
  for (const Variant& variant : context.variants) {
    if (!holds(where, variant)) continue;
    std::vector<ItemId> items;
    for (const Thing& thing : things) {
      if (const ItemId item = item_of(context.protocol, thing, variant)) items.push_back(item);
    }
    if (seen.insert(items).second) take(items);
    if (!open) return;  // the same items in every variant
  }
  if (!open && seen.empty()) {  // a library has no variants to stand in
    std::vector<ItemId> items;
    for (const Thing& thing : things) {
      if (thing.what == Thing::What::item) items.push_back(thing.item);
    }
    take(items);
  }
}

void check_parts(Context& context, TechniqueId id, ItemId item, source::Span at) {
  const Technique& technique = context.protocol[id];
  for (const Handled& handled : technique.handles) {
    const bool is_it = handled.thing.what == TechniqueThing::What::it && !handled.thing.part.empty();
    if (!is_it || part_of(context.protocol[item], handled.thing.part)) continue;
    auto& finding = context.report(Code::N405, at, {technique.name, context.protocol[item].name, handled.thing.part});
    finding.places.push_back({handled.thing.span, "handled here"});
  }
}

}  // namespace

void check_technique(Context& context, TechniqueId id, TechniqueUse use, const std::vector<Thing>& things,
                     const VariantCondition& where, source::Span at) {
  const Protocol& protocol = context.protocol;
  const Technique& technique = protocol[id];
  if (technique.serves.empty()) return;  // reported where it is declared
  const auto refuse = [&](const std::string& what) {
    auto& finding = context.report(Code::N401, at, {technique.name, doing(use), what});
    finding.places.push_back({technique.span, "the technique"});
  };
  for (const Thing& thing : things) {
    const bool is_place = thing.what == Thing::What::site || thing.what == Thing::What::spot;
    if (is_place && !serves_place(protocol, technique, use, thing)) refuse(std::string(context.files.text(thing.span)));
  }
  each_set(context, things, where, [&](const std::vector<ItemId>& items) {
    if (items.size() > 1 && serves_set(protocol, technique, use, items)) return;
    for (const ItemId item : items) {
      if (!serves_alone(protocol, technique, use, item)) {
        refuse(protocol[item].name);
        break;
      }
      check_parts(context, id, item, at);
    }
  });
}

TechniqueId usual_technique(Context& context, TechniqueUse use, const std::vector<Thing>& things,
                            const VariantCondition& where, source::Span at) {
  const Protocol& protocol = context.protocol;
  std::optional<TechniqueId> common;
  bool differ = false;
  each_set(context, things, where, [&](const std::vector<ItemId>& items) {
    for (const ItemId item : items) {
      const TechniqueId usual =
          use == TechniqueUse::takes_off ? protocol[item].usually_taken_off : protocol[item].usually_put_on;
      if (use == TechniqueUse::takes_off && !usual) context.report(Code::N402, at, {protocol[item].name});
      differ = differ || (common && *common != usual);
      common = usual;
    }
  });
  return common && !differ ? *common : TechniqueId{};
}

void check_usual(Context& context, ItemId id) {
  const Item& item = context.protocol[id];
  Thing thing;
  thing.item = id;
  if (item.usually_put_on) check_technique(context, item.usually_put_on, TechniqueUse::puts_on, {thing}, {}, item.span);
  if (item.usually_taken_off)
    check_technique(context, item.usually_taken_off, TechniqueUse::takes_off, {thing}, {}, item.span);
}

}  // namespace stepward::model::reading
