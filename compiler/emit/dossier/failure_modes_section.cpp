// The failure modes as a worksheet in the form of HFMEA: what the model knows is filled in, and boxes wait for the pen of a review group.
//
// A mode is several rows that stay together: a row of words (what is slipped, what it comes to, what stands before that, what the questions
// say of it), who answers for it, and one or two rows of fields. A mode at which the questions do not stop has twice the room, since there
// something has to be done. Order: those of harm, then those that are caught, each in the order of the card, as a group goes through it.
//
// Modes without harm are numbers only. Where a rule is broken all the same they stand apart: the model may not know why the rule is there.

#include <algorithm>
#include <map>

#include "emit/dossier/slip_parts.hpp"
#include "reliability/hazard.hpp"
#include "wording/slips.hpp"

namespace stepward::emit::dossier {

using slips::Catch;
using slips::FailureDecision;
using slips::FailureMode;
using slips::Outcome;
using slips::Row;
using wording::Phrase;

namespace {

std::string step_of(const FailureMode& mode) { return mode.number.substr(0, mode.number.find('(')); }

class FailureModes {
 public:
  explicit FailureModes(Writer& writer) : writer_(writer), table_(*writer.facts().slips), modes_(writer.facts().failure_modes) {
    std::stable_sort(modes_.begin(), modes_.end(), [](const FailureMode& a, const FailureMode& b) { return stands_before(step_of(a), step_of(b)); });
  }

  void write() {
    writer_.section_apart(Phrase::dossier_failure_modes, failure_modes_label);
    writer_.paragraph(said(Phrase::dossier_modes_how));
    writer_.paragraph(said(Phrase::dossier_modes_counted, {{"count", whole_figure(modes_.size())}, {"harm", count_of(table_, Outcome::harm)}, {"caught", count_of(table_, Outcome::caught)},
                                                           {"harmless", count_of(table_, Outcome::harmless)}}), true);
    if (!table_.complete) writer_.warning(said(Phrase::dossier_slips_incomplete));
    scales();
    questions();
    worksheet(Outcome::harm, Phrase::dossier_modes_of_harm, Phrase::dossier_no_weak_points);
    worksheet(Outcome::caught, Phrase::dossier_modes_caught, Phrase::dossier_no_modes_caught);
    harmless();
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return writer_.said(which, gaps); }
  const Row& row_of(const FailureMode& mode) const { return table_.rows[mode.row]; }

  // ---- what is scored with

  struct Grade { Phrase name, meaning; };
  static constexpr Grade severities[] = {{Phrase::dossier_minor, Phrase::dossier_minor_is}, {Phrase::dossier_moderate, Phrase::dossier_moderate_is},
                                         {Phrase::dossier_major, Phrase::dossier_major_is}, {Phrase::dossier_catastrophic, Phrase::dossier_catastrophic_is}};
  static constexpr Grade frequencies[] = {{Phrase::dossier_remote, Phrase::dossier_remote_is}, {Phrase::dossier_uncommon, Phrase::dossier_uncommon_is},
                                          {Phrase::dossier_occasional, Phrase::dossier_occasional_is}, {Phrase::dossier_frequent, Phrase::dossier_frequent_is}};

  Text graded(const Grade& grade) const { return {{wording::capitalised(said(grade.name)), true, ""}, {": " + said(grade.meaning), false, ""}}; }

  void scales() {
    writer_.heading(Phrase::dossier_scales);
    writer_.open(scales_table);
    for (unsigned value = 4; value >= 1; --value) writer_.row(scales_table, {{{std::to_string(value), true, ""}}, graded(severities[value - 1]), graded(frequencies[value - 1])});
    writer_.heading(Phrase::dossier_matrix);
    writer_.open(matrix_table);
    for (unsigned frequency = 4; frequency >= 1; --frequency) {
      std::vector<Text> cells{{{wording::capitalised(said(frequencies[frequency - 1].name)) + ", " + std::to_string(frequency), true, ""}}};
      for (unsigned severity = 4; severity >= 1; --severity) cells.push_back(scored(reliability::hazard_score(static_cast<reliability::Severity>(severity), static_cast<reliability::Frequency>(frequency))));
      writer_.row(matrix_table, std::move(cells));
    }
    writer_.paragraph(said(Phrase::dossier_scales_source));
  }

  Text scored(unsigned score) const {
    const std::string figure = std::to_string(score);
    if (score < reliability::counts_by_score) return {{figure, false, ""}};
    return {{said(Phrase::dossier_score_counts, {{"score", figure}}), true, ""}};
  }

