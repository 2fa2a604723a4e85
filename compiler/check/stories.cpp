#include "check/stories.hpp"

#include <fmt/format.h>

#include "model/variants.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using effects::EdgeLabel;
using model::VerbKind;

std::string thing_name(const model::Protocol& p, const model::Variant& variant, const model::Thing& t) {
  using W = model::Thing::What;
  const std::string of = t.of && t.of != p.acts ? " of " + p[t.of].name : "";
  const std::string part = t.part.empty() ? "" : t.part + " of ";
  switch (t.what) {
    case W::item: return part + p[t.item].name + of;
    case W::choice: {
      const model::ItemId item = model::item_of(p, t, variant);
      return part + (item ? p[item].name : p[t.choice].name) + of;
    }
    case W::kind: return part + p[t.kind].name + of;
    case W::site: return p[t.site].name + of;
    case W::spot: return p[t.spot].name;
    case W::supply: return p.supplies[t.supply.value].name;
    case W::hands: return "hands" + of;
    case W::role: return p[t.role].name;
  }
  return {};
}

std::string things_of(const model::Protocol& p, const model::Variant& variant, const model::Line& line) {
  std::string out;
  for (std::size_t i = 0; i < line.things.size(); ++i) out += (i ? " and " : "") + thing_name(p, variant, line.things[i]);
  return out;
}

std::string answers(const model::Protocol& p, const model::Variant& variant, const model::Line& line, const EdgeLabel& label) {
  if (label.what == EdgeLabel::What::answered) return p[line.decision].answers[label.answer];
  std::string out;
  std::size_t i = 0;
  for (const model::Thing& t : line.things)
    for (model::FindingId f : line.findings) {
      const bool found = i < label.found.size() && label.found[i];
      ++i;
      if (!found) continue;
      if (!out.empty()) out += ", ";
      out += p[f].name;
      if (line.things.size() > 1) out += " on " + thing_name(p, variant, t);
    }
  return out.empty() ? "nothing found" : out;
}

}  // namespace

std::string line_in_words(const model::Protocol& p, const model::Variant& variant, const model::Line& line) {
  const std::string who = p[line.who].name;
  const std::string things = things_of(p, variant, line);
  const std::string of = line.of && line.of != line.who ? " of " + p[line.of].name : "";
  switch (line.verb) {
    case VerbKind::don: return fmt::format("{} puts on {}{}", who, things, of);
    case VerbKind::doff: return fmt::format("{} takes off {}{}", who, things, of);
    case VerbKind::disinfect: return fmt::format("{} disinfects {}", who, things);
    case VerbKind::clean: return fmt::format("{} cleans soil from {}", who, things);
    case VerbKind::inspect: return fmt::format("{} looks at {}", who, things);
    case VerbKind::test: return fmt::format("{} tests {}", who, things);
    case VerbKind::decide: return fmt::format("{} answers {}", who, p[line.decision].name);
    case VerbKind::declare: return fmt::format("{} declares {}", who, p.marks[line.mark.value].name);
    case VerbKind::record: return fmt::format("{} writes it down", who);
    case VerbKind::report: return fmt::format("{} reports to {}", who, line.recipient ? p.recipients[line.recipient.value].name : "someone");
    case VerbKind::call: return fmt::format("{} calls for help", who);
    case VerbKind::take: return fmt::format("{} takes {}", who, things);
    case VerbKind::pass: return fmt::format("{} passes {} to {}", who, things, p[line.to].name);
    case VerbKind::act: return things.empty() ? fmt::format("{} does as read", who) : fmt::format("{} touches {}", who, things);
    case VerbKind::move: return fmt::format("{} goes to {}", who, p[line.zone].name);
    case VerbKind::wait: return fmt::format("{} waits", who);
  }
  return {};
}

std::vector<diagnostics::StoryLine> story_lines(const model::Protocol& p, const graph::Graph& graph, const effects::System& system,
                                                const explore::Packed& packed, const explore::Story& story, const std::string& last_line,
                                                std::size_t most) {
  std::vector<diagnostics::StoryLine> out;
  for (std::size_t i = 0; i < story.steps.size(); ++i) {
    const explore::StoryStep& step = story.steps[i];
    const bool strike = step.edge >= packed.first_strike;
    const EdgeLabel& label = strike ? system.strikes[step.edge - packed.first_strike].label : system.edges[step.edge].label;
    diagnostics::StoryLine line;
    line.step = std::to_string(step.number);
    if (strike) {
      line.text = fmt::format("“{}” happens here", p[label.interruption].name);
    } else {
      const model::Line& l = p[graph[step.node].line];
      line.text = line_in_words(p, graph.variant, l);
      if (graph[step.node].kind == graph::NodeKind::contact_end) line.text += ", time is up";
      if (label.what != EdgeLabel::What::plain) line.text += ": " + answers(p, graph.variant, l, label);
    }
    // The change that matters most is the last of the step: what the finding was made of.
    std::string why;
    for (const explore::Change& c : step.changes) {
      const std::string sentence = wording::change_sentence(p, system, system.fields[c.field.value].meaning, c.before, c.after, system.causes[c.cause]);
      if (!sentence.empty()) why = sentence;
    }
    const bool last = i + 1 == story.steps.size();
    out.push_back(line);
    if (!why.empty() && !last) out.push_back({"", why, false});
  }
  if (out.size() + 1 > most) {
    const std::size_t keep_front = 3, keep_back = most - keep_front - 2;
    const std::size_t folded = out.size() - keep_front - keep_back;
    std::vector<diagnostics::StoryLine> cut(out.begin(), out.begin() + keep_front);
    cut.push_back({"", fmt::format("… {} lines, nothing else changes this", folded), false});
    cut.insert(cut.end(), out.end() - static_cast<std::ptrdiff_t>(keep_back), out.end());
    out = std::move(cut);
  }
  out.push_back({"", last_line, true});
  return out;
}

}  // namespace stepward::check
