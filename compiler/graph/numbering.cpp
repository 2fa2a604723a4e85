#include "graph/numbering.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "graph/block_survey.hpp"
#include "graph/line_key.hpp"
#include "graph/quiet_path.hpp"
#include "graph/targets.hpp"
#include "model/variants.hpp"

namespace stepward::graph {

using model::BlockId;
using model::Condition;
using model::Protocol;
using model::Statement;
using model::Variant;

namespace {

// B is for breaches and Q for questions; I and O are misread as figures.
constexpr std::string_view box_letters = "ACDEFGHJKLMNPRSTUVWXYZ";

std::string box_letter(std::size_t index) {
  std::string letter(1, box_letters[index % box_letters.size()]);
  const std::size_t round = index / box_letters.size();
  return round == 0 ? letter : letter + std::to_string(round + 1);
}

std::string branch_letter(int number) {
  std::string letters;
  for (; number > 0; number = (number - 1) / 26)
    letters.insert(letters.begin(), static_cast<char>('a' + (number - 1) % 26));
  return letters;
}

/// Hands out the numbers of one scope: the trunk, one box, or one breach.
struct Counter {
  std::string prefix;
  int number = 0;
  int letters = 0;
  int digits = 0;
  int questions = 0;

  std::string next_question() { return fmt::format("Q{}{}", prefix, ++questions); }

  std::string next(int depth) {
    if (depth == 0) {
      ++number;
      letters = 0;
      digits = 0;
      return fmt::format("{}{}", prefix, number);
    }
    if (depth == 1) {
      ++letters;
      digits = 0;
      return fmt::format("{}{}{}", prefix, number, branch_letter(letters));
    }
    return fmt::format("{}{}{}{}", prefix, number, branch_letter(letters), ++digits);
  }
};

/// The run that is being filled, how deep its numbers are, and whether it is the trunk.
struct Place {
  RunId run;
  int depth = 0;
  QuietState* quiet = nullptr;        ///< only on the trunk
  bool numbered = false;              ///< a line of this run has its number already
  std::vector<model::Thing> named{};  ///< in a box: what its call has named
};

constexpr int deepest_number = 2;

class Numberer {
 public:
  Numberer(const Protocol& protocol, const Variant& variant)
      : protocol_(protocol), variant_(variant), settled_(protocol, variant), survey_(protocol, variant) {
    course_.labels.resize(protocol.lines.size());
  }

  Course number() {
    trunk();
    breaches();
    find_targets(course_);
    return std::move(course_);
  }

 private:
  RunId new_run(int level) {
    course_.runs.push_back({{}, static_cast<std::uint8_t>(level)});
    return RunId{course_.runs.size() - 1};
  }
  std::vector<Entry>& entries(const Place& place) { return course_.runs[place.run.value].entries; }
  void push(const Place& place, Entry entry) {
    entry.named = place.named;
    entries(place).push_back(std::move(entry));
  }

  void trunk() {
    QuietState quiet(protocol_, variant_);
    Counter counter;
    Place place{new_run(0), 0, &quiet, false};
    course_.trunk = place.run;
    for (std::size_t i = 0; i < protocol_.phases.size(); ++i) {
      if (!survey_.has_anything(protocol_.phases[i].block)) {
        course_.phases_without_lines.push_back(model::PhaseId{i});
        continue;
      }
      Entry entry;
      entry.what = Entry::What::phase;
      entry.phase = model::PhaseId{i};
      push(place, std::move(entry));
      block(protocol_.phases[i].block, place, counter);
    }
  }

  void breaches() {
    for (std::size_t i = 0; i < protocol_.interruptions.size(); ++i) {
      const std::string label = fmt::format("B{}", i + 1);
      Counter counter{label + "."};
      Place place{new_run(0)};
      block(protocol_.interruptions[i].block, place, counter);
      course_.breaches.push_back({label, model::InterruptionId{i}, place.run});
    }
  }

  void block(BlockId id, Place& place, Counter& counter) {
    if (!id) return;
    for (const Statement& statement : protocol_[id].statements) this->statement(statement, place, counter);
  }

  void statement(const Statement& statement, Place& place, Counter& counter) {
    switch (statement.what) {
      case Statement::What::line: line(statement.line, place, counter); break;
      case Statement::What::question: question(statement, place, counter); break;
      case Statement::What::only_for:
        if (model::holds(statement.only_for, variant_)) block(statement.block, place, counter);
        break;
      case Statement::What::repeat: repeat(statement, place, counter); break;
      case Statement::What::call:
        if (!place.quiet && is_boxed(statement)) {
          box_step(statement, counter.next(place.depth), place);
          place.numbered = true;
        } else {
          block(statement.block, place, counter);
        }
        break;
      case Statement::What::together: together(statement, place, counter); break;
      case Statement::What::finish:
      case Statement::What::resume: ends(statement, place); break;
    }
  }

