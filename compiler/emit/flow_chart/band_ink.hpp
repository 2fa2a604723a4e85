#pragma once
// What stands in one band, as marks, where its drawing places it. Part of `pieces_of`.

#include <vector>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/picture.hpp"

namespace stepward::emit::flow_chart {

/// The marks of one shape, or the words beside a way: what must not be torn.
struct Whole {
  double top = 0, bottom = 0;
  std::vector<Mark> marks;
};

struct BandInk {
  std::vector<Mark> ways;      ///< curves; they lie below everything else
  std::vector<Whole> wholes;
};

BandInk ink_of_band(const Band& band, const layout::Drawing& drawing, const std::string& prefix);

}  // namespace stepward::emit::flow_chart
