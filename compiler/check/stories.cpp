#include "check/stories.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "check/card_run.hpp"
#include "check/slip_story_words.hpp"
#include "model/variants.hpp"
#include "wording/slips.hpp"
#include "wording/step_text.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using diagnostics::StoryLine;
using effects::EdgeLabel;
using effects::FieldMeaning;

/// Of a run with a slip: what led to it is told from where it is short enough.
constexpr std::size_t most_events_of_slip = 6;

/// Lines of others between a line and the one that is done too early, each with the end of its time.
constexpr std::uint32_t most_before_early = 8;

std::string without_articles(std::string text) {
  for (std::size_t at = text.find("the "); at != std::string::npos; at = text.find("the ", at)) {
    if (at == 0 || text[at - 1] == ' ')
      text.erase(at, 4);
    else
      at += 4;
  }
  return text;
}

/// As it stands, or without articles where it would be too long otherwise.
std::string within_words(const std::string& text) {
  return wording::count_words(text) <= most_words ? text : without_articles(text);
}

/// Whether a finding is that dirt, or what is not sterile, comes where it must not be.
bool is_about_dirt(diagnostics::Code code) {
  using diagnostics::Code;
  static constexpr std::array codes{Code::P101, Code::P102, Code::P103, Code::P104, Code::P105, Code::P106, Code::P107, Code::P201, Code::P602, Code::P703};
  return std::find(codes.begin(), codes.end(), code) != codes.end();
}

// Tells one step after the other; every line remembers its step, so that gaps can be folded at the end.
class Teller {
 public:
  Teller(const model::Protocol& protocol, const graph::Graph& graph, const graph::Course& course,
         const effects::System& system, const explore::Packed& packed, const effects::Report& report, const explore::Story& story)
      : p_(protocol), graph_(graph), course_(course), system_(system), packed_(packed), report_(report), run_(protocol, graph, course, story.passed), beside_(protocol, graph, course, system, run_, report), at_crossing_(!report.line), about_dirt_(is_about_dirt(report.code)) {}

  std::vector<StoryLine> tell(const explore::Story& story, const std::string& headline) {
    has_slip_ = std::any_of(story.steps.begin(), story.steps.end(), [&](const explore::StoryStep& s) { return is_slip(s); });
    for (effects::FieldId f : story.from_the_start) begin_with(system_.fields[f.value].meaning);
    for (const explore::StoryStep& step : story.steps) {
      const bool last = &step == &story.steps.back();
      // The step before a question or an ending has no part in what is found there, unless nothing else can be told.
      const bool idle = last && at_crossing_ && !told_.empty() && step.changes.empty() && !step.told_by_answer;
      if (!idle && (last || !is_no_news(step))) tell_step(step);
    }
    if (slip_ && told_.size() > most_events_of_slip) cut_beginning(story);
    if (slip_) {
      tell_beside();
      tell_looks_passed_over();
    }
    if (told_.size() > most_events && !slip_)
      cut_middle();
    else
      fold_gaps();
    if (slip_) tell_end(story);
    std::vector<StoryLine> out;
    for (Told& t : told_) out.push_back(std::move(t.line));
    out.push_back({"", headline, true});
    return out;
  }

 private:
  struct Told {
    StoryLine line;
    std::uint32_t number = 0;
    bool is_gone_round = false;  ///< told behind that step, and none of the run
  };

  void begin_with(const FieldMeaning& meaning) {
    const std::string text = fmt::format("{} may carry dirt from the start", wording::bearer_name(p_, meaning.bearer));
    const bool again = std::any_of(told_.begin(), told_.end(), [&](const Told& t) { return t.line.text == text; });
    if (!again && told_.size() < 2) told_.push_back({{"", text, false}, 0});
  }

  /// Where dirt came to: that a thing was put on before it was met, was whole at an earlier look, or who walked where, says nothing of it.
  bool is_no_news(const explore::StoryStep& step) const {
    using W = effects::Cause::What;
    if (!about_dirt_ || is_strike(step) || step.told_by_answer || step.over_soil) return false;
    return std::all_of(step.changes.begin(), step.changes.end(), [&](const explore::Change& c) {
      const W why = system_.causes[c.cause].what;
      const FieldMeaning::What what = system_.fields[c.field.value].meaning.what;
      return why == W::moved || what == FieldMeaning::What::worst || (why == W::goes_on && what != FieldMeaning::What::level);
    });
  }