  /// The lines of both persons keep the order of the source; what stands above them says that it is no order.
  void together(const Statement& statement, Place& place, Counter& counter) {
    Entry begins;
    begins.what = Entry::What::together_begins;
    const std::size_t at = entries(place).size();
    push(place, begins);
    block(statement.block, place, counter);
    name_body(at, place, entries(place)[at]);
  }

  void line(model::LineId id, Place& place, Counter& counter) {
    if (!model::holds(protocol_[id].only_for, variant_)) return;
    Entry entry;
    entry.line = id;
    entry.label = counter.next(place.depth);
    course_.labels[id.value] = entry.label;
    course_.lines_at[entry.label].push_back(id);
    push(place, std::move(entry));
    place.numbered = true;
    if (place.quiet) place.quiet->apply(protocol_[id]);
  }

  void ends(const Statement& statement, Place& place) {
    Entry entry;
    entry.what = statement.what == Statement::What::finish ? Entry::What::finish : Entry::What::resume;
    entry.ending = statement.ending;
    push(place, std::move(entry));
  }

  // ------------------------------------------------------------------ questions

  struct Arm {
    Condition condition;
    bool is_otherwise = false;
    BlockId block;
    ArmPlace place;
  };

  /// The arms that this variant can take: settled ones are folded away, and there always is an `otherwise`.
  std::vector<Arm> open_arms(const Statement& statement) const {
    std::vector<Arm> arms;
    for (const auto& arm : statement.arms) {
      const auto settled = arm.is_otherwise ? std::optional<bool>(true) : settled_.answer(arm.condition);
      if (settled && !*settled) continue;
      arms.push_back({settled ? Condition{} : arm.condition, settled.has_value(), arm.block, place_of_arm(arm.span)});
      if (settled) return arms;
    }
    arms.push_back({Condition{}, true, BlockId{}, statement.arms.empty() ? ArmPlace{} : place_behind(statement.arms.back().span)});
    return arms;
  }

  /// The arm that a reader meets when nothing is found and every answer is the first; off the trunk nothing is known of
  /// what is worn, so that a question about a state has no such arm.
  std::optional<std::size_t> quiet_arm(const std::vector<Arm>& arms, const Place& place) const {
    QuietState fallback(protocol_, variant_);
    const QuietState& state = place.quiet ? *place.quiet : fallback;
    for (std::size_t i = 0; i < arms.size(); ++i) {
      if (arms[i].is_otherwise) return i;
      if (!place.quiet && asks_state(arms[i].condition)) return std::nullopt;
      if (state.answer(arms[i].condition)) return i;
    }
    return std::nullopt;
  }

  static bool asks_state(const Condition& condition) {
    return std::any_of(condition.atoms.begin(), condition.atoms.end(), [](const model::Atom& atom) {
      return atom.what != model::Atom::What::found && atom.what != model::Atom::What::answer;
    });
  }

  void question(const Statement& statement, Place& place, Counter& counter) {
    const std::vector<Arm> arms = open_arms(statement);
    if (arms.size() == 1) {
      block(arms[0].block, place, counter);
      return;
    }
    const bool idle = std::none_of(arms.begin(), arms.end(), [&](const Arm& arm) { return survey_.has_anything(arm.block); });
    if (idle) return;
    Entry entry;
    entry.what = Entry::What::question;
    entry.label = counter.next_question();
    entry.aloud = std::any_of(arms.begin(), arms.end(), [](const Arm& arm) { return asks_aloud(arm.condition); });
    const auto trunk_arm = quiet_arm(arms, place);
    for (std::size_t i = 0; i < arms.size(); ++i) {
      Fork fork;
      fork.condition = arms[i].condition;
      fork.place = arms[i].place;
      fork.is_otherwise = arms[i].is_otherwise;
      fork.is_trunk = trunk_arm == i;
      entry.forks.push_back(std::move(fork));
    }
    number_questions(entry, counter);
    for (std::size_t i = 0; i < arms.size(); ++i) {
      if (!entry.forks[i].is_trunk) entry.forks[i].run = arm_run(arms[i].block, place, counter);
    }
    const std::size_t at = entries(place).size();
    push(place, std::move(entry));
    if (trunk_arm) block(arms[*trunk_arm].block, place, counter);
    entries(place)[at].skip_to = entries(place).size();
  }

  /// Before those in its branches, so that numbers rise down the paper. `otherwise` answers the last question.
  static void number_questions(Entry& entry, Counter& counter) {
    const bool is_one = static_cast<bool>(shared_decision(entry.forks));
    for (std::size_t i = 0; i < entry.forks.size(); ++i) {
      Fork& fork = entry.forks[i];
      if (i == 0) fork.label = entry.label;
      else fork.label = is_one || fork.is_otherwise ? entry.forks[i - 1].label : counter.next_question();
    }
  }

