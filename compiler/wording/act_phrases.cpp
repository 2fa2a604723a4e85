#include "wording/act_phrases.hpp"

#include <cctype>

#include <fmt/format.h>

#include "model/variants.hpp"

namespace stepward::wording {

using model::Line;
using model::Protocol;
using model::Thing;
using model::Variant;
using model::VerbKind;

namespace {

std::string upper(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

std::string phrase(const model::Named& named, const char* article) {
  return named.called.empty() ? article + named.name : named.called;
}

std::string things_phrase(const Protocol& protocol, const Variant& variant, const Line& line, const Setting& setting) {
  std::vector<std::string> parts;
  for (const Thing& thing : line.things) parts.push_back(thing_phrase(protocol, variant, thing, setting));
  return joined(parts, " and ");
}

/// "for the wearer": whose equipment it is, where that is not the doer's own.
std::string of_somebody(const Protocol& protocol, const Line& line, const char* joint) {
  if (!line.of || line.of == line.who) return {};
  return fmt::format(" {} {}", joint, phrase(protocol[line.of], "the "));
}

std::string names_of(const std::vector<model::RecordId>& ids, const Protocol& protocol) {
  std::vector<std::string> parts;
  for (const auto id : ids) parts.push_back(protocol.records[id.value].name);
  return joined(parts, " and ");
}

std::string wait_phrase(const Line& line) {
  return line.wait_contact_time ? std::string("until the contact time is over") : duration_phrase(line.wait);
}

// The verbs that cards print in two words; the first letter of a sentence is found without them otherwise.
constexpr const char* two_word_verbs[] = {"take off", "put on", "stand still", "hold still", "sit down"};

struct Participle {
  const char* verb;
  const char* said;
};
constexpr Participle participles[] = {
    {"PUT ON", "Putting on"}, {"TAKE OFF", "Taking off"}, {"DISINFECT", "Disinfecting"},
    {"CLEAN", "Cleaning"},    {"TEST", "Testing"},        {"GO", "Going"},
    {"WIPE", "Wiping"},       {"TAKE", "Taking"},         {"MOVE", "Moving"}};

}  // namespace

std::string findings_phrase(const Protocol& protocol, const std::vector<model::FindingId>& findings) {
  std::vector<std::string> parts;
  for (const auto id : findings) parts.push_back(phrase(protocol[id], ""));
  return joined(parts, " or ");
}

std::string counted_phrase(const Protocol& protocol, const Variant& variant, std::uint32_t count, const Thing& thing) {
  std::string name, unit;
  if (thing.what == Thing::What::supply) {
    name = protocol.supplies[thing.supply.value].name;
    unit = protocol.supplies[thing.supply.value].counted_by;
  } else if (const auto item = model::item_of(protocol, thing, variant)) {
    name = protocol[item].name;
    for (const auto kind : protocol[item].kinds) {
      if (unit.empty()) unit = protocol[kind].counted_by;
    }
  } else {
    name = thing_phrase(protocol, variant, thing, {});
  }
  if (unit.empty() || unit == "each") return fmt::format("{} {}", count, name);
  return fmt::format("{} {}{} of {}", count, unit, count == 1 ? "" : "s", name);
}

Act act_from_text(const std::string& whole) {
  // One sentence stands without its stop, as the acts made from the model do.
  const bool one_sentence = !whole.empty() && whole.find('.') == whole.size() - 1;
  const std::string text = one_sentence ? whole.substr(0, whole.size() - 1) : whole;
  const std::string start = lower(text.substr(0, 16));
  for (const char* verb : two_word_verbs) {
    const std::string two = verb;
    if (start.rfind(two, 0) == 0 &&
        (text.size() == two.size() || !std::isalnum(static_cast<unsigned char>(text[two.size()])))) {
      const std::size_t rest = two.size() + (text.size() > two.size() && text[two.size()] == ' ' ? 1 : 0);
      return {upper(two), text.substr(rest)};
    }
  }
  const std::size_t end = text.find_first_of(" ,;:.");
  if (end == std::string::npos) return {upper(text), {}};
  return {upper(text.substr(0, end)), text.substr(text[end] == ' ' ? end + 1 : end)};
}

Act act_phrase(const Protocol& protocol, const Variant& variant, const Line& line, const Setting& setting) {
  const std::string things = things_phrase(protocol, variant, line, setting);
  switch (line.verb) {
    case VerbKind::don: return {"PUT ON", things + of_somebody(protocol, line, "for")};
    case VerbKind::doff:
      return {"TAKE OFF", things + (line.together ? " together" : "") + of_somebody(protocol, line, "of")};
    case VerbKind::disinfect:
      return {"DISINFECT", line.agent ? fmt::format("{} with {}", things, protocol[line.agent].name) : things};
    case VerbKind::clean: return {"CLEAN", "soil from " + things};
    case VerbKind::inspect:
      return {"LOOK", fmt::format("at {} for {}", things, findings_phrase(protocol, line.findings))};
    case VerbKind::test: return {"TEST", things};
    case VerbKind::decide:
      return {"DECIDE",
              fmt::format("{}: {}", protocol[line.decision].name, joined(protocol[line.decision].answers, " or "))};
    case VerbKind::declare: return {"DECLARE", protocol.marks[line.mark.value].name};
    case VerbKind::record: return {"RECORD", names_of(line.records, protocol)};
    case VerbKind::report:
      return {"REPORT", fmt::format("“{}” to {}", line.text, protocol.recipients[line.recipient.value].name)};
    case VerbKind::call: return {"CALL", fmt::format("“{}”", line.text)};
    case VerbKind::take:
      return {"TAKE",
              line.things.empty() ? std::string() : counted_phrase(protocol, variant, line.count, line.things[0])};
    case VerbKind::pass:
      return {"PASS", line.things.empty()
                          ? std::string()
                          : fmt::format("{} to {}", counted_phrase(protocol, variant, line.count, line.things[0]),
                                        phrase(protocol[line.to], "the "))};
    case VerbKind::act: return act_from_text(line.text);
    case VerbKind::move: return {"GO", "to " + phrase(protocol[line.zone], "the ")};
    case VerbKind::wait: return {"WAIT", wait_phrase(line)};
    case VerbKind::start_timer: return {"START", "the timer: " + protocol[line.timer].name};
    case VerbKind::stop_timer: return {"STOP", "the timer: " + protocol[line.timer].name};
  }
  return {};
}

std::string echo_phrase(const Act& act) {
  std::string said = capitalised(lower(act.verb));
  for (const Participle& participle : participles) {
    if (act.verb == participle.verb) said = participle.said;
  }
  std::string echo =
      act.rest.empty() || act.rest[0] == ',' || act.rest[0] == '.' ? said + act.rest : said + " " + act.rest;
  for (std::size_t at = echo.find("your "); at != std::string::npos; at = echo.find("your ", at))
    echo.replace(at, 4, "my");
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
