#pragma once
// The flow chart as BPMN 2.0, for process tools: what is done, and a diagram of it (BPMNDI).
//
//   the course     a process in a pool with a lane for each person; phases are groups around their steps
//   a box          a process of its own in a pool below, which the steps that send the reader there call
//   at any time    an event sub-process of the course: interrupting if its lines never come back to the step that was
//                  struck, otherwise not
//   a question     an exclusive gateway; whatever no condition asks for is its default flow
//   two at once    a parallel gateway before and after
//   an ending      an end event; out of a box or an interruption an error, which an event sub-process of the course
//                  catches, so that the course ends as well
//
// Conditions and tasks are words for people: the process is described, not executable.

#include <string>
#include <vector>

#include "emit/flow_chart/drawn.hpp"

namespace stepward::emit::bpmn {

/// What is to be placed, one sketch a band of the chart.
std::vector<layout::Sketch> sketches(const flow_chart::Chart& chart);

/// One document with a collaboration and a diagram for each variant.
std::string as_bpmn(const std::vector<flow_chart::PlacedChart>& charts);

}  // namespace stepward::emit::bpmn
