#include "operations.hpp"

namespace stepward::mutations {
namespace {

const Operation all_mistakes[] = {
    {"a disinfection between removals deleted", disinfections_deleted, false},
    {"two removals swapped", removals_swapped, false},
    {"the tear question before the soil question", tear_before_soil, false},
    {"strong chlorine where hands may be bare", chlorine_at_bare_hands, false},
    {"a hand rub after the last glove deleted", last_rubs_deleted, false},
    {"an arm or an ending deleted", arms_and_endings_deleted, true},
    {"a loop whose body cannot change its answer", loops_without_look, true},
    {"a question before anyone looked", questions_before_look, true},
    {"the respirator off before the suit", respirator_before_suit, false},
    {"a dirty item carried over the border", carried_over_border, false},
    {"a removal deleted", removals_deleted, false},
    {"an item put on under another", put_on_under, true},
};

}  // namespace

std::span<const Operation> mistakes() { return all_mistakes; }

std::vector<Mutant> chosen(std::vector<Mutant> all, std::size_t most) {
  if (all.size() <= most) return all;
  std::vector<Mutant> out;
  for (std::size_t i = 0; i < most; ++i) out.push_back(std::move(all[i * all.size() / most]));
  return out;
}

}  // namespace stepward::mutations