  void questions() {
    writer_.add(Heading{said(Phrase::dossier_questions), true});
    writer_.open(list_table);
    for (const Phrase each : {Phrase::dossier_question_score, Phrase::dossier_question_single, Phrase::dossier_question_control, Phrase::dossier_question_obvious})
      writer_.row(list_table, {{{said(each), false, ""}}});
    writer_.paragraph(said(Phrase::dossier_questions_how));
  }

  // ---- the worksheet

  void worksheet(Outcome outcome, Phrase heading, Phrase none) {
    writer_.heading(heading);
    if (std::none_of(modes_.begin(), modes_.end(), [&](const FailureMode& mode) { return row_of(mode).outcome == outcome; })) return writer_.paragraph(said(none));
    writer_.open(modes_table);
    for (const FailureMode& mode : modes_)
      if (row_of(mode).outcome == outcome) write_mode(mode);
  }

  void write_mode(const FailureMode& mode) {
    const Row& row = row_of(mode);
    writer_.row(modes_table, {what(mode), effect_and_control(row), answers(mode)}, true);
    if (row.answer) answered(table_.answers[*row.answer].said);
    const bool is_open = mode.decision == FailureDecision::act || mode.decision == FailureDecision::act_by_score;
    if (!is_open) return writer_.row(all_fields, {});
    writer_.row(causes_fields, {}, true);
    writer_.row(action_fields, {});
  }

  /// The number first, as on every other sheet of the study, and the slip; then the steps, where the number names only one of them.
  Text what(const FailureMode& mode) const {
    const Row& row = row_of(mode);
    const std::string steps = writer_.steps_of_lines(row.lines, row.variants, "; ");
    const bool is_one = steps.empty() || steps == step_of(mode);
    Text text{{mode.number + " " + said(wording::slip_phrase(row.key.kind)) + what_was_missed(writer_, row) + "\n", true, ""}};
    if (!is_one) text.push_back({said(Phrase::dossier_at_steps, {{"steps", steps}}) + "\n", false, ""});
    for (Run& run : acts_of(writer_, row)) text.push_back(std::move(run));
    return text;
  }

  /// In one column, so that both have the room that they need.
  Text effect_and_control(const Row& row) const {
    std::string effect;
    for (const std::string& harm : slip_harms(writer_, row)) effect += harm + "\n";
    Text text{{effect.empty() ? said(Phrase::dossier_no_effect) + "\n" : effect, false, ""}, {said(Phrase::dossier_existing_control), true, ""}};
    for (Run& run : control(row)) text.push_back(std::move(run));
    return text;
  }

  /// What shows it, each on a line but the first, which stands behind the words that lead to it.
  Text control(const Row& row) const {
    Text text;
    const auto add = [&](Text more) {
      if (!more.empty()) text.push_back({text.empty() ? " " : "\n", false, ""});
      for (Run& run : more) text.push_back(std::move(run));
    };
    if (row.outcome == Outcome::caught && row.harm) add({{said(Phrase::dossier_only_confirm), false, ""}});
    if (const std::string seen = seen_by_confirm(writer_, row); !seen.empty()) add({{seen, false, ""}});
    // Where runs come to harm all the same, it is no control, and yet what a group would begin with.
    const bool on_some = row.outcome == Outcome::harm && std::any_of(row.caught.begin(), row.caught.end(), [&](const Catch& each) { return !caught(row, each).empty(); });
    if (on_some) add({{said(Phrase::dossier_not_every_run), false, ""}});
    for (const Catch& each : row.caught) add(caught(row, each));
    if (text.empty()) add({{said(Phrase::no_other_paper), false, ""}});
    return text;
  }

  /// By what is said of it there: variants have other numbers, and other things in the line.
  Text caught(const Row& row, const Catch& each) const {
    std::map<std::string, std::size_t> first;  // what is said, and the first variant that says it
    for (const auto& [variant, here] : each.where)
      if (row.variants.count(variant)) first.emplace(here.words, variant);
    Text text;
    for (const auto& [words, variant] : first) {
      const std::string steps = writer_.by_variant([&, &said = words](const VariantFacts& facts) -> std::string {
        const auto here = each.where.find(static_cast<std::size_t>(&facts - writer_.facts().variants.data()));
        return here == each.where.end() || !row.variants.count(here->first) || here->second.words != said ? "" : steps_of(facts, here->second.lines);
      }, "; ");
      if (!text.empty()) text.push_back({"\n", false, ""});
      for (Run& run : shown_by(each, words, steps, variant)) text.push_back(std::move(run));
    }
    return text;
  }

