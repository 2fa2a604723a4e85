#include "wording/act_phrases.hpp"

#include <cctype>

#include "base/text.hpp"
#include "model/variants.hpp"
#include "wording/phrases.hpp"

namespace stepward::wording {

using model::Line;
using model::Protocol;
using model::Thing;
using model::Variant;
using model::VerbKind;

namespace {

std::string things_phrase(const Protocol& protocol, const Variant& variant, const Line& line, const Setting& setting) {
  std::vector<std::string> parts;
  for (const Thing& thing : line.things) parts.push_back(thing_phrase(protocol, variant, thing, setting));
  return all_of(protocol.tongue, parts);
}

/// Who looks at somebody else is not told of "your hands".
std::string looked_at(const Protocol& protocol, const Variant& variant, const Line& line, Setting setting) {
  setting.by_name = line.who != protocol.acts;
  return things_phrase(protocol, variant, line, setting);
}

std::string names_of(const std::vector<model::RecordId>& ids, const Protocol& protocol) {
  std::vector<std::string> parts;
  for (const auto id : ids) parts.push_back(protocol.records[id.value].name);
  return all_of(protocol.tongue, parts);
}

/// What is put on or taken off, and whose it is where that is not the doer's own.
std::string worn_phrase(const Protocol& protocol, const Line& line, const std::string& things, Phrase of_person) {
  const std::string all = line.together && line.verb == VerbKind::doff
                              ? phrase(protocol.tongue, Phrase::things_together, {{"things", things}}) : things;
  if (!line.of || line.of == line.who) return all;
  const std::string person = called(protocol.tongue, protocol[line.of]);
  return phrase(protocol.tongue, of_person, {{of_person == Phrase::thing_of_person ? "thing" : "things", all}, {"person", person}});
}

// The verbs of English that cards print in two words; the first word of a sentence is the verb otherwise.
constexpr const char* two_word_verbs[] = {"take off", "put on", "stand still", "hold still", "sit down"};

struct Participle { Phrase verb, said; };
constexpr Participle participles[] = {
    {Phrase::put_on, Phrase::putting_on}, {Phrase::take_off, Phrase::taking_off}, {Phrase::disinfect, Phrase::disinfecting},
    {Phrase::clean, Phrase::cleaning},    {Phrase::test, Phrase::testing},        {Phrase::go, Phrase::going},
    {Phrase::wipe, Phrase::wiping},       {Phrase::take, Phrase::taking},         {Phrase::move, Phrase::moving}};

/// Whole words only; nothing changes where a language has one word for both.
std::string with_other_owner(std::string text, const std::string& was, const std::string& is) {
  if (was.empty() || was == is) return text;
  for (std::size_t at = text.find(was + ' '); at != std::string::npos; at = text.find(was + ' ', at + is.size())) text.replace(at, was.size(), is);
  return text;
}

bool is_letter_or_digit(const std::string& text, std::size_t at) {
  return at < text.size() && (static_cast<unsigned char>(text[at]) >= 0x80 || std::isalnum(static_cast<unsigned char>(text[at])));
}

}  // namespace

std::string findings_phrase(const Protocol& protocol, const std::vector<model::FindingId>& findings) {
  std::vector<std::string> parts;
  for (const auto id : findings) parts.push_back(protocol[id].called.empty() ? protocol[id].name : protocol[id].called);
  return any_of(protocol.tongue, parts);
}

Counted counted_apart(const Protocol& protocol, const Variant& variant, std::uint32_t count, const Thing& thing) {
  std::string unit, units;
  Counted counted;
  const auto counted_as = [&](const auto& how) {
    unit = how.counted_by;
    units = how.counted_by_several.empty() ? unit + "s" : how.counted_by_several;
  };
  if (thing.what == Thing::What::supply) {
    counted.name = protocol.supplies[thing.supply.value].name;
    counted_as(protocol.supplies[thing.supply.value]);
  } else if (const auto item = model::item_of(protocol, thing, variant)) {
    counted.name = protocol[item].name;
    for (const auto kind : protocol[item].kinds) {
      if (unit.empty()) counted_as(protocol[kind]);
    }
  } else {
    counted.name = thing_phrase(protocol, variant, thing, {});
  }
  counted.count = std::to_string(count);
  if (!unit.empty() && unit != "each") counted.unit = count == 1 ? unit : units;
  return counted;
}

std::string counted_phrase(const Protocol& protocol, const Variant& variant, std::uint32_t count, const Thing& thing, bool anew) {
  const Counted counted = counted_apart(protocol, variant, count, thing);
  if (counted.unit.empty()) return phrase(protocol.tongue, Phrase::counted, {{"count", counted.count}, {"name", counted.name}});
  return phrase(protocol.tongue, anew ? Phrase::counted_new_by_unit : Phrase::counted_by_unit, {{"count", counted.count}, {"unit", counted.unit}, {"name", counted.name}});
}

Act act_from_text(const std::string& whole) {
  // One sentence stands without its stop, as the acts made from the model do.
  const bool one_sentence = !whole.empty() && whole.find('.') == whole.size() - 1;
  const std::string text = one_sentence ? whole.substr(0, whole.size() - 1) : whole;
  const std::string start = text::lower(text.substr(0, 16));
  for (const char* verb : two_word_verbs) {
    const std::string two = verb;
    if (start.rfind(two, 0) == 0 && !is_letter_or_digit(text, two.size())) {
      const std::size_t rest = two.size() + (text.size() > two.size() && text[two.size()] == ' ' ? 1 : 0);
      return {text::upper(two), text.substr(rest)};
    }
  }
  const std::size_t end = text.find_first_of(" ,;:.");
  if (end == std::string::npos) return {text::upper(text), {}};
  return {text::upper(text.substr(0, end)), text.substr(text[end] == ' ' ? end + 1 : end)};
}

Act act_phrase(const Protocol& protocol, const Variant& variant, const Line& line, const Setting& setting) {
  const model::Tongue& tongue = protocol.tongue;
  const std::string things = things_phrase(protocol, variant, line, setting);
  const auto act = [&](Phrase verb, std::string rest) { return Act{phrase(tongue, verb), std::move(rest)}; };
  const auto counted = [&] {
    return line.things.empty() ? std::string() : counted_phrase(protocol, variant, line.count, line.things[0], setting.anew);
  };
  switch (line.verb) {
    case VerbKind::don: return act(Phrase::put_on, worn_phrase(protocol, line, things, Phrase::things_for_person));
    case VerbKind::doff: return act(Phrase::take_off, worn_phrase(protocol, line, things, Phrase::thing_of_person));
    case VerbKind::disinfect:
      if (!line.agent) return act(Phrase::disinfect, things);
      return act(Phrase::disinfect, phrase(tongue, Phrase::things_with_agent, {{"things", things}, {"agent", protocol[line.agent].name}}));
    case VerbKind::clean: return act(Phrase::clean, phrase(tongue, Phrase::soil_from_things, {{"things", things}}));
    case VerbKind::inspect:
      return act(Phrase::look, phrase(tongue, Phrase::at_things_for_findings, {{"things", looked_at(protocol, variant, line, setting)}, {"findings", findings_phrase(protocol, line.findings)}}));
    case VerbKind::test: return act(Phrase::test, things);
    case VerbKind::decide:
      return act(Phrase::decide, phrase(tongue, Phrase::answer_is, {{"decision", protocol[line.decision].name}, {"answer", any_of(tongue, protocol[line.decision].answers)}}));
    case VerbKind::declare: return act(Phrase::declare, protocol.marks[line.mark.value].name);
    case VerbKind::record: return act(Phrase::record, names_of(line.records, protocol));
    case VerbKind::report:
      return act(Phrase::report, phrase(tongue, Phrase::quoted_to_person, {{"text", line.text}, {"person", protocol.recipients[line.recipient.value].name}}));
    case VerbKind::call: return act(Phrase::call, phrase(tongue, Phrase::quoted, {{"text", line.text}}));
    case VerbKind::take: return act(Phrase::take, counted());
    case VerbKind::pass:
      if (line.things.empty()) return act(Phrase::pass, {});
      return act(Phrase::pass, phrase(tongue, Phrase::counted_to_person, {{"counted", counted()}, {"person", called(tongue, protocol[line.to])}}));
    case VerbKind::act: return act_from_text(line.text);
    case VerbKind::move: return act(Phrase::go, phrase(tongue, Phrase::to_place, {{"place", called(tongue, protocol[line.zone])}}));
    case VerbKind::wait: return act(Phrase::wait, line.wait_contact_time ? phrase(tongue, Phrase::until_contact_time_over) : duration_phrase(line.wait));
    case VerbKind::start_timer: return act(Phrase::start, phrase(tongue, Phrase::the_timer, {{"timer", protocol[line.timer].name}}));
    case VerbKind::stop_timer: return act(Phrase::stop, phrase(tongue, Phrase::the_timer, {{"timer", protocol[line.timer].name}}));
  }
  return {};
}

std::string said_of_self(const model::Tongue& tongue, std::string text) { return with_other_owner(std::move(text), phrase(tongue, Phrase::your), phrase(tongue, Phrase::my)); }

std::string said_of_other(const model::Tongue& tongue, std::string text) { return with_other_owner(std::move(text), phrase(tongue, Phrase::your), phrase(tongue, Phrase::own)); }

std::string echo_phrase(const model::Tongue& tongue, const Act& act) {
  std::string said = text::capitalised(text::lower(act.verb));
  for (const Participle& participle : participles) {
    if (act.verb == phrase(tongue, participle.verb)) said = phrase(tongue, participle.said);
  }
  std::string echo = act.rest.empty() || act.rest[0] == ',' || act.rest[0] == '.' ? said + act.rest : said + " " + act.rest;
  echo = said_of_self(tongue, std::move(echo));
  if (!echo.empty() && echo.back() != '.' && echo.back() != '!' && echo.back() != '?') echo += '.';
  return echo;
}

std::string first_sentence(const std::string& text, std::string& rest) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool stop = text[i] == '.' || text[i] == '!' || text[i] == '?';
    if (!stop || (i + 1 < text.size() && text[i + 1] != ' ')) continue;
    rest = i + 2 < text.size() ? text.substr(i + 2) : std::string();
    return text.substr(0, i + 1);
  }
  rest.clear();
  return text;
}

}  // namespace stepward::wording