  void tell_step(const explore::StoryStep& step) {
    std::vector<std::string> clauses = clauses_of(step);
    if (step.seconds) clauses.insert(clauses.begin(), (step.at_most ? "at most " : "at least ") + wording::duration_phrase({step.seconds}));
    std::string card;
    Slipped slipped = std::exchange(slipped_, {});
    std::string event = event_of(step, card);
    if (is_slip(step)) {
      for (std::string& outcome : beside_.what_follows(system_.edges[step.edge].label.slip, p_[graph_[step.node].line])) clauses.push_back(std::move(outcome));
    }
    if (!slip_ && is_slip(step)) {
      slip_ = step.number;
      slip_line_ = graph_[step.node].line;
    }
    if (!slipped.line.empty() && event.rfind(slipped.line, 0) == 0) {  // the line, done in another manner
      event = slipped.how + ": " + event;
      if (!slipped.outcome.empty()) clauses.insert(clauses.begin(), slipped.outcome);
      const auto at = told_.begin() + static_cast<std::ptrdiff_t>(slipped.told);
      told_.erase(at, std::find_if(at, told_.end(), [&](const Told& t) { return t.number != slipped.number; }));
    } else if (slipped.is_early && step.number <= slipped.number + most_before_early) {
      slipped_ = std::move(slipped);  // lines of others keep their turn before it
    }
    // A disinfection is two steps, the wetting and the end of its time; a reader knows one.
    const bool same_line = !told_.empty() && told_.back().line.text == within_words(event);
    if (same_line) told_.pop_back();
    std::string together =
        clauses.empty() ? event : within_words(event + (tells_answer(step) ? "; " : ": ") + clauses.front());
    if (wording::count_words(together) > most_words)
      together = within_words(event);
    else if (!clauses.empty())
      clauses.erase(clauses.begin());
    told_.push_back({{card, together, false}, step.number});
    for (const std::string& clause : clauses) told_.push_back({{"", within_words(clause), false}, step.number});
  }

  bool is_slip(const explore::StoryStep& step) const {
    return !is_strike(step) && system_.edges[step.edge].label.what == EdgeLabel::What::slips;
  }
  bool is_strike(const explore::StoryStep& step) const { return step.edge >= packed_.first_strike; }
  bool tells_answer(const explore::StoryStep& step) const {
    if (is_strike(step)) return false;
    const EdgeLabel::What what = system_.edges[step.edge].label.what;
    return what == EdgeLabel::What::looked || what == EdgeLabel::What::answered;
  }

  std::string event_of(const explore::StoryStep& step, std::string& card) {
    if (is_strike(step))
      return fmt::format("“{}” happens here", p_[model::InterruptionId(packed_.edges[step.edge].strikes)].name);
    const EdgeLabel& label = system_.edges[step.edge].label;
    const model::Line& line = p_[graph_[step.node].line];
    card = run_.card(graph_[step.node].line);
    std::string event = event_words(step);
    if (label.what == EdgeLabel::What::slips) {
      const std::string how(wording::slip_name(label.slip));
      if (label.slip != graph::SlipKind::left_out) slipped_ = {how, event, beside_.outcome_of(label.slip, line), told_.size(), step.number, label.slip == graph::SlipKind::done_early};
      return how + ": " + event + what_is_missed(system_.edges[step.edge].target);
    }
    if (is_overlooking(step)) return event + what_is_missed(step.node);
    if (label.what != EdgeLabel::What::plain) event += ": " + answers(line, label);
    return event;
  }

  std::string event_words(const explore::StoryStep& step) const {
    const model::Line& line = p_[graph_[step.node].line];
    std::string event = has_slip_ ? beside_.words_of(line, step.number) : line_in_words(p_, graph_.variant, line);
    if (has_slip_ && step.over_soil && line.wait_contact_time) event += beside_.waited_for(step);
    return event;
  }

