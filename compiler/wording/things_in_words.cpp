// Things, questions and times in words: the second half of step_text.hpp.

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "model/variants.hpp"
#include "wording/act_phrases.hpp"
#include "wording/messages.hpp"
#include "wording/phrases.hpp"
#include "wording/step_text.hpp"

namespace stepward::wording {

using model::Atom;
using model::ItemId;
using model::Protocol;
using model::RoleId;
using model::Thing;
using model::Variant;

namespace {

constexpr std::size_t most_layers = 3;  // more say no more than nothing

/// Outermost things first, as they are declared last; bare hands, which have no item, come last of all.
std::string layers_phrase(const Protocol& protocol, std::vector<ItemId> layers) {
  std::sort(layers.begin(), layers.end(), [](ItemId a, ItemId b) { return a && b ? a.value > b.value : bool(a) && !b; });
  std::vector<std::string> names;
  for (const ItemId layer : layers) names.push_back(layer ? protocol[layer].name : phrase(protocol.tongue, Phrase::bare));
  return any_of(protocol.tongue, names);
}

std::string hands_phrase(const Protocol& protocol, const Thing& thing, const Setting& setting) {
  const RoleId whose = thing.of || !setting.of_acts ? thing.of : protocol.acts;
  const bool of_reader = !whose || (whose == protocol.acts && !setting.by_name);
  const std::string hands = of_reader ? phrase(protocol.tongue, Phrase::your_hands)
                                      : phrase(protocol.tongue, Phrase::hands_of, {{"person", called(protocol.tongue, protocol[whose])}});
  if (setting.hands.empty() || setting.hands.size() > most_layers) return hands;
  return phrase(protocol.tongue, Phrase::hands_with_layer, {{"hands", hands}, {"layer", layers_phrase(protocol, setting.hands)}});
}

/// Bare hands of whoever does not read this: whoever looks at them would take "your bare hands" for her own.
bool is_somebodys_hands(const Protocol& protocol, const Thing& thing, const Setting& setting) {
  return thing.what == Thing::What::site && protocol[thing.site].is_hands && setting.by_name && protocol.acts;
}

std::string site_phrase(const Protocol& protocol, const Thing& thing, const Setting& setting) {
  const model::Site& site = protocol[thing.site];
  if (is_somebodys_hands(protocol, thing, setting)) {
    const RoleId whose = thing.of ? thing.of : protocol.acts;
    return phrase(protocol.tongue, Phrase::layer_of, {{"person", called(protocol.tongue, protocol[whose])}, {"layer", site.name}});
  }
  if (!site.called.empty() || !site.is_hands) return called(protocol.tongue, site);
  return phrase(protocol.tongue, Phrase::your_layer, {{"layer", site.name}});
}

std::string whole_phrase(const Protocol& protocol, const Variant& variant, const Thing& thing, const Setting& setting) {
  const auto the = [&](const std::string& name) { return phrase(protocol.tongue, Phrase::the_thing, {{"name", name}}); };
  switch (thing.what) {
    case Thing::What::item: return item_phrase(protocol, thing.item, setting.anew);
    case Thing::What::choice: {
      const ItemId item = model::item_of(protocol, thing, variant);
      return item ? item_phrase(protocol, item, setting.anew) : the(protocol[thing.choice].name);
    }
    case Thing::What::kind: return the(protocol[thing.kind].name);
    case Thing::What::site: return site_phrase(protocol, thing, setting);
    case Thing::What::spot: return called(protocol.tongue, protocol[thing.spot]);
    case Thing::What::supply: return called(protocol.tongue, protocol.supplies[thing.supply.value]);
    case Thing::What::hands: return hands_phrase(protocol, thing, setting);
    case Thing::What::role: return called(protocol.tongue, protocol[thing.role]);
  }
  return {};
}

/// A surface by what a paper calls it.
std::string part_name(const Protocol& protocol, const Variant& variant, const Thing& thing) {
  if (const ItemId item = model::item_of(protocol, thing, variant)) {
    for (const model::Surface& surface : protocol[item].surfaces) {
      if (surface.name == thing.part && !surface.called.empty()) return surface.called;
    }
  }
  return thing.part;
}

std::string of_whom(const Protocol& protocol, std::string thing, RoleId who) {
  if (!who || who == protocol.acts) return thing;
  return phrase(protocol.tongue, Phrase::thing_of_person, {{"thing", thing}, {"person", called(protocol.tongue, protocol[who])}});
}

/// What a question is about, as a clause and as the question; the second is empty where only the clause can be asked.
struct AtomInWords {
  std::string said, asked;
};

AtomInWords clause(const Protocol& protocol, Phrase said, std::initializer_list<Gap> gaps) {
  return {phrase(protocol.tongue, said, gaps), {}};
}

AtomInWords clause(const Protocol& protocol, Phrase said, Phrase asked, std::initializer_list<Gap> gaps) {
  return {phrase(protocol.tongue, said, gaps), phrase(protocol.tongue, asked, gaps)};
}

/// Whether a thing takes "are". In a translation the name as it was written tells: endings of other languages say nothing.
bool is_several(const Protocol& protocol, const Variant& variant, const Thing& thing, const std::string& said) {
  const ItemId item = model::item_of(protocol, thing, variant);
  if (said == phrase(protocol.tongue, Phrase::it)) return false;
  return is_plural(item && thing.part.empty() && !protocol[item].in_source.empty() ? protocol[item].in_source : said);
}

AtomInWords worn_clause(const Protocol& protocol, const Variant& variant, const Atom& atom, const Setting& setting) {
  const std::string worn = thing_phrase(protocol, variant, atom.thing, setting);
  const std::string thing = of_whom(protocol, worn, atom.who);
  if (is_several(protocol, variant, atom.thing, worn)) {
    return atom.negated ? clause(protocol, Phrase::are_off, Phrase::ask_are_off, {{"thing", thing}})
                        : clause(protocol, Phrase::are_still_on, Phrase::ask_are_still_on, {{"thing", thing}});
  }
  return atom.negated ? clause(protocol, Phrase::is_off, Phrase::ask_is_off, {{"thing", thing}})
                      : clause(protocol, Phrase::is_still_on, Phrase::ask_is_still_on, {{"thing", thing}});
}

AtomInWords hands_clause(const Protocol& protocol, const Atom& atom, const Setting& setting) {
  Thing thing;
  thing.what = Thing::What::hands;
  thing.of = atom.who;
  const std::string hands = hands_phrase(protocol, thing, setting);
  return atom.negated ? clause(protocol, Phrase::hands_are_gloved, Phrase::ask_hands_gloved, {{"hands", hands}})
                      : clause(protocol, Phrase::hands_are_bare, Phrase::ask_hands_bare, {{"hands", hands}});
}

AtomInWords zone_clause(const Protocol& protocol, const Atom& atom, const Setting& setting) {
  const std::string place = called(protocol.tongue, protocol[atom.zone]);
  const RoleId who = atom.who ? atom.who : protocol.acts;
  if (!who || (who == protocol.acts && !setting.by_name)) {
    return atom.negated ? clause(protocol, Phrase::you_are_not_in, Phrase::ask_you_are_not_in, {{"place", place}})
                        : clause(protocol, Phrase::you_are_in, Phrase::ask_you_are_in, {{"place", place}});
  }
  const std::string person = called(protocol.tongue, protocol[who]);
  return atom.negated ? clause(protocol, Phrase::person_is_not_in, Phrase::ask_person_is_not_in, {{"person", person}, {"place", place}})
                      : clause(protocol, Phrase::person_is_in, Phrase::ask_person_is_in, {{"person", person}, {"place", place}});
}

AtomInWords clause_of(const Protocol& protocol, const Variant& variant, const Atom& atom, const Setting& as_asked) {
  // A question is about who acts, whatever the layers are.
  const Setting setting{{}, as_asked.named, false, as_asked.by_name, as_asked.by_name};
  switch (atom.what) {
    case Atom::What::found:
      return clause(protocol, atom.negated ? Phrase::not_found_on : Phrase::found_on,
                    {{"findings", findings_phrase(protocol, atom.findings)},
                     {"thing", thing_phrase(protocol, variant, atom.thing, setting)}});
    case Atom::What::worn: return worn_clause(protocol, variant, atom, setting);
    case Atom::What::hands_bare: return hands_clause(protocol, atom, setting);
    case Atom::What::answer: {
      const auto& decision = protocol[atom.decision];
      const std::string answer = atom.answer < decision.answers.size() ? decision.answers[atom.answer] : std::string();
      return clause(protocol, atom.negated ? Phrase::answer_is_not : Phrase::answer_is, {{"decision", decision.name}, {"answer", answer}});
    }
    case Atom::What::declared: {
      const std::string& mark = protocol.marks[atom.mark.value].name;
      return atom.negated ? clause(protocol, Phrase::was_not_declared, Phrase::ask_not_declared, {{"mark", mark}})
                          : clause(protocol, Phrase::was_declared, Phrase::ask_declared, {{"mark", mark}});
    }
    case Atom::What::recorded: {
      const model::Named& named = protocol.records[atom.record.value];
      const std::string record = called(protocol.tongue, named);
      if (is_plural(named.in_source.empty() ? named.name : named.in_source))
        return atom.negated ? clause(protocol, Phrase::were_not_recorded, Phrase::ask_were_not_recorded, {{"record", record}})
                            : clause(protocol, Phrase::were_recorded, Phrase::ask_were_recorded, {{"record", record}});
      return atom.negated ? clause(protocol, Phrase::was_not_recorded, Phrase::ask_not_recorded, {{"record", record}})
                          : clause(protocol, Phrase::was_recorded, Phrase::ask_recorded, {{"record", record}});
    }
    case Atom::What::in_zone: return zone_clause(protocol, atom, setting);
  }
  return {};
}

}  // namespace

std::string capitalised(std::string text) { return text::capitalised(text); }

std::string joined(const std::vector<std::string>& parts, const char* last_joint) {
  std::string text;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) text += i + 1 == parts.size() ? last_joint : ", ";
    text += parts[i];
  }
  return text;
}

