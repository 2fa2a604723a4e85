// Published removal orders against the physics, with no rule imported.
//
// Full sets under *ordinary hands* and basic sheets under *perfect hands* must raise nothing. Basic sheets under ordinary
// hands must raise their one known conflict, hands not cleaned before an item on the face, and nothing else.
// Each order carries its source and how far it was checked; orders from memory are kept as regression only.

#include <algorithm>

#include "doctest/doctest.h"

#include "removal_orders.hpp"

using namespace stepward::published;

TEST_CASE("published full sets raise nothing under ordinary hands") {
  for (const Order& order : full_sets()) {
    const Checked checked = check_text(protocol_text(order, {}));
    CAPTURE(order.id);
    CAPTURE(codes(checked));
    CHECK(checked.complete);
    CHECK(checked.errors.empty());
  }
}

TEST_CASE("published basic sheets raise nothing under perfect hands") {
  for (const Order& order : basic_sheets()) {
    const Checked checked = check_text(protocol_text(order, {.reading = "perfect hands"}));
    CAPTURE(order.id);
    CAPTURE(codes(checked));
    CHECK(checked.complete);
    CHECK(checked.errors.empty());
  }
}

TEST_CASE("basic sheets under ordinary hands raise only unclean hands at an item on the face") {
  // Where gloves leave first and uncleaned, and a face item follows before hands are cleaned, the sheets' own condition
  // ("between steps if hands become contaminated") is what ordinary hands meet. The later sheets clean hands in between.
  for (const Order& order : basic_sheets()) {
    const Checked checked = check_text(protocol_text(order, {}));
    CAPTURE(order.id);
    CAPTURE(codes(checked));
    CHECK(checked.complete);
    CHECK(checked.errors.empty() == !order.needs_perfect_hands);
    for (const auto& d : checked.errors) CHECK(d.code == stepward::diagnostics::Code::P101);
  }
}

TEST_CASE("the two examples of the basic sheet are the only orders that need perfect hands") {
  for (const Order& order : all_removal_orders()) CHECK(order.needs_perfect_hands == (order.id.substr(0, 12) == "basic sheet,"));
}
