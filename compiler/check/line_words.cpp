// A line of the protocol as one clause of a story.

#include <algorithm>

#include <fmt/format.h>

#include "check/stories.hpp"
#include "model/variants.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using model::VerbKind;

// "the neck band of the plastic apron of the helper"; hands and bare parts of the body go without an article.
std::string thing_name(const model::Protocol& p, const model::Variant& variant, const model::Thing& t) {
  using W = model::Thing::What;
  const std::string of = t.of && t.of != p.acts ? " of " + p[t.of].name : "";
  const std::string the = t.part.empty() ? "the " : "the " + t.part + " of the ";
  switch (t.what) {
    case W::item: return the + p[t.item].name + of;
    case W::choice: {
      const model::ItemId item = model::item_of(p, t, variant);
      return the + (item ? p[item].name : p[t.choice].name) + of;
    }
    case W::kind: return the + p[t.kind].name + of;
    case W::site: return (p[t.site].is_hands ? "" : "the ") + p[t.site].name + of;
    case W::spot: return "the " + p[t.spot].name;
    case W::supply: return p.supplies[t.supply.value].name;
    case W::hands: return "hands" + of;
    case W::role: return p[t.role].name;
  }
  return {};
}

std::string things_of(const model::Protocol& p, const model::Variant& variant, const model::Line& line) {
  std::string out;
  for (std::size_t i = 0; i < line.things.size(); ++i) {
    if (i > 0) out += i + 1 == line.things.size() ? " and " : ", ";
    out += thing_name(p, variant, line.things[i]);
  }
  return out;
}

/// "the wearer's hands": to whoever reads "observer looks at hands", these are the observer's own.
std::string whose(const model::Protocol& p, const model::Line& line, const std::string& things) {
  using W = model::Thing::What;
  const auto is_of_acts = [&](const model::Thing& t) { return (!t.of || t.of == p.acts) && (t.what == W::hands || t.what == W::item || t.what == W::choice || t.what == W::site); };
  if (!std::all_of(line.things.begin(), line.things.end(), is_of_acts)) return things;
  const std::string rest = things.rfind("the ", 0) == 0 ? things.substr(4) : things;
  return fmt::format("the {}'s {}", p[p.acts].name, rest);
}

std::string records_of(const model::Protocol& p, const model::Line& line) {
  std::string out;
  for (std::size_t i = 0; i < line.records.size(); ++i)
    out += (i ? " and " : "") + p.records[line.records[i].value].name;
  return out;
}

/// The first words of what is read aloud, its first sentences if they are short; the whole would not leave room for what happens.
std::string opening(const std::string& text) {
  if (wording::count_words(text) <= 8) return text;
  std::size_t end = 0;
  for (std::size_t stop = text.find(". "); stop != std::string::npos && wording::count_words(text.substr(0, stop)) <= 8; stop = text.find(". ", stop + 1)) end = stop + 1;
  if (end > 0) return text.substr(0, end) + " …";
  std::size_t at = 0;
  for (int words = 0; words < 6 && at != std::string::npos; ++words) at = text.find(' ', at == 0 ? 0 : at + 1);
  return at == std::string::npos ? text : text.substr(0, at) + " …";
}

}  // namespace

std::string deed_in_words(const model::Protocol& p, const model::Line& line) {
  return fmt::format("{} does “{}”", p[line.who].name, opening(line.text.empty() ? line.details.say : line.text));
}

std::string line_in_words(const model::Protocol& p, const model::Variant& variant, const model::Line& line) {
  const std::string who = p[line.who].name;
  const std::string things = things_of(p, variant, line);
  const std::string of = line.of && line.of != line.who ? " of " + p[line.of].name : "";
  switch (line.verb) {
    case VerbKind::don: return fmt::format("{} puts on {}{}", who, things, of);
    case VerbKind::doff: return fmt::format("{} takes off {}{}", who, things, of);
    case VerbKind::disinfect: return fmt::format("{} disinfects {}", who, things);
    case VerbKind::clean: return fmt::format("{} cleans soil from {}", who, things);
    case VerbKind::inspect: return fmt::format("{} looks at {}", who, line.who == p.acts ? things : whose(p, line, things));
    case VerbKind::test: return fmt::format("{} tests {}", who, things);
    case VerbKind::decide: return fmt::format("{} decides {}", who, p[line.decision].name);
    case VerbKind::declare: return fmt::format("{} declares {}", who, p.marks[line.mark.value].name);
    case VerbKind::record: return fmt::format("{} writes down {}", who, records_of(p, line));
    case VerbKind::report:
      return fmt::format("{} reports to {}", who, line.recipient ? p.recipients[line.recipient.value].name : "someone");
    case VerbKind::call: return fmt::format("{} calls for help", who);
    case VerbKind::take: return fmt::format("{} takes {}", who, things);
    case VerbKind::pass: return fmt::format("{} passes {} to {}", who, things, p[line.to].name);
    case VerbKind::act:
      return things.empty() ? deed_in_words(p, line) : fmt::format("{} touches {}", who, things);
    case VerbKind::move: return fmt::format("{} goes to the {}", who, p[line.zone].name);
    case VerbKind::wait: return fmt::format("{} waits{}", who, line.wait_contact_time ? " for the contact time" : "");
    case VerbKind::start_timer: return fmt::format("{} starts the timer {}", who, p[line.timer].name);
    case VerbKind::stop_timer: return fmt::format("{} stops the timer {}", who, p[line.timer].name);
  }
  return {};
}

}  // namespace stepward::check
