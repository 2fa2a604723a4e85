#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include <fmt/format.h>

#include "emit/slips/slip_words.hpp"
#include "emit/slips/slips.hpp"
#include "wording/slips.hpp"

namespace stepward::emit {
namespace {

using slips::Outcome;
using slips::Pair;
using slips::Row;
using graph::SlipKind;

/// How many sets of three a reader is shown.
constexpr std::size_t shown_triples = 50;

std::string counted(std::size_t n, const char* one, const char* several) { return fmt::format("{} {}", n, n == 1 ? one : several); }

class SlipsText {
 public:
  SlipsText(const slips::Table& table, const source::Files& files) : table_(table), files_(files) {}

  std::string write() {
    head();
    weak_points();
    answered();
    if (table_.at_once > 1) pairs();
    if (table_.at_once > 2) triples();
    held_alone();
    caught();
    quiet();
    foot();
    return std::move(out_);
  }

 private:
  std::string place(source::Span at) const {
    return fmt::format("{}:{}", files_.path(at.file), files_.position(at.file, at.begin).line);
  }

  std::size_t count(Outcome outcome) const {
    return static_cast<std::size_t>(std::count_if(table_.rows.begin(), table_.rows.end(), [&](const Row& r) { return r.outcome == outcome; }));
  }

  std::string of_row(const Row& r) const {
    std::string text = fmt::format("{}: {}", slip_name(r), r.line);
    if (!r.look.empty()) text += " and misses " + r.look;
    return text;
  }

  void head() {
    std::size_t places = 0;
    for (const Row& r : table_.rows) places += r.places;
    out_ += fmt::format("Slips: {} tried at {}, {}.\n", counted(table_.rows.size(), "slip", "slips"), counted(places, "place", "places"),
                        counted(table_.variants.size(), "variant", "variants"));
    out_ += fmt::format("  {} come to harm, {} caught, {} harmless, {} not in the model\n", count(Outcome::harm), count(Outcome::caught),
                        count(Outcome::harmless), count(Outcome::not_modelled));
    if (const std::size_t told_apart = count_answered(); told_apart > 0) out_ += fmt::format("  {} of those that come to harm {} answered by the author\n", told_apart, told_apart == 1 ? "is" : "are");
  }

  std::size_t count_answered() const {
    return static_cast<std::size_t>(std::count_if(table_.rows.begin(), table_.rows.end(), [&](const Row& r) { return table_.is_answered(r); }));
  }

  void story(const slips::Harm& harm) {
    if (const std::string& variant = table_.variants[harm.variant]; !variant.empty()) out_ += fmt::format("      on the card “{}”:\n", variant);
    for (const diagnostics::StoryLine& line : harm.story)
      out_ += fmt::format("        {}{}{}\n", line.here ? "here: " : "", line.step.empty() ? "" : line.step + " ", line.text);
  }

  void weak_points() {
    if (const std::size_t told_apart = count_answered(); count(Outcome::harm) == told_apart) {
      out_ += fmt::format("\nNo single slip {}comes to harm before something shows it, as far as the model sees.\n", told_apart == 0 ? "" : "that nobody has answered ");
      return;
    }
    const std::size_t open = count(Outcome::harm) - count_answered();
    out_ += fmt::format("\nWeak points: {}, from {} that {} to harm; those with the same harm at the same line are told together.\n"
                        "One slip alone comes to harm on some run, and nothing shows it in time. Each is told by one such run, the worst first.\n"
                        "(19) is step 19 of the card that is named. What “may carry dirt” need not look dirty.\n", count_told(), counted(open, "slip", "slips"), open == 1 ? "comes" : "come");
    for (const SlipKind kind : kinds_told()) out_ += fmt::format("  {}: {}\n", wording::slip_name(kind), what_is_meant(kind));
    std::size_t number = 0;
    std::optional<slips::Consequence> under;
    for (const Row& r : table_.rows) {
      if (!table_.is_open(r) || r.same_as) continue;
      if (under != r.harm->consequence) out_ += fmt::format("\n{}\n", consequence_heading(*(under = r.harm->consequence)));
      out_ += fmt::format("\n  {}. {}{}\n", ++number, of_row(r), steps_on_card(r, r.harm->variant));
      if (r.answer) out_ += "      OPEN AGAIN: " + of_answer(r) + "\n";
      story(*r.harm);
      out_ += fmt::format("      {}\n", why_not_seen(r, table_.confirms));
      same_harm(r);
      out_ += fmt::format("      written at {}\n", place(r.at));
    }
  }

  std::size_t count_told() const {
    return static_cast<std::size_t>(std::count_if(table_.rows.begin(), table_.rows.end(), [&](const Row& r) { return table_.is_open(r) && !r.same_as; }));
  }

  /// Those that some weak point is, each once, in the order of their kinds.
  std::set<SlipKind> kinds_told() const {
    std::set<SlipKind> kinds;
    for (const Row& r : table_.rows)
      if (table_.is_open(r)) kinds.insert(r.key.kind);
    return kinds;
  }

  void same_harm(const Row& row) {
    const std::size_t at = static_cast<std::size_t>(&row - table_.rows.data());
    for (const Row& r : table_.rows)
      if (r.same_as == at) out_ += fmt::format("      the same harm by another slip, on a run of its own: {}{}\n          {}\n", of_row(r), steps_on_card(r, row.harm->variant), why_not_seen(r, table_.confirms));
  }

