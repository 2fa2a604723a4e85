// Is the comparison of slips worth anything? Faults are planted in the search that is compared, one at a time. Each must make it differ from
// brute force on some random procedure.

#include "doctest/doctest.h"

#include "slip_brute.hpp"
#include "trial.hpp"

using namespace stepward::oracle;

namespace {

constexpr std::uint64_t most_tried = 60;

/// The first procedure on which the search differs; none: the fault went unnoticed.
std::uint64_t noticed_at(SlipFault fault) {
  for (std::uint64_t number = 0; number < most_tried; ++number) {
    const Trial trial = read_procedure(number);
    if (trial.protocol && !compare_slips(*trial.protocol, {10, 6, number, fault}).differs.empty()) return number;
  }
  return most_tried;
}

}  // namespace

TEST_CASE("slips by brute force: planted faults are noticed") {
  for (const SlipFault fault : {SlipFault::harm_unweighed, SlipFault::harm_stops, SlipFault::way_astray, SlipFault::third_forgotten, SlipFault::third_repeated}) {
    CAPTURE(static_cast<int>(fault));
    CHECK(noticed_at(fault) < most_tried);
  }
}
