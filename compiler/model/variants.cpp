#include "model/variants.hpp"

#include <algorithm>

namespace stepward::model {
namespace {

bool is_excluded(const Protocol& protocol, const Variant& variant) {
  return std::any_of(protocol.exclusions.begin(), protocol.exclusions.end(), [&](const Exclusion& exclusion) {
    return !exclusion.together.empty() && holds(exclusion.together, variant);
  });
}

/// Adds the values of choice `next` to every combination so far. A choice can depend only on those declared before.
std::vector<Variant> widened(const std::vector<Variant>& so_far, const Choice& choice) {
  std::vector<Variant> wider;
  for (const Variant& variant : so_far) {
    const bool open = holds(choice.only_for, variant);
    const int first = open ? 0 : -1;
    const int last = open ? static_cast<int>(choice.values.size()) - 1 : -1;
    for (int value = first; value <= last && wider.size() < most_variants; ++value) {
      wider.push_back(variant);
      wider.back().push_back(value);
    }
  }
  return wider;
}

}  // namespace

std::vector<Variant> all_variants(const Protocol& protocol) {
  std::vector<Variant> variants{Variant{}};
  for (const Choice& choice : protocol.choices) variants = widened(variants, choice);
  variants.erase(std::remove_if(variants.begin(), variants.end(),
                                [&](const Variant& variant) { return is_excluded(protocol, variant); }),
                 variants.end());
  return variants;
}

bool holds(const VariantCondition& condition, const Variant& variant) {
  return std::all_of(condition.begin(), condition.end(), [&](const ChoiceValue& value) {
    return value.choice.value < variant.size() && variant[value.choice.value] == static_cast<int>(value.value);
  });
}

bool can_hold(const VariantCondition& condition, const std::vector<Variant>& variants) {
  return std::any_of(variants.begin(), variants.end(), [&](const Variant& v) { return holds(condition, v); });
}

std::string variant_name(const Protocol& protocol, const Variant& variant) {
  std::string name;
  for (std::size_t at = 0; at < variant.size() && at < protocol.choices.size(); ++at) {
    if (variant[at] < 0) continue;
    if (!name.empty()) name += " · ";
    name += protocol.choices[at].values[static_cast<std::size_t>(variant[at])].name;
  }
  return name;
}

ItemId item_of(const Protocol& protocol, const Thing& thing, const Variant& variant) {
  switch (thing.what) {
    case Thing::What::item: return thing.item;
    case Thing::What::choice: {
      const std::size_t at = thing.choice.value;
      if (at >= variant.size() || variant[at] < 0) return {};
      return protocol.choices[at].values[static_cast<std::size_t>(variant[at])].item;
    }
    case Thing::What::kind:
    case Thing::What::site:
    case Thing::What::spot:
    case Thing::What::supply:
    case Thing::What::hands:
    case Thing::What::role: return {};
  }
  return {};
}

TechniqueId technique_of(const Protocol& protocol, const Line& line, ItemId item) {
  if (line.technique || !item) return line.technique;
  if (line.verb == VerbKind::don) return protocol[item].usually_put_on;
  if (line.verb == VerbKind::doff) return protocol[item].usually_taken_off;
  return {};
}

}  // namespace stepward::model
