#pragma once
// How much room text takes, without a font: a generous reckoning by kinds of letters, the same on every machine.
//
// A chart is placed before anybody knows with which sans-serif face it will be shown, so widths are those of a wide one;
// in a narrower one there is a little more white around the words.

#include <string>
#include <string_view>
#include <vector>

namespace stepward::emit::flow_chart {

/// Width of a text in units of its font size.
double width_in_ems(std::string_view text);

/// The text in lines of at most `ems`, broken at spaces; a word that is longer by itself is cut between characters. Nothing
/// is lost but the spaces at the breaks.
std::vector<std::string> wrapped(std::string_view text, double ems);

}  // namespace stepward::emit::flow_chart
