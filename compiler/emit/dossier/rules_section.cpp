// Which rule is asked at which step, which step no rule asks about, and rules that are never asked.

#include <algorithm>

#include "emit/dossier/writer.hpp"

namespace stepward::emit::dossier {

using wording::Phrase;

namespace {

std::set<model::LineId> reached_only(const VariantFacts& variant, const std::set<model::LineId>& lines) {
  std::set<model::LineId> kept;
  for (const model::LineId line : lines)
    if (variant.reached.count(line)) kept.insert(line);
  return kept;
}

class RulesSection {
 public:
  explicit RulesSection(Writer& writer) : writer_(writer) {}

  void write() {
    writer_.section(Phrase::dossier_rules_at_steps);
    if (writer_.protocol().rules.empty()) {
      writer_.paragraph(said(Phrase::dossier_no_rules));
    } else {
      writer_.paragraph(said(Phrase::dossier_rules_how));
      writer_.open(rules_table);
      for (std::size_t r = 0; r < writer_.protocol().rules.size(); ++r) rule(r);
    }
    steps_without_rule();
    steps_to_boxes();
    untested();
  }

 private:
  std::string said(Phrase which, std::initializer_list<wording::Gap> gaps = {}) const { return writer_.said(which, gaps); }

  void rule(std::size_t r) {
    const model::Rule& rule = writer_.protocol().rules[r];
    const std::string where = writer_.by_variant([&](const VariantFacts& variant) { return places(variant, variant.rules[r]); });
    const std::string kept = !where.empty() && excuses_all(rule) ? "\n" + said(Phrase::dossier_cannot_be_broken) : "";
    writer_.row(rules_table, {{{rule.number, true, ""}, {" " + rule.name + "\n" + severity(rule), false, ""}}, {{where.empty() ? said(Phrase::dossier_nowhere) : where + kept, false, ""}}});
  }

  std::string severity(const model::Rule& rule) const {
    switch (rule.severity) {
      case model::Severity::critical: return said(Phrase::dossier_critical_rule);
      case model::Severity::major: return said(Phrase::dossier_major_rule);
      case model::Severity::advisory: return said(Phrase::dossier_advisory_rule);
    }
    return {};
  }

  std::string places(const VariantFacts& variant, const check::RuleAtLines& at) const {
    std::vector<std::string> all;
    if (at.throughout) all.push_back(said(Phrase::dossier_after_every_step));
    if (const std::string steps = steps_of(variant, reached_only(variant, at.lines)); !steps.empty()) all.push_back(steps);
    for (const model::EndingId ending : at.endings) all.push_back(said(Phrase::dossier_at_ending, {{"ending", writer_.protocol()[ending].name}}));
    if (at.at_interruptions) all.push_back(said(Phrase::dossier_when_interrupted));
    std::string text;
    for (const std::string& each : all) text += (text.empty() ? "" : "; ") + each;
    return text;
  }

  void steps_without_rule() {
    writer_.heading(Phrase::dossier_no_rule_steps);
    const std::vector<Shared> all = writer_.shared(free_steps);
    const bool none = std::all_of(all.begin(), all.end(), [](const Shared& each) { return each.said.empty(); });
    writer_.paragraph(said(none ? Phrase::dossier_every_step_has_rule : Phrase::dossier_no_rule_how));
    if (!none) writer_.open(list_table);
    for (const Shared& each : all) {
      if (each.said.empty()) continue;
      const bool everywhere = each.variants.size() == writer_.facts().variants.size();
      writer_.row(list_table, {{{everywhere ? each.said : writer_.in_variants(each), false, ""}}});
    }
    if (const std::string never = writer_.by_variant([&](const VariantFacts& variant) { return steps_of(variant, unreached(variant)); }); !never.empty()) {
      writer_.heading(Phrase::dossier_unreached_steps);
      writer_.paragraph(never);
    }
  }

  /// Numbers of the card that no line has: whoever looks one up has to find it.
  void steps_to_boxes() {
    const std::string all = writer_.by_variant([&](const VariantFacts& variant) { return box_steps(variant); });
    if (all.empty()) return;
    writer_.heading(Phrase::dossier_box_steps);
    writer_.paragraph(said(Phrase::dossier_box_steps_how));
    writer_.open(list_table);
    writer_.row(list_table, {{{all, false, ""}}});
  }

