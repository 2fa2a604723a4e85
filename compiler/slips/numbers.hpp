#pragma once
// How likely, if the author asks for it by the name of a published set: what the weak points weigh against each other.
//
// Two kinds of slips have published figures: a line that is left out, and a look or a confirm that misses (reliability/therp.hpp). For
// all others there are none, and none is made up: they are counted as *not reckoned*. A look can miss only what is there, and how
// often that is nobody has published either: looks are reckoned where the author says it.
//
// The sets of slips that come to harm are those of the table: weak points, pairs, sets of three where they were looked for, and slips that
// only a confirm holds back together with that confirm, which is the likelier to fail as it depends on the one who slipped. Each variant is a harm tree of its own, and
// its chance is exact (reliability/decision_diagram.hpp). Every branch counts as needed, and a line
// that several places call as one chance to slip. So the numbers compare drafts of one protocol; they predict nothing.
//
// Worked example: hands are left undisinfected with 0.003 (a long ticked list), and the observer, who has it in writing what to see, misses it with
// 0.1, at moderate dependence (1 + 0.6) / 7: together 0.000686.

#include "reliability/bands.hpp"
#include "reliability/dependence.hpp"
#include "reliability/importance.hpp"
#include "reliability/therp.hpp"
#include "slips/harm_graph.hpp"
#include "slips/table.hpp"

namespace stepward::slips {

struct NumbersRequest {
  std::string set;                              ///< "THERP-1983"
  std::vector<reliability::Override> overrides;
  reliability::Dependence dependence = reliability::Dependence::moderate;
  reliability::Stress stress = reliability::Stress::optimum;
  reliability::Experience experience = reliability::Experience::skilled;
  std::optional<double> something_to_see;       ///< the chance that soil or a tear is there when somebody looks; none: looks are not reckoned
};

/// One slip, or one confirm that is not made, with its chance.
struct Event {
  std::size_t row = 0;
  bool is_confirm = false;
  double chance = 0;                            ///< after stress; of a confirm: given the slip
  double error_factor = 1;
};

/// Of one variant.
struct VariantNumbers {
  std::size_t variant = 0;
  double chance = 0;                            ///< of any harm, exact from the medians
  bool exact = true;                            ///< false: too many sets; `chance` is the upper bound
  reliability::Band band;
  reliability::HarmImportance importance;       ///< empty where it is not exact
  std::vector<reliability::EventId> ranked;
};

struct Numbers {
  std::vector<HarmBounds> on_graph;             ///< by variant (exit_chances.hpp); empty: not reckoned
  std::vector<Event> events;                    ///< by EventId, of all variants
  std::vector<VariantNumbers> variants;
  std::vector<std::pair<std::string, reliability::UsedFigure>> figures;  ///< that were used, by name, each once
  std::size_t not_reckoned = 0;                 ///< weak points whose slip has no figure
  bool order_hangs_on_dependence = false;       ///< at low or high dependence other lines come first
};

/// `table` was made with two slips at once, or three. Refused: an unknown set, one without figures for lines and checks, figures that are none.
reliability::Answer<Numbers> numbers_of(const Table& table, const NumbersRequest& request);

}  // namespace stepward::slips