  /// "answered by Ann Other, charge nurse, until 2031-06-01, because: The bench is being mended."
  std::string of_answer(const Row& r) const {
    const model::AnsweredSlip& said = table_.answers[*r.answer].said;
    return fmt::format("answered by {}, {}, because: {}", answered_by(said), answer_standing(said), said.agreement.reason);
  }

  void answered() {
    if (count_answered() == 0) return;
    out_ += "\nAnswered by the author: one slip alone comes to harm, and somebody answers for it;\nwhether the answer holds it back, the model does not know\n";
    for (const Row& r : table_.rows) {
      if (!table_.is_answered(r)) continue;
      out_ += fmt::format("\n  {} | {}\n      {}{}\n      {}\n      comes to: {}{}\n", slips::consequence_name(r.harm->consequence), of_row(r), place(r.at), steps_in_words(r), of_answer(r),
                          r.harm->headline, r.harm->step.empty() ? "" : fmt::format(" (at {})", r.harm->step));
    }
  }

  void pairs() {
    out_ += fmt::format("\nPairs: {} come to harm where neither does alone\n", counted(table_.pairs.size(), "pair of slips", "pairs of slips"));
    for (const Pair& p : table_.pairs) {
      const Row &a = table_.rows[p.first], &b = table_.rows[p.second];
      out_ += fmt::format("\n  {} | {}{}\n      and {}\n", slips::consequence_name(p.harm.consequence), of_row(a), steps_in_words(a),
                          p.first == p.second ? "the confirm is not made" : of_row(b) + steps_in_words(b));
      if (p.first != p.second) story(p.harm);
    }
    if (table_.held_by_confirms > 0)
      out_ += fmt::format("\n  {} more would need a third slip, a confirm that is not made{}.\n", counted(table_.held_by_confirms, "pair", "pairs"),
                          table_.at_once > 2 ? ": they stand among the sets of three, or need a fourth" : "");
  }

  void triples() {
    out_ += fmt::format("\nSets of three: {} come to harm where no one and no two of them do\n", counted(table_.triples.size(), "set of three slips", "sets of three slips"));
    for (std::size_t i = 0; i < std::min(table_.triples.size(), shown_triples); ++i) {
      const slips::Triple& t = table_.triples[i];
      const Row &a = table_.rows[t.first], &b = table_.rows[t.second], &c = table_.rows[t.third];
      out_ += fmt::format("\n  {} | {}{}\n      and {}{}\n      and {}{}\n", slips::consequence_name(t.harm.consequence), of_row(a), steps_in_words(a), of_row(b), steps_in_words(b),
                          t.with_confirm() ? "the confirm is not made that " + c.line : of_row(c), steps_in_words(c));
      story(t.harm);
    }
    if (table_.triples.size() > shown_triples) out_ += fmt::format("\n  and {} more (--format json)\n", table_.triples.size() - shown_triples);
    if (table_.held_by_more > 0) out_ += fmt::format("\n  {} more would need a fourth slip, a confirm that is not made.\n", counted(table_.held_by_more, "set", "sets"));
  }

  // By the check: how many slips nothing else would hold back.
  void held_alone() {
    std::map<std::string, std::size_t> by_confirm;
    for (const Row& r : table_.rows)
      if (r.outcome == Outcome::caught && r.harm) ++by_confirm[fmt::format("{}{}: confirm that {}", place(r.at), steps_in_words(r), r.line)];
    if (by_confirm.empty()) return;
    out_ += "\nHeld back by one confirm alone; without it the slip comes to harm unseen\n";
    for (const auto& [check, slips] : by_confirm) out_ += fmt::format("  {} ({})\n", check, counted(slips, "slip", "slips"));
  }

  void caught() {
    if (count(Outcome::caught) == 0) return;
    out_ += "\nCaught before harm\n";
    for (const Row& r : table_.rows) {
      if (r.outcome != Outcome::caught) continue;
      out_ += fmt::format("  {} {}{}\n", place(r.at), of_row(r), steps_in_words(r));
      const slips::Catch& first = r.caught.front();
      out_ += fmt::format("      {}{}{}\n", catch_name(first.by), first.step.empty() ? "" : fmt::format(" ({})", first.step), first.words.empty() ? "" : ": " + first.words);
    }
  }

  void quiet() {
    std::size_t breaking = 0;
    for (const Row& r : table_.rows) breaking += r.outcome == Outcome::harmless && !r.breaks.empty();
    if (breaking == 0) return;
    out_ += "\nHarmless in the model, though a rule is broken: another line makes good for it\n";
    for (const Row& r : table_.rows)
      if (r.outcome == Outcome::harmless && !r.breaks.empty()) out_ += fmt::format("  {} {}{} ({})\n", place(r.at), of_row(r), steps_in_words(r), fmt::join(r.breaks, ", "));
  }

  void foot() {
    out_ += "\n";
    for (const std::string& line : what_was_tried(table_)) out_ += line + "\n";
  }

  const slips::Table& table_;
  const source::Files& files_;
  std::string out_;
};

}  // namespace

std::string slips_as_text(const slips::Table& table, const source::Files& files) { return SlipsText(table, files).write(); }

}  // namespace stepward::emit
