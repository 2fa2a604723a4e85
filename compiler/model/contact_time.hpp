#pragma once
// How long an agent has to stay on a thing: the first entry one of whose targets fits it, else the one for everything else.
//
// What fits is for the caller to say: papers ask it of things as lines name them, effects of what bears dirt.

#include <algorithm>

#include "model/things.hpp"

namespace stepward::model {

/// Nought where no entry fits and none is for everything else. `fits`: of a target.
template <class Fits>
Duration contact_time_where(const Agent& agent, Fits fits) {
  for (const ContactTime& each : agent.contact_times)
    if (std::any_of(each.on.begin(), each.on.end(), fits)) return each.time;
  const auto otherwise = std::find_if(agent.contact_times.begin(), agent.contact_times.end(), [](const ContactTime& each) { return each.on.empty(); });
  return otherwise == agent.contact_times.end() ? Duration{} : otherwise->time;
}

}  // namespace stepward::model
