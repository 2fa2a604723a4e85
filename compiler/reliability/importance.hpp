#pragma once
// How much each event matters for a harm, by measures of which each has one definition here.
//
// Q is the chance of the harm, q of the event, Q1 the harm's chance if the event is certain, Q0 if it never happens.
//
//   Birnbaum                    Q1 - Q0                       what the harm moves by when the event goes from never to always
//   criticality                 (Q1 - Q0) q / Q  =  1 - 1/RRW share of the harm that goes away with the event
//   Fussell-Vesely, by cut sets chance that some cut set with the event happens, divided by Q
//   diagnostic (DIF)            q Q1 / Q  =  q RAW            chance that the event has happened, given the harm
//   RAW, risk achievement worth Q1 / Q                        "what if this line is always left out"
//   RRW, risk reduction worth   Q / Q0                        "what if it never goes wrong"; infinite if nothing is left of the harm
//
// Programs and papers call both the second and the third "Fussell-Vesely"; they agree for rare events only, and a page that
// prints one has to say which. Always criticality <= Fussell-Vesely <= diagnostic.
//
// Worked example (cut_sets.hpp): p1 with 0.6: Q1 = 0.85, Q0 = 0.34, Q = 0.646. Birnbaum 0.51, criticality 0.4737, diagnostic and
// Fussell-Vesely 0.7895, RAW 1.316, RRW 1.9.
//
// Published tables often reckon Q itself as the rare-event sum. `importance_by_rare_events` does so throughout, uncut, and exists to be
// held against them; for large chances its RAW can promise more than certainty.

#include <vector>

#include "reliability/cut_sets.hpp"
#include "reliability/decision_diagram.hpp"

namespace stepward::reliability {

struct Importance {
  EventId event;
  double chance = 0;
  double birnbaum = 0;
  double criticality = 0;
  double fussell_vesely_by_cut_sets = 0;
  double diagnostic = 0;
  double risk_achievement = 1;  ///< infinite where the harm cannot happen now and could with the event
  double risk_reduction = 1;    ///< may be infinite
};

struct HarmImportance {
  double chance = 0;  ///< of the harm
  std::vector<Importance> events;  ///< those that are in a cut set, in the order of their ids
};

/// Exact. The tree came out of `minimal`. Why::too_large as `diagram_of`.
Answer<HarmImportance> importance_of(const HarmTree& tree, std::size_t most_nodes = largest_diagram);

/// With the rare-event sum for every chance of the harm.
HarmImportance importance_by_rare_events(const HarmTree& tree);

/// Ranks for the reader: RAW first, then Fussell-Vesely by cut sets (both to nine figures), then the order of events.
std::vector<EventId> ranked(const HarmImportance& importance);

}  // namespace stepward::reliability