  bool is_overlooking(graph::NodeId node) const { return node && graph_[node].manner == graph::Manner::overlooking; }
  bool is_overlooking(const explore::StoryStep& step) const { return !is_strike(step) && is_overlooking(step.node); }

  std::string what_is_missed(graph::NodeId node) const {
    if (!is_overlooking(node)) return "";
    const model::Line& line = p_[graph_[node].line];
    const model::Finding& finding = p_[line.findings[graph_[node].look % line.findings.size()]];
    return " and misses " + (finding.called.empty() ? finding.name : finding.called);
  }

  std::string answers(const model::Line& line, const EdgeLabel& label) const {
    if (label.what == EdgeLabel::What::answered) return p_[line.decision].answers[label.answer];
    std::string out;
    std::size_t i = 0;
    for (const model::Thing& t : line.things)
      for (model::FindingId f : line.findings) {
        const bool found = i < label.found.size() && label.found[i];
        ++i;
        if (!found) continue;
        if (!out.empty()) out += ", ";
        out += p_[f].name;
        const model::ItemId item = model::item_of(p_, t, graph_.variant);
        if (line.things.size() > 1 && item) out += " on " + p_[item].name;
      }
    return out.empty() ? "nothing found" : out;
  }

  // What the step did, each reason once; of two clauses that begin alike the fuller one stays.
  std::vector<std::string> clauses_of(const explore::StoryStep& step) const {
    std::vector<std::string> out;
    const auto named = named_by(step);
    for (const explore::Change& c : step.changes) {
      const effects::Cause& cause = system_.causes[c.cause];
      if (has_slip_ && beside_.bares_what_is_reached(c)) out.push_back(beside_.is_bare_now());
      if (wording::goes_without_saying(cause.what)) continue;
      // What is there and is missed was said.
      if (is_overlooking(step) && cause.what == effects::Cause::What::none) continue;
      const std::string clause =
          wording::change_sentence(p_, {system_.fields[c.field.value].meaning, c.before, c.after, cause}, named);
      if (clause.empty() || is_said_by_level(step, c)) continue;
      const auto alike = std::find_if(out.begin(), out.end(), [&](const std::string& o) {
        return o.rfind(clause, 0) == 0 || clause.rfind(o, 0) == 0;
      });
      if (alike == out.end())
        out.push_back(clause);
      else if (clause.size() > alike->size())
        *alike = clause;
    }
    if (step.over_soil) out.emplace_back(wording::nothing_clean_under_soil);
    return out;
  }

  /// That somebody was reached, where the same step tells of the dirt there.
  bool is_said_by_level(const explore::StoryStep& step, const explore::Change& change) const {
    const FieldMeaning& reached = system_.fields[change.field.value].meaning;
    if (reached.what != FieldMeaning::What::reached) return false;
    return std::any_of(step.changes.begin(), step.changes.end(), [&](const explore::Change& c) {
      const FieldMeaning& other = system_.fields[c.field.value].meaning;
      return other.what == FieldMeaning::What::level && other.bearer == reached.bearer && system_.causes[c.cause].what != effects::Cause::What::none;
    });
  }

  std::vector<effects::Bearer> named_by(const explore::StoryStep& step) const {
    std::vector<effects::Bearer> out;
    if (is_strike(step)) return out;
    const model::Line& line = p_[graph_[step.node].line];
    if (has_slip_ && (SlipStoryWords::is_in_own_words(line) || line.verb == model::VerbKind::disinfect)) return out;  // what dirties what is said in full
    return run_.things_of(line);
  }

  static Told fold(std::size_t steps, const char* words) {
    return {{"", fmt::format("… {} {}{}", steps, steps == 1 ? "step" : "steps", words), false}, 0};
  }

  /// Of a run with a slip, a single step between two others is told as it is: that is no longer than its count.
  Told between(const std::vector<model::LineId>& lines, std::uint32_t behind) const {
    if (slip_ && lines.size() == 1) return {{run_.card(lines.front()), within_words(beside_.words_of(p_[lines.front()], behind + 1)), false}, 0};
    return fold(lines.size(), lines.size() == 1 ? " changes nothing of this" : " change nothing of this");
  }

