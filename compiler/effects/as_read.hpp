#pragma once
// A lowered system to be read and not walked: which effects a line can have, and which rules it can break.

#include "effects/from_graph.hpp"

namespace stepward::effects {

/// As `finish`, but strikes are not cut down to what can happen at each place, which is most of its work.
System as_read(Lowered lowered);

}  // namespace stepward::effects
