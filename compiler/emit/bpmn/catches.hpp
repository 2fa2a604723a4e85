#pragma once
// What catches the endings that are errors. Part of `as_bpmn`.
//
// An ending out of a box or an interruption ends more than the process that it stands in: it is thrown as an error, and BPMN
// 2.0 leaves it open what an error does that nobody catches ("Handling Events"; from memory). So the course gets an event sub-process for each
// such ending, interrupting, that catches it and ends. It is drawn as another band at any time.

#include "emit/flow_chart/chart.hpp"

namespace stepward::emit::bpmn {

/// The chart with a band behind all others for each ending that is thrown.
flow_chart::Chart with_catches(const flow_chart::Chart& chart);

bool is_catch(const flow_chart::Band& band);

/// By which an error is told from others.
std::string error_key(const flow_chart::Shape& ending);

}  // namespace stepward::emit::bpmn
