#include "check/slip_story_words.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "check/stories.hpp"
#include "wording/messages.hpp"
#include "wording/slips.hpp"
#include "wording/story.hpp"

namespace stepward::check {

using diagnostics::Code;
using effects::FieldMeaning;
using graph::SlipKind;
using model::VerbKind;
using Cause = effects::Cause::What;
using Thing = model::Thing::What;

std::string SlipStoryWords::words_of(const model::Line& line, std::uint32_t step) const {
  if (is_in_own_words(line)) return deed_in_words(p_, line);
  if (line.verb == VerbKind::decide && !line.details.say.empty()) return fmt::format("{} answers “{}”", p_[line.who].name, line.details.say);
  std::string words = line_in_words(p_, graph_.variant, line);
  const std::string on_the = " puts on the ";
  const std::size_t at = words.find(on_the);
  if (line.verb == VerbKind::don && at != std::string::npos && was_taken_off(line, step)) words.replace(at, on_the.size(), " puts on new ");
  return words;
}

bool SlipStoryWords::was_taken_off(const model::Line& line, std::uint32_t before) const {
  for (const effects::Bearer& worn : run_.things_of(line))
    for (std::uint32_t step = 1; step < before && worn.item && !p_[worn.item].reusable; ++step) {
      const model::LineId off = run_.line_at(step);
      if (off && p_[off].verb == VerbKind::doff && run_.is_about(off, worn)) return true;
    }
  return false;
}

std::string SlipStoryWords::outcome_of(SlipKind slip, const model::Line& line) const {
  if (slip != SlipKind::cut_short) return "";
  if (line.verb == VerbKind::disinfect && is_of_hands(line)) return "rubbed too briefly, so they count as not disinfected";
  if (line.verb != VerbKind::disinfect && !line.wait_contact_time) return "";
  const std::vector<effects::Bearer> things = run_.things_of(line);
  const std::string what = things.empty() ? "it" : wording::bearer_name(p_, things.front());
  return fmt::format("{} {} as not disinfected; later steps may take long enough, nobody makes sure", what, wording::is_plural(what) ? "count" : "counts");
}

std::vector<std::string> SlipStoryWords::what_follows(SlipKind slip, const model::Line& line) const {
  if (slip == SlipKind::left_out) return left_undone(line);
  const std::string outcome = outcome_of(slip, line);
  return outcome.empty() ? std::vector<std::string>() : std::vector<std::string>{outcome};
}

/// The question that asks for the mark or the record, and the steps that are done only where it finds it.
std::vector<std::string> SlipStoryWords::left_undone(const model::Line& line) const {
  if (line.verb != VerbKind::record && line.verb != VerbKind::declare) return {};
  const auto asks = [&](const model::Atom& atom) {
    if (atom.negated) return false;
    if (atom.what == model::Atom::What::declared) return line.verb == VerbKind::declare && atom.mark == line.mark;
    return atom.what == model::Atom::What::recorded && std::find(line.records.begin(), line.records.end(), atom.record) != line.records.end();
  };
  for (const graph::Run& run : course_.runs)
    for (const graph::Entry& question : run.entries)
      for (const graph::Fork& arm : question.forks) {
        if (!arm.run || std::none_of(arm.condition.atoms.begin(), arm.condition.atoms.end(), asks)) continue;
        std::vector<std::string> out{arm.label.empty() ? "so these are not done:" : fmt::format("{} is answered no, so these are not done:", arm.label)};
        for (const graph::Entry& step : course_[arm.run].entries)
          if (step.what == graph::Entry::What::step) out.push_back(fmt::format("({}) {}", step.label, words_of(p_[step.line], 0)));
        if (out.size() > 1) return out;
      }
  return {std::string(wording::not_gone_by)};
}

bool SlipStoryWords::is_of_hands(const model::Line& line) const {
  return std::any_of(line.things.begin(), line.things.end(), [&](const model::Thing& t) { return t.what == Thing::hands || (t.what == Thing::site && p_[t.site].is_hands); });
}

std::string SlipStoryWords::waited_for(const explore::StoryStep& step) const {
  const model::Line& wait = p_[graph_[step.node].line];
  for (std::uint32_t earlier = step.number; earlier-- > 1;) {
    const model::LineId line = run_.line_at(earlier);
    const bool wets = line && p_[line].verb == VerbKind::disinfect && p_[line].who == wait.who && p_[line].without_waiting;
    if (wets && run_.is_about(line, report_.thing) && !run_.card(line).empty()) return " of " + run_.card(line);
  }
  return "";
}

std::optional<std::string> SlipStoryWords::said_beside(model::LineId line, bool overlooked) const {
  const VerbKind verb = p_[line].verb;
  const bool is_of_it = run_.is_about(line, report_.thing);
  if (report_.code == Code::P106 && verb == VerbKind::disinfect && is_of_it) return "";
  if (is_carried_on() && verb == VerbKind::inspect && is_of_it) return ": such dirt need not show";
  if (verb == VerbKind::declare) return overlooked ? ": what was missed is taken for clean" : "";
  return std::nullopt;
}

/// A part of the body that dirt reaches, or that touches dirt; null: the finding is about none.
const effects::Bearer* SlipStoryWords::bared() const {
  const effects::Bearer& bare = report_.code == Code::P102 ? report_.other : report_.thing;
  const bool is_site = bare.what == effects::Bearer::What::site && bare.site;
  return is_site && (report_.code == Code::P102 || (report_.code == Code::P103 && !p_[bare.site].is_hands)) ? &bare : nullptr;
}

bool SlipStoryWords::bares_what_is_reached(const explore::Change& change) const {
  const FieldMeaning& off = system_.fields[change.field.value].meaning;
  const effects::Bearer* bare = bared();
  if (!bare) return false;
  if (system_.causes[change.cause].what != Cause::leaves || off.what != FieldMeaning::What::worn || !off.bearer.item) return false;
  const auto& covers = p_[off.bearer.item].worn_on;
  return std::find(covers.begin(), covers.end(), bare->site) != covers.end();
}

std::string SlipStoryWords::is_bare_now() const {
  if (p_[bared()->site].is_hands) return "the hands are bare from here";
  const std::string name = wording::bearer_name(p_, *bared());
  return fmt::format("the {} {} uncovered from here", name, wording::is_plural(name) ? "are" : "is");
}

bool SlipStoryWords::is_carried_on() const {
  return report_.has_thing && (report_.code == Code::P201 || report_.code == Code::P602 || report_.code == Code::P703);
}

bool SlipStoryWords::is_carried_unseen(const explore::Story& story) const {
  using Label = effects::EdgeLabel::What;
  return is_carried_on() && std::any_of(story.steps.begin(), story.steps.end(), [&](const explore::StoryStep& step) {
    const bool is_seen = step.edge < system_.edges.size() && system_.edges[step.edge].label.what == Label::looked;
    return !is_seen && std::any_of(step.changes.begin(), step.changes.end(), [&](const explore::Change& c) {
      return system_.causes[c.cause].what == Cause::torn && system_.fields[c.field.value].meaning.bearer == report_.thing;
    });
  });
}

std::string SlipStoryWords::what_nobody_does() const {
  const effects::Bearer& b = report_.thing;
  const bool is_mucous = b.what == effects::Bearer::What::site && b.site && p_[b.site].nature == model::SiteNature::mucous;
  return is_mucous ? "nobody knows of it, so no first aid is given" : "nobody knows of it, so nothing is done about it";
}

}  // namespace stepward::check