  /// A reader who knows the card asks why a later look at what carries the dirt does not show it, and since when what gets dirty was clean.
  void tell_beside() {
    if (told_.empty()) return;
    const std::uint32_t end = at_crossing_ ? run_.steps() + 1 : told_.back().number;
    for (std::uint32_t step = slip_ + 1; step < end; ++step) {
      const model::LineId line = run_.line_at(step);
      if (!line || run_.card(line).empty() || is_told(line, step)) continue;
      if (const auto said = beside_.said_beside(line, is_overlooking_slip())) tell_behind(step, {{run_.card(line), within_words(beside_.words_of(p_[line], step) + *said), false}, step});
    }
  }

  bool is_overlooking_slip() const { return p_[slip_line_].verb == model::VerbKind::inspect; }

  /// Behind all that is told of a step and of those before it.
  void tell_behind(std::uint32_t step, Told told) {
    told_.insert(std::find_if(told_.begin(), told_.end(), [&](const Told& t) { return t.number > step; }), std::move(told));
  }

  /// Whoever knows the card asks after its later look at what the slip missed, where the run goes round it.
  void tell_looks_passed_over() {
    if (!is_overlooking_slip() || told_.empty()) return;
    std::vector<effects::Bearer> things = run_.things_of(p_[slip_line_]);
    if (things.empty() && report_.has_other) things = {report_.other};  // "hands" are what lies outermost on them
    const std::uint32_t end = at_crossing_ ? run_.steps() : told_.back().number;
    for (const model::LineId look : run_.lines_gone_round(slip_, end)) {
      if (p_[look].verb != model::VerbKind::inspect || run_.things_of(p_[look]) != things) continue;
      const std::uint32_t next = run_.comes_behind(look, slip_, end);
      const std::string words = "passed over" + run_.by_question(run_.line_at(next)) + ": " + beside_.words_of(p_[look], next - 1);
      tell_behind(next - 1, {{run_.card(look), within_words(words), false}, next - 1, true});
    }
  }

  /// A disinfection is two steps of the run and one of the card.
  bool is_told(model::LineId line, std::uint32_t number) const {
    return std::any_of(told_.begin(), told_.end(), [&](const Told& t) { return t.number == number || (t.number + 1 == number && run_.line_at(t.number) == line); });
  }
  /// What a reader has to know of the end, beside the finding.
  void tell_end(const explore::Story& story) {
    if (beside_.is_carried_unseen(story)) told_.push_back({{"", beside_.what_nobody_does(), false}, 0});
    if (report_.code == diagnostics::Code::P102) told_.push_back({{"", "the hands are disinfected only after it", false}, 0});
    if (report_.code == diagnostics::Code::P107) told_.push_back({{"", "from there it can get into the patient", false}, 0});
    if (report_.ending && at_crossing_ && report_.code != diagnostics::Code::P703) told_.push_back({{"", fmt::format("the end “{}”", p_[report_.ending].name), false}, 0});
  }

  // Whoever reads of a slip wants to know where the dirt was by then, and not how it came there: "bare hands may carry dirt since (C3): tear".
  void cut_beginning(const explore::Story& story) {
    std::size_t from = told_.size() + 1 - most_events_of_slip;
    while (from > 0 && (told_[from].number > slip_ || told_[from].number == told_[from - 1].number)) --from;
    const std::string since = from > 0 ? carried_before(story, told_[from].number) : "";
    if (since.empty()) return;
    const std::uint32_t number = told_[from].number - 1;
    told_.erase(told_.begin(), told_.begin() + static_cast<std::ptrdiff_t>(from));
    told_.insert(told_.begin(), {{"", since, false}, number});
  }

  /// What got its dirt last before a step of the run; empty: nothing that is told did.
  std::string carried_before(const explore::Story& story, std::uint32_t number) const {
    std::string since;
    for (const explore::StoryStep& step : story.steps) {
      if (step.number >= number || is_strike(step)) break;
      const std::string& label = course_.label(graph_[step.node].line);
      for (const explore::Change& c : step.changes) {
        const FieldMeaning& meaning = system_.fields[c.field.value].meaning;
        if (meaning.what == FieldMeaning::What::level && c.after > effects::kClean && !label.empty())
          since = fmt::format("{} may carry dirt since ({}){}", wording::bearer_name(p_, meaning.bearer), label, found_at(step));
      }
    }
    return since;
  }

