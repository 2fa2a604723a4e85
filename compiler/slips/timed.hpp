#pragma once
// What a confirm sees of a slip, and whether somebody times a contact time.
//
// That a thing shines wet shows at once, and says nothing of ten minutes. Somebody sees that a contact time was not kept only where a
// timer runs that is to run at least as long, and another person than the one who waits has started it. That it runs is asked of the
// states of ordinary runs, so it holds on every run that comes to the line.

#include <string>

#include "explore/deviation.hpp"
#include "slips/slipped_system.hpp"

namespace stepward::slips {

/// "the timer “soak” of observer, 10 min"; empty: nobody does. `at`: where runs stand before `line`, a disinfection or a wait for a contact time.
std::string timed_by(const model::Protocol& protocol, const SlippedSystem& made, const explore::Trodden& trodden, graph::NodeId at, const model::Line& line);

/// What whoever confirms has to watch for of a slip other than a time that is not kept; empty: there is no such confirm.
std::string seen_by_confirm(const model::Protocol& protocol, const SlippedSystem& made, const graph::SlipWay& way);

}  // namespace stepward::slips
