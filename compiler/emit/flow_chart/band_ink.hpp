#pragma once
// What stands in one band, as marks, where its drawing places it. Part of `pieces_of`.

#include <optional>
#include <string>
#include <vector>

#include "emit/flow_chart/drawn.hpp"
#include "emit/flow_chart/picture.hpp"

namespace stepward::emit::flow_chart {

/// The marks of one shape, or the words beside a way: what must not be torn.
struct Whole {
  double top = 0, bottom = 0;
  std::vector<Mark> marks;
  std::optional<std::size_t> way;  ///< of words beside a way: which one, by its position in BandInk::ways
};

struct BandInk {
  std::vector<Mark> ways;      ///< curves; they lie below everything else
  std::vector<std::string> from, to;  ///< by way: what a reader would look for at its ends, "14", "Q7"
  std::vector<std::string> answers;   ///< by way: the answer that opens it; empty: none does
  std::vector<Whole> wholes;
};

/// `onward`: what the next phase begins with.
BandInk ink_of_band(const Band& band, const layout::Drawing& drawing, const std::string& prefix, const std::string& onward);

/// The number that a band begins with; the words of its first shape if that has none.
std::string first_number_of(const Band& band);

}  // namespace stepward::emit::flow_chart