namespace {

std::string in_a_row(const model::Tongue& tongue, const std::vector<std::string>& parts, Phrase last_two) {
  if (parts.size() < 2) return parts.empty() ? std::string() : parts.front();
  std::string first = parts.front();
  for (std::size_t i = 1; i + 1 < parts.size(); ++i) first += ", " + parts[i];
  return phrase(tongue, last_two, {{"first", first}, {"last", parts.back()}});
}

}  // namespace

std::string all_of(const model::Tongue& tongue, const std::vector<std::string>& parts) { return in_a_row(tongue, parts, Phrase::both); }
std::string any_of(const model::Tongue& tongue, const std::vector<std::string>& parts) { return in_a_row(tongue, parts, Phrase::either); }

std::string called(const model::Tongue& tongue, const model::Named& named) {
  return named.called.empty() ? phrase(tongue, Phrase::the_thing, {{"name", named.name}}) : named.called;
}

bool same_thing(const Thing& a, const Thing& b) {
  return a.what == b.what && a.item == b.item && a.choice == b.choice && a.kind == b.kind && a.site == b.site &&
         a.spot == b.spot && a.supply == b.supply && a.role == b.role && a.of == b.of && a.part == b.part;
}

std::string item_phrase(const Protocol& protocol, ItemId item, bool anew) {
  return anew ? phrase(protocol.tongue, Phrase::the_new_thing, {{"name", protocol[item].name}}) : called(protocol.tongue, protocol[item]);
}

