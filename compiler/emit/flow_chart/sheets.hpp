#pragma once
// The chart on sheets: one large one for a screen or a plotter, or pages of any size.
//
// Pieces (pieces.hpp) stand in columns, filled from top to bottom and from left to right: the phases, then the boxes, then,
// apart, what may happen at any time. On one sheet the columns are as high as it takes for the sheet to lie on
// its side, and only a band that is much higher is cut. On pages a column is as high as the page, and what is higher is cut. The head says which document
// this is; the key says what the shapes mean, and only of those that stand in the chart.
//
// Owned by whoever asked. Whoever has pages with a head of their own (a dossier) leaves out ours.

#include <string>
#include <vector>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/picture.hpp"

namespace stepward::emit::flow_chart {

/// On pages the words of a chart, 12 points, are 9 points high; where a band is wider than the page, less, but never under 7.2,
/// which is as small as print that is held in the hand should be (common practice, no standard).
constexpr double scale_on_pages = 0.75, smallest_scale = 0.6;

struct Page {
  double width = 0, height = 0;  ///< room for the chart, margins taken off
  bool with_head = true;         ///< title and document control stand on the page
};

/// All variants on one sheet, beside each other.
Picture one_sheet(const std::vector<PlacedChart>& charts);

/// One variant on pages, each of that size. All are drawn at one scale. If it would have to be smaller than
/// `smallest_scale`, there are no pages: such a chart needs a larger sheet.
std::vector<Picture> cut_to(const PlacedChart& chart, const Page& page);

/// A picture as an SVG of its own. `name`: what is shown, `told`: what it shows, for those who do not see it.
std::string svg_of(const Picture& picture, const std::string& language, const std::string& name, const std::string& told);

/// What a chart is called, and what it shows in words.
std::string name_of(const Chart& chart);
std::string told_of(const Chart& chart);

}  // namespace stepward::emit::flow_chart