  std::string box_steps(const VariantFacts& variant) const {
    std::vector<std::pair<std::string, std::string>> all;
    for (const graph::Run& run : variant.course.runs)
      for (const graph::Entry& entry : run.entries)
        if (entry.what == graph::Entry::What::box && !entry.label.empty()) all.emplace_back(entry.label, variant.course[entry.box].label);
    std::sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return stands_before(a.first, b.first); });
    all.erase(std::unique(all.begin(), all.end()), all.end());
    std::string text;
    for (const auto& [step, box] : all) text += (text.empty() ? "" : ", ") + said(Phrase::dossier_sends_to_box, {{"step", step}, {"box", box}});
    return text;
  }

  static std::set<model::LineId> unreached(const VariantFacts& variant) {
    std::set<std::string> reached;
    for (const model::LineId line : variant.reached) reached.insert(variant.course.label(line));
    std::set<model::LineId> lines;
    for (const model::LineId line : variant.in_order)
      if (!reached.count(variant.course.label(line))) lines.insert(line);
    return lines;
  }

  /// Steps of which no line is asked about by a rule that tells one line from another.
  static std::string free_steps(const VariantFacts& variant) {
    std::set<std::string> asked;
    for (const check::RuleAtLines& rule : variant.rules)
      for (const model::LineId line : reached_only(variant, rule.lines)) asked.insert(variant.course.label(line));
    std::set<model::LineId> free;
    for (const model::LineId line : variant.reached)
      if (!asked.count(variant.course.label(line))) free.insert(line);
    return steps_of(variant, free);
  }

  void untested() {
    writer_.section(Phrase::dossier_untested);
    std::vector<const model::Rule*> all;
    for (const model::Rule& rule : writer_.protocol().rules)
      if (!writer_.facts().rules_tested.count(rule.number)) all.push_back(&rule);
    if (all.empty()) {
      writer_.paragraph(said(Phrase::dossier_all_tested));
      return;
    }
    writer_.paragraph(said(Phrase::dossier_untested_how));
    writer_.open(fields_table);
    for (const model::Rule* rule : all) writer_.row(fields_table, {{{rule->number, true, ""}}, {{rule->name + "\n" + why(*rule), false, ""}}});
  }

  std::string why(const model::Rule& rule) const {
    if (!speaks_of_anything_here(rule)) return said(Phrase::dossier_why_thing_missing);
    return said(rule.pattern == model::Pattern::never ? Phrase::dossier_why_nothing_forbidden : Phrase::dossier_why_never_comes);
  }

  /// The rule does not hold while something is not worn, and nobody wears it in any variant: then it asks nothing anywhere.
  bool excuses_all(const model::Rule& rule) const {
    if (!rule.has_unless) return false;
    const auto always_holds = [&](const model::State& state) {
      const bool of_item = state.subject.what == model::Subject::What::item && !is_used(state.subject.item);
      const bool says_not_worn = state.what == model::State::What::none_worn ? !state.negated : state.what == model::State::What::worn && state.negated;
      return of_item && says_not_worn;
    };
    const auto& states = rule.unless.states;
    return rule.unless.all ? std::all_of(states.begin(), states.end(), always_holds) : std::any_of(states.begin(), states.end(), always_holds);
  }

  /// False: it names things of which nobody wears or uses any.
  bool speaks_of_anything_here(const model::Rule& rule) const {
    return std::all_of(rule.trigger.events.begin(), rule.trigger.events.end(), [&](const model::Event& event) {
      if (event.subject.what != model::Subject::What::item) return true;
      return is_used(event.subject.item);
    });
  }

  bool is_used(model::ItemId item) const {
    const model::Protocol& p = writer_.protocol();
    const auto names_it = [&](const model::Thing& thing, const model::Variant& variant) {
      if (thing.what == model::Thing::What::item) return thing.item == item;
      if (thing.what != model::Thing::What::choice) return false;
      const auto& values = p[thing.choice].values;
      const int value = thing.choice.value < variant.size() ? variant[thing.choice.value] : -1;
      return value >= 0 && values[static_cast<std::size_t>(value)].item == item;
    };
    for (const VariantFacts& variant : writer_.facts().variants) {
      for (const model::PersonStart& person : p.people)
        for (const model::Wearing& worn : person.wearing)
          if (names_it(worn.thing, variant.variant)) return true;
      for (const model::LineId line : variant.in_order)
        for (const model::Thing& thing : p[line].things)
          if (names_it(thing, variant.variant)) return true;
    }
    return false;
  }

  Writer& writer_;
};

}  // namespace

void write_rules(Writer& writer) { RulesSection(writer).write(); }

}  // namespace stepward::emit::dossier