  /// The entries of a branch, one level down if there is a number to hang them on; what would be deeper than the
  /// numbers go becomes a box.
  RunId arm_run(BlockId id, const Place& from, Counter& counter) {
    if (!survey_.has_anything(id)) return {};
    const int depth = from.numbered ? from.depth + 1 : from.depth;
    Place place{new_run(std::min(depth, deepest_number))};
    place.depth = depth;
    place.named = from.named;
    const Statement* only_call = survey_.sole_call(id);
    if (only_call && is_boxed(*only_call)) {
      box_step(*only_call, "", place);
    } else if (depth > deepest_number && survey_.count_lines(id) > 0) {
      if (only_call)
        box_step(*only_call, "", place);
      else
        box_entry(id, {}, place.named, {}, {}, place);
    } else {
      block(id, place, counter);
    }
    return place.run;
  }

  // ------------------------------------------------------------------ loops

  void repeat(const Statement& statement, Place& place, Counter& counter) {
    Entry begins;
    begins.what = Entry::What::repeat_begins;
    begins.at_most = statement.at_most;
    const std::size_t at = entries(place).size();
    push(place, begins);
    block(statement.block, place, counter);
    Entry asks;
    asks.what = Entry::What::repeat_asks;
    asks.label = counter.next_question();
    asks.until = statement.until;
    asks.aloud = asks_aloud(statement.until);
    asks.at_most = statement.at_most;
    name_body(at, place, asks);
    Fork fallback;
    fallback.is_otherwise = true;
    fallback.label = asks.label;
    fallback.run = arm_run(statement.fallback, place, counter);
    asks.forks.push_back(std::move(fallback));
    push(place, std::move(asks));
  }

  /// Fills in the first and last label of what stands behind entry `at`, there and in `asks`.
  void name_body(std::size_t at, const Place& place, Entry& asks) {
    auto& all = entries(place);
    for (std::size_t i = at + 1; i < all.size(); ++i) {
      if (all[i].what != Entry::What::step && all[i].what != Entry::What::box) continue;
      if (asks.from.empty()) asks.from = all[i].label;
      asks.to = all[i].label;
    }
    all[at].from = asks.from;
    all[at].to = asks.to;
  }

  // ------------------------------------------------------------------ boxes

  bool is_boxed(const Statement& call) const {
    return survey_.count_lines(call.block) > boxed_above && survey_.calls_like(call).count > 1;
  }

  /// A call as a step of its own. What the call names is "it" in the box, if other calls of that box name something
  /// else.
  void box_step(const Statement& call, const std::string& label, Place& place) {
    const bool shared = survey_.calls_like(call).wordings.size() > 1;
    const std::vector<model::Thing> named = shared ? call.arguments : std::vector<model::Thing>{};
    box_entry(call.block, named, named.empty() ? place.named : named, call.routine, label, place);
  }

  void box_entry(BlockId id, const std::vector<model::Thing>& arguments, const std::vector<model::Thing>& named,
                 model::RoutineId routine, const std::string& label, Place& place) {
    Entry entry;
    entry.what = Entry::What::box;
    entry.label = label;
    entry.arguments = arguments;
    entry.box = box(id, named, routine);
    push(place, std::move(entry));
  }

  BoxId box(BlockId id, const std::vector<model::Thing>& named, model::RoutineId routine) {
    const std::string key = block_key(protocol_, variant_, id, named);
    if (const auto known = boxes_.find(key); known != boxes_.end()) {
      label_again(id, named, known->second);
      return known->second;
    }
    const BoxId made{course_.boxes.size()};
    boxes_[key] = made;
    Place place{new_run(0)};
    place.named = named;
    course_.boxes.push_back({box_letter(made.value), routine, place.run, !named.empty()});
    Counter counter{course_.boxes[made.value].label};
    block(id, place, counter);
    return made;
  }

  /// The lines of a further call carry the numbers that its box has; the runs made on the way are thrown away.
  void label_again(BlockId id, const std::vector<model::Thing>& named, BoxId box) {
    const std::size_t runs = course_.runs.size();
    Place place{new_run(0)};
    place.named = named;
    Counter counter{course_.boxes[box.value].label};
    block(id, place, counter);
    course_.runs.resize(runs);
  }


  const Protocol& protocol_;
  const Variant& variant_;
  Settled settled_;
  BlockSurvey survey_;
  Course course_;
  std::map<std::string, BoxId> boxes_;
};

}  // namespace

bool asks_for_answer(const Condition& condition, Negated negated) {
  const bool one = condition.atoms.size() == 1 && condition.atoms[0].what == model::Atom::What::answer;
  return one && (negated == Negated::is_an_answer || !condition.atoms[0].negated);
}

model::DecisionId shared_decision(const std::vector<Fork>& forks, Negated negated) {
  model::DecisionId decision;
  for (const Fork& fork : forks) {
    if (fork.is_otherwise) continue;
    if (!asks_for_answer(fork.condition, negated) || (decision && fork.condition.atoms[0].decision != decision)) return {};
    decision = fork.condition.atoms[0].decision;
  }
  return decision;
}

Course number_steps(const Protocol& protocol, const Variant& variant) { return Numberer(protocol, variant).number(); }

}  // namespace stepward::graph
