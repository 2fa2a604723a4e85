#include "reliability/heart.hpp"

#include <algorithm>

#include "reliability/tables.hpp"

namespace stepward::reliability {
namespace {

constexpr std::string_view heart_task = "HEART generic tasks, from a public re-typing";
constexpr std::string_view heart_list = "HEART error-producing conditions, from a public re-typing";

constexpr Figure task(std::string_view name, double value) { return chance(name, value, 0, Mark::second_hand, heart_task); }
constexpr Figure condition(std::string_view name, double value) { return times(name, value, Mark::second_hand, heart_list); }

constexpr Figure heart_rows[] = {
    task("task A", 0.55),           // unfamiliar, at speed, no idea of what follows
    task("task B", 0.26),           // to a new state in one go, without supervision or procedures
    task("task C", 0.16),           // complex, needs understanding and skill
    task("task D", 0.09),           // simple, at speed or with little attention
    task("task E", 0.02),           // routine, practised, quick, little skill
    task("task F", 0.003),          // to another state by procedures, with some checking
    task("task G", 0.0004),         // familiar, practised, well designed, time to correct
    task("task H", 0.00002),        // a system watches and corrects
    task("task M", 0.03),           // none of these
    condition("condition 1", 17),   // unfamiliar and rare
    condition("condition 2", 11),   // short of time
    condition("condition 3", 10),   // signal hard to tell from noise
    condition("condition 4", 9),    // information easily overridden
    condition("condition 5", 8),    // information that does not fit what is done
    condition("condition 6", 8),    // the doer's picture is not the designer's
    condition("condition 7", 8),    // cannot be undone
    condition("condition 8", 6),    // too much to take in at once
    condition("condition 9", 6),    // an opposite technique has to be unlearnt
    condition("condition 10", 5.5), // knowledge has to be carried from task to task
    condition("condition 11", 5),   // what is good enough is not clear
    condition("condition 12", 4),   // risk looks smaller than it is
    condition("condition 13", 4),   // poor feedback
    condition("condition 14", 4),   // no direct confirmation
    condition("condition 15", 3),   // inexperienced
    condition("condition 16", 3),   // poor information from procedures or people
    condition("condition 17", 3),   // little independent checking
    condition("condition 18", 2.5), // conflicting aims
    condition("condition 19", 2.5), // one kind of information only
    condition("condition 20", 2),   // education does not match the task
    condition("condition 21", 2),   // something rewards the dangerous way
    condition("condition 22", 1.8), // little exercise for mind or body
    condition("condition 23", 1.6), // unreliable instruments
    condition("condition 24", 1.6), // absolute judgement beyond what people can do
    condition("condition 25", 1.6), // who does what is not clear
    condition("condition 26", 1.4), // nobody keeps track of progress
    condition("condition 27", 1.4), // beyond bodily strength
    condition("condition 28", 1.4), // little meaning in the task
    condition("condition 29", 1.3), // emotional stress
    condition("condition 30", 1.2), // ill health
    condition("condition 31", 1.2), // low morale
};

}  // namespace

std::span<const Figure> heart_figures() { return heart_rows; }

std::string heart_task_figure(char kind) { return std::string("task ") + kind; }
std::string heart_condition_figure(unsigned number) { return "condition " + std::to_string(number); }

Answer<double> heart_chance(const Choice& heart, char kind, const std::vector<WorseningCondition>& conditions) {
  const Answer<UsedFigure> nominal = figure_of(heart, heart_task_figure(kind));
  if (const Refusal* no = refused(nominal)) return *no;
  double chance_to_fail = given(nominal)->estimate.value;
  for (const WorseningCondition& each : conditions) {
    const Answer<UsedFigure> full = figure_of(heart, heart_condition_figure(each.number));
    if (const Refusal* no = refused(full)) return *no;
    if (const auto no = unless_probability(each.share, heart_condition_figure(each.number))) return *no;
    chance_to_fail *= (given(full)->estimate.value - 1) * each.share + 1;
  }
  return std::min(1.0, chance_to_fail);
}

}  // namespace stepward::reliability