std::string thing_phrase(const Protocol& protocol, const Variant& variant, const Thing& thing, const Setting& setting) {
  for (const Thing& named : setting.named) {
    if (same_thing(named, thing)) return phrase(protocol.tongue, Phrase::it);
  }
  std::string whole = whole_phrase(protocol, variant, thing, setting);
  if (!thing.part.empty()) whole = phrase(protocol.tongue, Phrase::part_of_thing, {{"part", part_name(protocol, variant, thing)}, {"thing", whole}});
  return thing.what == Thing::What::hands || is_somebodys_hands(protocol, thing, setting) ? whole : of_whom(protocol, whole, thing.of);
}

std::string condition_phrase(const Protocol& protocol, const Variant& variant, const model::Condition& condition,
                             const Setting& setting) {
  std::vector<std::string> parts;
  for (const Atom& atom : condition.atoms) parts.push_back(clause_of(protocol, variant, atom, setting).said);
  return condition.all ? all_of(protocol.tongue, parts) : any_of(protocol.tongue, parts);
}

namespace {

/// "was exposure declared" of "Was exposure declared?": a question that can stand beside another in one sentence. One that is not said in the
/// paper's language yet stays whole, with the signs that say so.
std::string bare_question(const model::Tongue& tongue, const std::string& question) {
  const std::string marks = phrase(tongue, Phrase::question_mark, {{"question", "\n"}});
  const std::string opens = marks.substr(0, marks.find('\n')), closes = marks.substr(opens.size() + 1);
  const bool is_marked = question.size() > opens.size() + closes.size() && question.rfind(opens, 0) == 0 && question.compare(question.size() - closes.size(), std::string::npos, closes) == 0;
  if (!is_marked) return question;
  std::string bare = question.substr(opens.size(), question.size() - opens.size() - closes.size());
  if (bare[0] >= 'A' && bare[0] <= 'Z') bare[0] = static_cast<char>(bare[0] - 'A' + 'a');
  return bare;
}

}  // namespace

std::string question_phrase(const Protocol& protocol, const Variant& variant, const model::Condition& condition,
                            const Setting& setting) {
  std::vector<std::string> asked;
  for (const Atom& atom : condition.atoms) {
    const std::string question = clause_of(protocol, variant, atom, setting).asked;
    if (!question.empty()) asked.push_back(question);
  }
  if (asked.size() == 1 && condition.atoms.size() == 1) return capitalised(asked[0]);
  if (asked.size() == condition.atoms.size()) {
    for (std::string& each : asked) each = bare_question(protocol.tongue, each);
    const std::string together = condition.all ? all_of(protocol.tongue, asked) : any_of(protocol.tongue, asked);
    return phrase(protocol.tongue, Phrase::question_mark, {{"question", capitalised(together)}});
  }
  return phrase(protocol.tongue, Phrase::question_mark, {{"question", capitalised(condition_phrase(protocol, variant, condition, setting))}});
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

std::string length_phrase(const model::Tongue& tongue, const model::Line& line) {
  const std::string least = line.at_least ? duration_phrase(*line.at_least) : std::string();
  const std::string most = line.at_most ? duration_phrase(*line.at_most) : std::string();
  if (line.at_least && line.at_most) return phrase(tongue, Phrase::at_least_at_most, {{"least", least}, {"most", most}});
  if (line.at_least) return phrase(tongue, Phrase::at_least, {{"time", least}});
  return line.at_most ? phrase(tongue, Phrase::at_most, {{"time", most}}) : std::string();
}

}  // namespace stepward::wording
