#include "slips/exit_chances.hpp"

#include <algorithm>
#include <map>

#include "base/side_by_side.hpp"
#include "model/variants.hpp"
#include "rules/advice.hpp"
#include "slips/timed.hpp"
#include "slips/variant_slips.hpp"

namespace stepward::slips {
namespace {

using reliability::Answer;
using reliability::Refusal;

/// Chances by slip, as the table has them, laid on the ways of a variant.
class Figures {
 public:
  Figures(const model::Protocol& advised, const Table& table, const Numbers& numbers, const NumbersRequest& request) : advised_(advised) {
    for (const Event& event : numbers.events) {
      const Row& row = table.rows[event.row];
      if (row.outcome == Outcome::not_modelled) continue;
      WayChance& chance = of_[row.key];
      const Answer<double> missed = reliability::given_failure(request.dependence, event.chance);
      if (!event.is_confirm) chance.slips = event.chance;
      else if (reliability::given(missed)) chance.unseen = *reliability::given(missed);
    }
  }

  std::vector<WayChance> on(const SlippedSystem& made) const {
    std::vector<WayChance> out;
    for (const graph::SlipWay& way : made.ways.ways) {
      const auto known = of_.find(key_of(advised_, made, way));
      out.push_back(known == of_.end() ? WayChance{} : known->second);
      if (out.back().unseen < 1 && seen_by_confirm(advised_, made, way).empty()) out.back().unseen = 1;
    }
    return out;
  }

 private:
  const model::Protocol& advised_;
  std::map<Key, WayChance> of_;
};

}  // namespace

Answer<std::vector<HarmBounds>> exit_chances(const model::Protocol& protocol, const Options& options, const Table& table, const Numbers& numbers, const NumbersRequest& request) {
  const model::Protocol advised = rules::with_rules_as_advice(protocol);
  const std::vector<model::Variant> all = model::all_variants(protocol);
  const Figures figures(advised, table, numbers, request);
  std::vector<Answer<HarmBounds>> answers(table.variants.size(), HarmBounds());
  side_by_side(answers.size(), std::max(1u, options.workers), [&](std::size_t i) {
    const SlippedSystem made = slipped_system(advised, all[options.only_variant.value_or(i)]);
    answers[i] = harm_bounds(made, harm_kinds(advised, made), figures.on(made), std::min(options.limit, most_states_on_graph));
  });
  std::vector<HarmBounds> out;
  for (const Answer<HarmBounds>& answer : answers) {
    if (const Refusal* no = reliability::refused(answer)) return *no;
    out.push_back(*reliability::given(answer));
  }
  return out;
}

}  // namespace stepward::slips
