// Things, questions and times in words: the second half of step_text.hpp.

#include <cctype>

#include <fmt/format.h>

#include "model/variants.hpp"
#include "wording/act_phrases.hpp"
#include "wording/step_text.hpp"

namespace stepward::wording {

using model::Atom;
using model::ItemId;
using model::Protocol;
using model::RoleId;
using model::Thing;
using model::Variant;

namespace {

std::string phrase_of(const model::Named& named, const char* article = "the ") {
  return named.called.empty() ? article + named.name : named.called;
}

/// Names of pairs and garments in the plural end in s; "glass" and "dress" do not count.
bool is_plural(const std::string& name) {
  return name.size() > 2 && name.back() == 's' && name[name.size() - 2] != 's';
}

std::string hands_phrase(const Protocol& protocol, const Thing& thing, const Setting& setting) {
  const bool of_reader = !thing.of || thing.of == protocol.acts;
  std::string phrase = of_reader ? std::string("your hands") : fmt::format("the {}’s hands", protocol[thing.of].name);
  if (setting.hands.size() == 1) {
    phrase += setting.hands[0] ? fmt::format(" ({})", protocol[setting.hands[0]].name) : std::string(" (bare)");
  }
  return phrase;
}

std::string site_phrase(const model::Site& site) {
  if (!site.called.empty()) return site.called;
  return (site.is_hands ? "your " : "the ") + site.name;
}

std::string whole_phrase(const Protocol& protocol, const Variant& variant, const Thing& thing, const Setting& setting) {
  switch (thing.what) {
    case Thing::What::item: return item_phrase(protocol, thing.item);
    case Thing::What::choice: {
      const ItemId item = model::item_of(protocol, thing, variant);
      return item ? item_phrase(protocol, item) : "the " + protocol[thing.choice].name;
    }
    case Thing::What::kind: return "the " + protocol[thing.kind].name;
    case Thing::What::site: return site_phrase(protocol[thing.site]);
    case Thing::What::spot: return phrase_of(protocol[thing.spot]);
    case Thing::What::supply: return phrase_of(protocol.supplies[thing.supply.value]);
    case Thing::What::hands: return hands_phrase(protocol, thing, setting);
    case Thing::What::role: return phrase_of(protocol[thing.role]);
  }
  return {};
}

std::string whose(const Protocol& protocol, RoleId who) {
  return !who || who == protocol.acts ? std::string() : fmt::format(" of {}", phrase_of(protocol[who]));
}

struct Clause {
  std::string subject, verb, rest;
};  // "the outer gloves" + "are" + "still on"

Clause worn_clause(const Protocol& protocol, const Variant& variant, const Atom& atom, const Setting& setting) {
  const std::string thing = thing_phrase(protocol, variant, atom.thing, setting);
  return {thing + whose(protocol, atom.who), is_plural(thing) ? "are" : "is", atom.negated ? "off" : "still on"};
}

Clause clause_of(const Protocol& protocol, const Variant& variant, const Atom& atom, const Setting& setting) {
  const std::string no = atom.negated ? "not " : "";
  switch (atom.what) {
    case Atom::What::found:
      return {fmt::format("{}{} on {}", atom.negated ? "no " : "", findings_phrase(protocol, atom.findings),
                          thing_phrase(protocol, variant, atom.thing, {{}, setting.named})),
              "", ""};
    case Atom::What::worn: return worn_clause(protocol, variant, atom, {{}, setting.named});
    case Atom::What::hands_bare: {
      Thing hands;
      hands.what = Thing::What::hands;
      hands.of = atom.who;
      return {hands_phrase(protocol, hands, {}), "are", atom.negated ? "gloved" : "bare"};
    }
    case Atom::What::answer: {
      const auto& decision = protocol[atom.decision];
      const std::string answer = atom.answer < decision.answers.size() ? decision.answers[atom.answer] : std::string();
      return {fmt::format("{}: {}{}", decision.name, no, answer), "", ""};
    }
    case Atom::What::declared: return {protocol.marks[atom.mark.value].name, "was", no + "declared"};
    case Atom::What::recorded: return {phrase_of(protocol.records[atom.record.value]), "was", no + "recorded"};
    case Atom::What::in_zone:
      return {atom.who && atom.who != protocol.acts ? phrase_of(protocol[atom.who]) : std::string("you"),
              atom.who && atom.who != protocol.acts ? "is" : "are",
              fmt::format("{}in {}", no, phrase_of(protocol[atom.zone]))};
  }
  return {};
}

std::string said(const Clause& clause) {
  return clause.verb.empty() ? clause.subject : fmt::format("{} {} {}", clause.subject, clause.verb, clause.rest);
}

}  // namespace

std::string capitalised(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

std::string joined(const std::vector<std::string>& parts, const char* last_joint) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += i + 1 == parts.size() ? last_joint : ", ";
    text += parts[i];
  }
  return text;
}

bool same_thing(const Thing& a, const Thing& b) {
  return a.what == b.what && a.item == b.item && a.choice == b.choice && a.kind == b.kind && a.site == b.site &&
         a.spot == b.spot && a.supply == b.supply && a.role == b.role && a.of == b.of && a.part == b.part;
}

std::string item_phrase(const Protocol& protocol, ItemId item) { return phrase_of(protocol[item]); }

std::string thing_phrase(const Protocol& protocol, const Variant& variant, const Thing& thing, const Setting& setting) {
  for (const Thing& named : setting.named) {
    if (same_thing(named, thing)) return "it";
  }
  const std::string whole = whole_phrase(protocol, variant, thing, setting);
  const std::string of = thing.what == Thing::What::hands ? std::string() : whose(protocol, thing.of);
  return (thing.part.empty() ? whole : fmt::format("the {} of {}", thing.part, whole)) + of;
}

std::string condition_phrase(const Protocol& protocol, const Variant& variant, const model::Condition& condition,
                             const Setting& setting) {
  std::vector<std::string> parts;
  for (const Atom& atom : condition.atoms) parts.push_back(said(clause_of(protocol, variant, atom, setting)));
  return joined(parts, condition.all ? " and " : " or ");
}

std::string question_phrase(const Protocol& protocol, const Variant& variant, const model::Condition& condition,
                            const Setting& setting) {
  if (condition.atoms.size() == 1) {
    const Clause clause = clause_of(protocol, variant, condition.atoms[0], setting);
    if (!clause.verb.empty()) return capitalised(fmt::format("{} {} {}?", clause.verb, clause.subject, clause.rest));
  }
  return capitalised(condition_phrase(protocol, variant, condition, setting)) + "?";
}

std::string duration_phrase(model::Duration time) {
  const std::uint32_t hours = time.seconds / 3600, minutes = time.seconds % 3600 / 60, seconds = time.seconds % 60;
  std::vector<std::string> parts;
  if (hours) parts.push_back(fmt::format("{} h", hours));
  if (minutes) parts.push_back(fmt::format("{} min", minutes));
  if (seconds || parts.empty()) parts.push_back(fmt::format("{} s", seconds));
  std::string text;
  for (const auto& part : parts) text += (text.empty() ? "" : " ") + part;
  return text;
}

std::string length_phrase(const model::Line& line) {
  std::string text = line.at_least ? "at least " + duration_phrase(*line.at_least) : "";
  if (line.at_most) text += (text.empty() ? "at most " : ", at most ") + duration_phrase(*line.at_most);
  return text;
}

}  // namespace stepward::wording
