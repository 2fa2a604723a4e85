#include "emit/flow_chart/main_way.hpp"

#include <algorithm>
#include <tuple>

namespace stepward::emit::flow_chart {

using graph::Entry;
using graph::Fork;
using graph::RunId;
using model::Atom;
using model::DecisionId;

namespace {

/// The one answer that a condition asks for; none: it asks for something else, or for more.
const Atom* answer_in(const model::Condition& condition) { return graph::asks_for_answer(condition, graph::Negated::is_an_answer) ? &condition.atoms[0] : nullptr; }

/// The decision that all arms of a question ask for.
DecisionId decision_of(const Entry& question) { return graph::shared_decision(question.forks, graph::Negated::is_an_answer); }

/// Which arm an answer takes: the first that it fits.
std::size_t arm_for(const Entry& question, std::size_t answer) {
  for (std::size_t f = 0; f < question.forks.size(); ++f) {
    const Fork& fork = question.forks[f];
    if (fork.is_otherwise) return f;
    const Atom* atom = answer_in(fork.condition);
    if (atom && (atom->answer == answer) != atom->negated) return f;
  }
  return question.forks.size() - 1;
}

bool ends(const Entry& entry) { return entry.what == Entry::What::finish || entry.what == Entry::What::resume; }

/// What an answer makes of the questions that ask for it.
struct Made {
  std::size_t emergencies = 0, lines_of_its_own = 0;
  friend bool operator<(const Made& a, const Made& b) { return std::tie(a.emergencies, a.lines_of_its_own) < std::tie(b.emergencies, b.lines_of_its_own); }
};

/// Whether there is anything to do on an arm.
bool has_lines(const graph::Run& run, std::size_t at, const Fork& fork) { return fork.is_trunk ? run.entries[at].skip_to > at + 1 : static_cast<bool>(fork.run); }

/// Whether the lines of an arm come to an emergency ending at their end.
bool ends_badly(const model::Protocol& protocol, const graph::Course& course, const graph::Run& run, std::size_t at, const Fork& fork) {
  const Entry* last = nullptr;
  if (fork.is_trunk && run.entries[at].skip_to > at + 1) last = &run.entries[run.entries[at].skip_to - 1];
  if (!fork.is_trunk && fork.run && !course[fork.run].entries.empty()) last = &course[fork.run].entries.back();
  return last && last->what == Entry::What::finish && !protocol[last->ending].normal;
}

/// What an arm makes of its question by itself. Lines count where some other arm has none.
Made made_of(const model::Protocol& protocol, const graph::Course& course, const graph::Run& run, std::size_t at, const Fork& fork) {
  const auto& forks = run.entries[at].forks;
  const bool may_pass = std::any_of(forks.begin(), forks.end(), [&](const Fork& each) { return !has_lines(run, at, each); });
  return {ends_badly(protocol, course, run, at, fork) ? 1u : 0u, may_pass && has_lines(run, at, fork) ? 1u : 0u};
}

/// The arm that is better than every other one; none: nobody can tell.
std::optional<std::size_t> best_arm(const model::Protocol& protocol, const graph::Course& course, const graph::Run& run, std::size_t at) {
  std::vector<Made> made;
  for (const Fork& fork : run.entries[at].forks) made.push_back(made_of(protocol, course, run, at, fork));
  const auto least = std::min_element(made.begin(), made.end());
  const bool is_alone = std::count_if(made.begin(), made.end(), [&](const Made& each) { return !(*least < each); }) == 1;
  return is_alone ? std::optional<std::size_t>(static_cast<std::size_t>(least - made.begin())) : std::nullopt;
}

class AnswerCount {
 public:
  AnswerCount(const model::Protocol& protocol, const graph::Course& course) : protocol_(protocol), course_(course) {
    for (const graph::Run& run : course.runs)
      for (std::size_t i = 0; i < run.entries.size(); ++i) {
        if (run.entries[i].what == Entry::What::question) ask(run, i);
        if (run.entries[i].what == Entry::What::repeat_asks) repeat(run.entries[i]);
      }
  }

  std::map<DecisionId, std::size_t> best() const {
    std::map<DecisionId, std::size_t> best;
    for (const auto& [decision, made] : made_) best[decision] = static_cast<std::size_t>(std::min_element(made.begin(), made.end()) - made.begin());
    return best;
  }

 private:
  std::vector<Made>& of(DecisionId decision) {
    std::vector<Made>& made = made_[decision];
    made.resize(protocol_[decision].answers.size());
    return made;
  }

  void ask(const graph::Run& run, std::size_t at) {
    const Entry& question = run.entries[at];
    const DecisionId decision = decision_of(question);
    if (!decision) return;
    std::vector<Made>& made = of(decision);
    for (std::size_t answer = 0; answer < made.size(); ++answer) {
      const Made here = made_of(protocol_, course_, run, at, question.forks[arm_for(question, answer)]);
      made[answer].emergencies += here.emergencies;
      made[answer].lines_of_its_own += here.lines_of_its_own;
    }
  }

