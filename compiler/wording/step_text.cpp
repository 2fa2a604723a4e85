#include "wording/step_text.hpp"

#include <algorithm>
#include <cctype>

#include "base/text.hpp"
#include "model/contact_time.hpp"
#include "model/variants.hpp"
#include "wording/act_phrases.hpp"
#include "wording/phrases.hpp"

namespace stepward::wording {

using model::ItemId;
using model::Line;
using model::Protocol;
using model::Target;
using model::Thing;
using model::Variant;

namespace {

using Phrases = std::vector<model::Phrase> model::Wording::*;

// ------------------------------------------------------------------ which phrase is for this line

bool is_of_kind(const model::Item& item, model::KindId kind) {
  return std::find(item.kinds.begin(), item.kinds.end(), kind) != item.kinds.end();
}

bool is_for_item(const Protocol& protocol, const Target& target, ItemId item) {
  return target.item == item || (target.kind && is_of_kind(protocol[item], target.kind));
}

bool worn_on_hands(const Protocol& protocol, const model::Item& item) {
  return std::any_of(item.worn_on.begin(), item.worn_on.end(), [&](auto site) { return protocol[site].is_hands; });
}

/// Hands are whatever lies on them at that line; where nothing is known of it, anything that can.
std::vector<ItemId> hand_layers(const Protocol& protocol, const Setting& setting) {
  if (!setting.hands.empty()) return setting.hands;
  std::vector<ItemId> layers{ItemId{}};
  for (std::size_t i = 0; i < protocol.items.size(); ++i) {
    if (worn_on_hands(protocol, protocol.items[i])) layers.push_back(ItemId{i});
  }
  return layers;
}

bool is_for_layer(const Protocol& protocol, const Target& target, ItemId layer) {
  if (layer) return is_for_item(protocol, target, layer);
  return target.site && protocol[target.site].is_hands;
}

bool is_for(const Protocol& protocol, const Variant& variant, const Target& target, const Thing& thing,
            const Setting& setting) {
  if (target.anything) return true;
  if (const ItemId item = model::item_of(protocol, thing, variant)) return is_for_item(protocol, target, item);
  switch (thing.what) {
    case Thing::What::hands: {
      const auto layers = hand_layers(protocol, setting);
      return std::any_of(layers.begin(), layers.end(),
                         [&](ItemId layer) { return is_for_layer(protocol, target, layer); });
    }
    case Thing::What::site: return target.site && target.site == thing.site;
    case Thing::What::spot:
      return (target.spot && target.spot == thing.spot) || (target.kind && target.kind == protocol[thing.spot].made_of);
    case Thing::What::kind: return target.kind && target.kind == thing.kind;
    case Thing::What::item:
    case Thing::What::choice:
    case Thing::What::supply:
    case Thing::What::role: return false;
  }
  return false;
}

/// The phrase made for this kind of thing, else the plain one, else the one for everything else.
const model::Phrase* pick(const Protocol& protocol, const Variant& variant, const std::vector<model::Phrase>& phrases,
                   const Line& line, const Setting& setting) {
  for (const model::Phrase& phrase : phrases) {
    for (const Target& target : phrase.on) {
      for (const Thing& thing : line.things) {
        if (is_for(protocol, variant, target, thing, setting)) return &phrase;
      }
    }
  }
  const auto plain =
      std::find_if(phrases.begin(), phrases.end(), [](const model::Phrase& p) { return p.on.empty() && !p.otherwise; });
  if (plain != phrases.end()) return &*plain;
  const auto rest = std::find_if(phrases.begin(), phrases.end(), [](const model::Phrase& p) { return p.otherwise; });
  return rest == phrases.end() ? nullptr : &*rest;
}

// ------------------------------------------------------------------ filling the gaps of a phrase

void replace_all(std::string& text, const std::string& gap, const std::string& value) {
  for (std::size_t at = text.find(gap); at != std::string::npos; at = text.find(gap, at + value.size())) {
    text.replace(at, gap.size(), value);
  }
}

std::string tidied(std::string text) {
  replace_all(text, "  ", " ");
  while (!text.empty() && text.back() == ' ') text.pop_back();
  while (!text.empty() && text.front() == ' ') text.erase(text.begin());
  return text;
}

struct Scene {
  const Protocol& protocol;
  const Variant& variant;
  const Line& line;
  const Setting& setting;
};

std::string things_of(const Scene& scene, bool whole_items) {
  std::vector<std::string> parts;
  for (const Thing& thing : scene.line.things) {
    const ItemId item = model::item_of(scene.protocol, thing, scene.variant);
    const bool named = std::any_of(scene.setting.named.begin(), scene.setting.named.end(),
                                   [&](const Thing& each) { return same_thing(each, thing); });
    parts.push_back(whole_items && item && !named ? item_phrase(scene.protocol, item, scene.setting.anew)
                                                  : thing_phrase(scene.protocol, scene.variant, thing, scene.setting));
  }
  return all_of(scene.protocol.tongue, parts);
}

/// In "[count] [item]" the item is counted, so it stands without its article.
std::string counted_item(const Scene& scene) {
  return scene.line.things.empty()
             ? std::string()
             : counted_phrase(scene.protocol, scene.variant, scene.line.count, scene.line.things[0], scene.setting.anew);
}

std::string filled(std::string text, const Scene& scene, const std::string& technique) {
  const auto& [protocol, variant, line, setting] = scene;
  replace_all(text, "[technique]", technique);
  replace_all(text, "[count] [item]", counted_item(scene));
  replace_all(text, "[item]", things_of(scene, true));
  replace_all(text, "[surface]", things_of(scene, false));
  replace_all(text, "[agent]", line.agent ? protocol[line.agent].name : std::string());
  replace_all(text, "[count]", std::to_string(line.count));
  replace_all(text, "[who]", line.who ? called(protocol.tongue, protocol[line.who]) : std::string());
  replace_all(text, "[place]", line.zone ? called(protocol.tongue, protocol[line.zone]) : std::string());
  replace_all(text, "[findings]", findings_phrase(protocol, line.findings));
  for (std::size_t i = 0; i < protocol.choices.size(); ++i) {
    Thing thing;
    thing.what = Thing::What::choice;
    thing.choice = model::ChoiceId{i};
    const ItemId item = model::item_of(protocol, thing, variant);
    replace_all(text, "[" + protocol.choices[i].name + "]", item ? item_phrase(protocol, item) : std::string());
  }
  return contracted(protocol.tongue, tidied(std::move(text)));
}

// ------------------------------------------------------------------ the chain of fall-backs

model::TechniqueId technique_of(const Scene& scene) {
  for (const Thing& thing : scene.line.things) {
    const ItemId item = model::item_of(scene.protocol, thing, scene.variant);
    if (!item) continue;
    if (const auto technique = model::technique_of(scene.protocol, scene.line, item)) return technique;
  }
  return scene.line.technique;
}

std::string from_technique(const Scene& scene, Phrases kind) {
  const auto technique = technique_of(scene);
  if (!technique) return {};
  const model::Phrase* phrase =
      pick(scene.protocol, scene.variant, scene.protocol[technique].wording.*kind, scene.line, scene.setting);
  return phrase ? filled(phrase->text, scene, {}) : std::string();
}

const model::Phrase* from_verb(const Scene& scene, Phrases kind) {
  for (const auto& wording : scene.protocol.verb_wordings) {
    if (wording.verb != scene.line.verb) continue;
    if (const model::Phrase* phrase = pick(scene.protocol, scene.variant, wording.wording.*kind, scene.line, scene.setting))
      return phrase;
  }
  return nullptr;
}

/// The verb's sentence with the technique's in its gap, or behind it where the sentence has none.
std::string with_technique(const Scene& scene, const model::Phrase* verb, const std::string& technique) {
  if (!verb) return technique;
  const bool has_gap = verb->text.find("[technique]") != std::string::npos;
  return tidied(filled(verb->text, scene, technique) + (has_gap ? "" : " " + technique));
}

std::string fallback(const Scene& scene, const std::string& own, Phrases kind) {
  if (!own.empty()) return filled(own, scene, {});
  std::string text = from_technique(scene, kind);
  if (!text.empty()) return text;
  const model::Phrase* verb = from_verb(scene, kind);
  return verb ? filled(verb->text, scene, {}) : std::string();
}

std::string words_of(const Scene& scene) {
  const Line& line = scene.line;
  if (!line.details.say.empty()) return filled(line.details.say, scene, {});
  const model::Phrase* verb = from_verb(scene, &model::Wording::words);
  std::string text = with_technique(scene, verb, from_technique(scene, &model::Wording::words));
  if (text.empty() && line.verb == model::VerbKind::act) text = capitalised(line.text);
  return text;
}

std::string spoken_of(const Scene& scene, const std::string& words) {
  if (!scene.line.details.say.empty()) return words;
  std::string technique = from_technique(scene, &model::Wording::spoken);
  const model::Phrase* verb = from_verb(scene, &model::Wording::spoken);
  if (!verb && technique.empty()) return words;
  if (technique.empty()) technique = from_technique(scene, &model::Wording::words);
  return with_technique(scene, verb ? verb : from_verb(scene, &model::Wording::words), technique);
}

// ------------------------------------------------------------------ act and manner

/// A text that opens with the verb of its act, in letters of any size.
bool opens_with(const std::string& text, const std::string& verb) {
  const std::string start = text::upper(text.substr(0, verb.size()));
  const bool goes_on = text.size() > verb.size() && (static_cast<unsigned char>(text[verb.size()]) >= 0x80 || std::isalnum(static_cast<unsigned char>(text[verb.size()])));
  return start == text::upper(verb) && !goes_on;
}

/// Verbs whose act a text may bring in its own words, as long as it names the thing; the others keep the model's verb.
bool may_reword(model::VerbKind verb) {
  return verb == model::VerbKind::clean || verb == model::VerbKind::pass || verb == model::VerbKind::take;
}

/// Brackets are for the eye: "your hands (outer gloves)" is spoken as "your outer gloves".
std::string for_the_ear(std::string text, const Setting& setting, const Protocol& protocol) {
  if (setting.hands.empty()) return text;
  const model::Tongue& tongue = protocol.tongue;
  Thing own;
  own.what = Thing::What::hands;
  const std::string seen = thing_phrase(protocol, {}, own, {setting.hands, {}});
  const ItemId layer = setting.hands[0];
  // Where one of several layers is meant, the ear is told no more than whose hands, and whether they are gloved: she sees what she wears.
  const bool is_gloved = std::all_of(setting.hands.begin(), setting.hands.end(), [](ItemId worn) { return static_cast<bool>(worn); });
  const std::string heard = setting.hands.size() > 1 ? phrase(tongue, is_gloved ? Phrase::your_gloved_hands : Phrase::your_hands)
                            : layer                  ? phrase(tongue, Phrase::your_layer, {{"layer", protocol[layer].name}})
                                                     : phrase(tongue, Phrase::your_bare_hands);
  replace_all(text, seen, heard);
  replace_all(text, text::capitalised(seen), text::capitalised(heard));
  replace_all(text, said_of_self(tongue, seen), said_of_self(tongue, heard));
  return text;
}

/// What is said back names the thing; the agent is on the bottle.
Act repeated_back(const Scene& scene, Act act) {
  if (!scene.line.agent) return act;
  const std::string with_agent = phrase(scene.protocol.tongue, Phrase::things_with_agent, {{"things", ""}, {"agent", scene.protocol[scene.line.agent].name}});
  const std::size_t at = act.rest.rfind(with_agent);
  if (at != std::string::npos) act.rest.resize(at);
  return act;
}

void split(StepText& text, const Scene& scene) {
  std::string rest;
  std::string first = first_sentence(text.words, rest);
  const bool same_verb = !text.act.verb.empty() && opens_with(first, text.act.verb);
  const bool names_it = !scene.line.things.empty() && first.find(scene.line.verb == model::VerbKind::clean
                                                                     ? things_of(scene, false)
                                                                     : counted_item(scene)) != std::string::npos;
  if (scene.line.verb == model::VerbKind::act) {
    text.manner = text.says_own ? text.words : std::string();
  } else if (same_verb || (may_reword(scene.line.verb) && names_it)) {
    if (!first.empty() && first.back() == '.') first.pop_back();
    if (same_verb) {
      const std::size_t after = text.act.verb.size();
      text.act.rest = tidied(first.substr(after));
    } else {
      text.act = act_from_text(first);
    }
    text.manner = rest;
  } else {
    text.manner = text.words;
  }
}

}  // namespace

StepText step_text(const Protocol& protocol, const Variant& variant, const Line& line, const Setting& setting) {
  const Scene scene{protocol, variant, line, setting};
  StepText text;
  text.says_own = !line.details.say.empty();
  text.words = words_of(scene);
  text.tells_only_how = !text.says_own && !from_verb(scene, &model::Wording::words) && !from_verb(scene, &model::Wording::spoken);
  text.spoken = for_the_ear(spoken_of(scene, text.words), setting, protocol);
  text.watch = fallback(scene, line.details.watch, &model::Wording::watch);
  text.if_not = fallback(scene, line.details.if_not, &model::Wording::if_not);
  text.warning = fallback(scene, line.details.warning, &model::Wording::warning);
  text.act = act_phrase(protocol, variant, line, setting);
  split(text, scene);
  text.echo = for_the_ear(echo_phrase(protocol.tongue, repeated_back(scene, text.act)), setting, protocol);
  return text;
}

model::Duration contact_time(const Protocol& protocol, const Variant& variant, const Line& line,
                             const Setting& setting) {
  model::Duration longest;
  if (line.verb != model::VerbKind::disinfect || !line.agent) return longest;
  for (const Thing& thing : line.things) {
    const auto wanted = [&](const Target& target) { return is_for(protocol, variant, target, thing, setting); };
    longest.seconds = std::max(longest.seconds, model::contact_time_where(protocol[line.agent], wanted).seconds);
  }
  return longest;
}

}  // namespace stepward::wording