  Text shown_by(const Catch& each, const std::string& words, const std::string& steps, std::size_t variant) const {
    switch (each.by) {
      case Catch::By::confirm: break;  // said already
      case Catch::By::look: {
        Text text{{said(Phrase::dossier_look_finds, {{"step", steps}}) + " ", false, ""}};
        for (Run& run : writer_.act(writer_.facts().variants[variant], *each.where.at(variant).lines.begin())) text.push_back(std::move(run));
        return text;
      }
      case Catch::By::question: return {{said(Phrase::dossier_question_open, {{"why", words}}), false, ""}};
      case Catch::By::cannot_be_done:
        return {{steps.empty() ? said(Phrase::dossier_line_stuck, {{"why", words}}) : said(Phrase::dossier_step_stuck, {{"step", steps}, {"why", words}}), false, ""}};
      case Catch::By::ending: return {{said(Phrase::dossier_end_shows, {{"why", words}}), false, ""}};
    }
    return {};
  }

  Text answers(const FailureMode& mode) const {
    const auto answer = [&](Phrase question, bool yes) { return Run{said(question, {{"answer", said(yes ? Phrase::yes : Phrase::no)}}) + "\n", false, ""}; };
    return {answer(Phrase::dossier_is_single, mode.answers.single_point_weakness), answer(Phrase::dossier_is_controlled, mode.answers.effective_control),
            answer(Phrase::dossier_is_obvious, mode.answers.obvious), {said(end_of(mode.decision)), true, ""}};
  }

  static Phrase end_of(FailureDecision decision) {
    switch (decision) {
      case FailureDecision::act: return Phrase::dossier_act;
      case FailureDecision::act_by_score: return Phrase::dossier_act_by_score;
      case FailureDecision::stop_controlled: return Phrase::dossier_stop_controlled;
      case FailureDecision::stop_obvious: return Phrase::dossier_stop_obvious;
      case FailureDecision::stop_no_harm: return Phrase::dossier_stop_no_harm;
    }
    return Phrase::dossier_act;
  }

  /// Not among the controls: whether it holds the slip back, the model does not know.
  void answered(const model::AnsweredSlip& said_of_it) {
    Text text{{said(Phrase::dossier_action_agreed) + " ", true, ""}};
    for (Run& run : answer_agreed(writer_, said_of_it)) text.push_back(std::move(run));
    writer_.row(list_table, {std::move(text)}, true);
  }

  // ---- without harm

  void harmless() {
    std::map<graph::SlipKind, std::vector<std::string>> plain;
    std::map<std::string, std::vector<std::string>> breaking;  // by the rules that are broken
    for (const FailureMode& mode : modes_) {
      const Row& row = row_of(mode);
      if (row.outcome != Outcome::harmless) continue;
      std::string rules;
      for (const std::string& rule : row.breaks) rules += (rules.empty() ? "" : ", ") + rule;
      (rules.empty() ? plain[row.key.kind] : breaking[rules]).push_back(mode.number);
    }
    if (!breaking.empty()) {
      writer_.heading(Phrase::dossier_modes_breaking);
      writer_.paragraph(said(Phrase::dossier_breaking_how));
      writer_.open(fields_table);
      for (const auto& [rules, numbers] : breaking) listed(rules, numbers);
    }
    if (plain.empty()) return;
    writer_.heading(Phrase::dossier_modes_harmless);
    writer_.paragraph(said(Phrase::dossier_harmless_how));
    writer_.open(fields_table);
    for (const auto& [kind, numbers] : plain) listed(said(wording::slip_phrase(kind)), numbers);
  }

  /// A row is never cut between faces, and a long protocol has thousands of them.
  void listed(const std::string& name, const std::vector<std::string>& numbers) {
    constexpr std::size_t most = 100;
    for (std::size_t from = 0; from < numbers.size(); from += most) {
      const std::size_t end = std::min(from + most, numbers.size());
      std::string all;
      for (std::size_t i = from; i < end; ++i) all += (all.empty() ? "" : ", ") + numbers[i];
      writer_.row(fields_table, {{{name, true, ""}}, {{std::to_string(end - from) + ": " + all, false, ""}}});
    }
  }

  Writer& writer_;
  const slips::Table& table_;
  std::vector<FailureMode> modes_;
};

}  // namespace

/// None where errors stand: what is wrong already would be found again at every slip.
void write_failure_modes(Writer& writer) {
  if (writer.facts().slips) FailureModes(writer).write();
}

}  // namespace stepward::emit::dossier