  /// Every answer but the one that is asked for goes round again, and in the end no further.
  void repeat(const Entry& asks) {
    const Atom* atom = answer_in(asks.until);
    if (!atom) return;
    std::vector<Made>& made = of(atom->decision);
    for (std::size_t answer = 0; answer < made.size(); ++answer) made[answer].emergencies += (atom->answer == answer) == atom->negated;
  }

  const model::Protocol& protocol_;
  const graph::Course& course_;
  std::map<DecisionId, std::vector<Made>> made_;
};

}  // namespace

MainWay::MainWay(const model::Protocol& protocol, const model::Variant& variant, const graph::Course& course)
    : protocol_(protocol), course_(course), usual_(AnswerCount(protocol, course).best()) {
  for (const graph::Run& run : course.runs) {
    arms_.emplace_back();
    for (std::size_t i = 0; i < run.entries.size(); ++i) {
      arms_.back().push_back(chosen(run.entries[i], nullptr));
      if (!arms_.back().back() && run.entries[i].what == Entry::What::question) arms_.back().back() = best_arm(protocol, course, run, i);
    }
  }
  graph::QuietState state(protocol, variant);
  follow(course.trunk, state);
}

std::optional<std::size_t> MainWay::arm(RunId run, std::size_t at) const { return arms_[run.value][at]; }

std::vector<bool> MainWay::passes(RunId run) const {
  std::vector<bool> passed(course_[run].entries.size(), false);
  come_through(run, &passed);
  return passed;
}

/// Whether the way comes to the end of a run that it comes to, and does not end on it; where it passes.
bool MainWay::come_through(RunId run, std::vector<bool>* passed) const {
  const std::vector<Entry>& entries = course_[run].entries;
  for (std::size_t i = 0; i < entries.size();) {
    if (passed) (*passed)[i] = true;
    if (ends(entries[i])) return false;
    const std::optional<std::size_t> taken = arms_[run.value][i];
    const Fork* aside = taken && !entries[i].forks[*taken].is_trunk ? &entries[i].forks[*taken] : nullptr;
    if (aside && aside->run && !come_through(aside->run, nullptr)) return false;
    i = aside ? entries[i].skip_to : i + 1;
  }
  return true;
}

bool MainWay::comes_to_emergency(RunId run) const {
  const std::vector<Entry>& entries = course_[run].entries;
  for (std::size_t i = 0; i < entries.size();) {
    if (ends(entries[i])) return entries[i].what == Entry::What::finish && !protocol_[entries[i].ending].normal;
    const std::optional<std::size_t> taken = arms_[run.value][i];
    const Fork* aside = taken && !entries[i].forks[*taken].is_trunk ? &entries[i].forks[*taken] : nullptr;
    if (aside && aside->run && !come_through(aside->run, nullptr)) return comes_to_emergency(aside->run);
    i = aside ? entries[i].skip_to : i + 1;
  }
  return false;
}

/// What the heavy line does from the begin of a run, and which arms it takes there. False: it comes to an ending.
bool MainWay::follow(RunId run, graph::QuietState& state) {
  const std::vector<Entry>& entries = course_[run].entries;
  for (std::size_t i = 0; i < entries.size();) {
    const Entry& entry = entries[i];
    if (ends(entry)) return false;
    if (entry.what == Entry::What::step) state.apply(protocol_[entry.line]);
    if (entry.what == Entry::What::box)
      for (const Entry& inner : course_[course_[entry.box].run].entries)
        if (inner.what == Entry::What::step) state.apply(protocol_[inner.line]);
    if (entry.what != Entry::What::question) {
      ++i;
      continue;
    }
    const std::size_t taken = arms_[run.value][i].emplace(chosen(entry, &state).value_or(entry.forks.size() - 1));
    const Fork& fork = entry.forks[taken];
    if (!fork.is_trunk && fork.run && !follow(fork.run, state)) return false;
    i = fork.is_trunk ? i + 1 : entry.skip_to;
  }
  return true;
}

/// `state`: of whoever comes to the question on the trunk; none elsewhere.
std::optional<std::size_t> MainWay::chosen(const Entry& question, const graph::QuietState* state) const {
  if (question.what != Entry::What::question) return std::nullopt;
  if (const auto usual = usual_.find(decision_of(question)); usual != usual_.end()) return arm_for(question, usual->second);
  for (std::size_t f = 0; f < question.forks.size(); ++f) {
    const Fork& fork = question.forks[f];
    if (state ? fork.is_otherwise || state->answer(fork.condition) : fork.is_trunk) return f;
  }
  return std::nullopt;
}

}  // namespace stepward::emit::flow_chart
