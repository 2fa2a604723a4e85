#pragma once
// What is no line: how a run begins, how it ends, and what an interruption does by itself.

#include "step.hpp"

namespace stepward::oracle {

/// Section 1, "at the start": the world before the first line, with the `start` moment done.
void begin(Step& step);
/// Section 4, `finish as E`.
void finish(Step& step, EndingId ending);
/// Section 4, "An interruption strikes": its `happens` lines.
void strike(Step& step, InterruptionId interruption);

}  // namespace stepward::oracle