  /// ": tear on outer gloves" of a look.
  std::string found_at(const explore::StoryStep& step) const {
    const EdgeLabel& label = system_.edges[step.edge].label;
    if (label.what != EdgeLabel::What::looked) return "";
    const auto things = run_.things_of(p_[graph_[step.node].line]);
    return ": " + answers(p_[graph_[step.node].line], label) + (things.empty() ? "" : " on " + wording::bearer_name(p_, things.front()));
  }

  // A story that is still too long keeps how it began and what led to the finding.
  void cut_middle() {
    const std::size_t front = 2, back = most_events - front;
    const std::uint32_t from = told_[front - 1].number, to = told_[told_.size() - back].number;
    std::vector<Told> cut(told_.begin(), told_.begin() + front);
    cut.push_back(fold(run_.lines_between(from, to).size(), ", some of them lead here"));
    cut.insert(cut.end(), told_.end() - static_cast<std::ptrdiff_t>(back), told_.end());
    told_ = std::move(cut);
  }

  /// A clause on a line of its own belongs to the step above it.
  const std::string& card_told_at(std::size_t i) const {
    while (i > 0 && told_[i].line.step.empty() && told_[i - 1].number == told_[i].number) --i;
    return told_[i].line.step;
  }

  // Steps passed over are counted where there are many; the longest gaps first. What is found at a question or an ending is found behind the last step.
  void fold_gaps() {
    struct Gap {
      std::vector<model::LineId> lines;
      std::uint32_t behind;
      std::size_t before;
    };
    std::vector<Gap> gaps;
    const std::size_t fewest = slip_ ? 1 : 2;
    const auto note = [&](std::uint32_t from, std::uint32_t to, std::size_t before) {
      std::vector<model::LineId> lines = run_.lines_between(run_.behind_slip(from, card_told_at(before - 1)), to);
      if (lines.size() >= fewest) gaps.push_back({std::move(lines), from, before});
    };
    for (std::size_t i = 1; i < told_.size(); ++i) note(told_[i - 1].number, told_[i].number + told_[i].is_gone_round, i);
    if (at_crossing_ && !told_.empty()) note(told_.back().number, run_.steps() + 1, told_.size());
    std::stable_sort(gaps.begin(), gaps.end(), [](const Gap& a, const Gap& b) { return a.lines.size() > b.lines.size(); });
    if (!slip_ && gaps.size() > most_folds) gaps.resize(most_folds);
    std::sort(gaps.begin(), gaps.end(), [](const Gap& a, const Gap& b) { return a.before > b.before; });
    for (const Gap& g : gaps)
      told_.insert(told_.begin() + static_cast<std::ptrdiff_t>(g.before), between(g.lines, g.behind));
  }

  const model::Protocol& p_;
  const graph::Graph& graph_;
  const graph::Course& course_;
  const effects::System& system_;
  const explore::Packed& packed_;
  const effects::Report& report_;
  CardRun run_;
  SlipStoryWords beside_;
  bool at_crossing_, about_dirt_;
  std::vector<Told> told_;
  /// The slip that was told at `told`; its line may follow, at once or, too early, behind lines of others.
  struct Slipped { std::string how, line, outcome; std::size_t told = 0; std::uint32_t number = 0; bool is_early = false; };
  Slipped slipped_;
  bool has_slip_ = false;
  model::LineId slip_line_;
  std::uint32_t slip_ = 0;  ///< the step of the run at which somebody slips first; 0: nobody does
};

}  // namespace

std::vector<StoryLine> story_lines(const model::Protocol& p, const graph::Graph& graph, const graph::Course& course,
                                   const effects::System& system, const explore::Packed& packed,
                                   const explore::Story& story, const effects::Report& report,
                                   const std::string& headline) {
  return Teller(p, graph, course, system, packed, report, story).tell(story, headline);
}

}  // namespace stepward::check
