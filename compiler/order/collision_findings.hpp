#pragma once
// Rules that collide, as findings beside the errors that they explain: F119 for a pair, F120 for a phase that was not searched to the end.
//
// They are notes. What is wrong is the broken rule, which is an error and stands there already; that another rule would be broken if the
// lines changed places is the reason why mending by order goes round in a circle. One finding a pair and phase, however many situations,
// paths and variants hold it. What an order block was told of the same two rules (F116) is not said again.

#include "order/phase_collisions.hpp"
#include "order/settle.hpp"

namespace stepward::order {

/// Searches where `walks` found a rule broken, and puts what it finds into `sink`. `settled`: what the order blocks were told.
void report_collisions(const model::Protocol& protocol, const std::vector<check::VariantWalk>& walks, const std::vector<Settled>& settled,
                       const PhaseOptions& options, const source::Files& files, diagnostics::Sink& sink);

}  // namespace stepward::order
