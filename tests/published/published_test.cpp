// Published removal orders against the physics, with no rule imported.
//
// Full sets under *ordinary hands* and basic sheets under *perfect hands* must raise nothing. Basic sheets under ordinary
// hands must raise their one known conflict, hands not cleaned before an item on the face, and nothing else.
// Each order carries its source and how far it was checked; orders from memory are kept as regression only.

#include <algorithm>

#include "doctest/doctest.h"

#include "orders.hpp"

using namespace stepward::published;

namespace {

constexpr std::string_view layered = "boot covers, inner gloves, gown, outer gloves";
constexpr std::string_view layered_n95 = "boot covers, inner gloves, gown, respirator, hood, face shield, outer gloves";

const std::vector<Order>& full_sets() {
  static const std::vector<Order> orders = {
      {"powered hood and gown, October 2014", "CDC, Guidance on PPE for US hospitals, 20 October 2014; list from memory, training pages doffing 02, 09 to 12, 17 read",
       Mark::memory_high, "boot covers, inner gloves, gown, apron, outer gloves, powered hood",
       {"look gown", "look outer gloves", "hh", "off apron", "look gown", "hh", "off boot covers", "hh", "off outer gloves", "look inner gloves", "hh",
        "off powered hood", "hh", "off gown", "hh", "wipe shoes", "hh", "off inner gloves", "hh", "look scrubs", "exit"}},
      {"respirator and gown, October 2014", "CDC, Guidance on PPE for US hospitals, 20 October 2014; list from memory, training pages doffing 01, 08, 16 read",
       Mark::memory_high, "boot covers, inner gloves, gown, apron, respirator, hood, face shield, outer gloves",
       {"look gown", "look outer gloves", "hh", "off apron", "look gown", "hh", "off boot covers", "hh", "off outer gloves", "look inner gloves", "hh",
        "off face shield", "hh", "off hood", "hh", "off gown", "hh", "change inner gloves", "off respirator", "hh", "wipe shoes", "hh",
        "off inner gloves", "hh", "look scrubs", "exit"}},
      {"powered hood and gown, August 2015", "CDC guidance revised 27 August 2015; the five changes read in a trade page of July 2016, full list from memory",
       Mark::memory_medium, "boot covers, inner gloves, gown, apron, outer gloves, powered hood",
       {"look gown", "hh", "off apron", "look gown", "hh", "off outer gloves", "look inner gloves", "hh", "off powered hood", "hh", "off gown", "hh",
        "off boot covers", "hh", "change inner gloves", "wipe shoes", "hh", "off inner gloves", "hh", "exit"}},
      {"respirator and gown, August 2015", "CDC guidance revised 27 August 2015; the five changes read in a trade page of July 2016, full list from memory",
       Mark::memory_medium, "boot covers, inner gloves, gown, apron, respirator, hood, face shield, outer gloves",
       {"look gown", "hh", "off apron", "look gown", "hh", "off outer gloves", "look inner gloves", "hh", "off face shield", "hh", "off hood", "hh",
        "off gown", "hh", "off boot covers", "hh", "change inner gloves", "off respirator", "hh", "wipe shoes", "hh", "off inner gloves", "hh", "exit"}},
      {"coverall training set with respirator", "CDC one-step-a-page training set; pages doffing 04, 08, 18 (respirator) and 12, 14, 21 (powered hood) read, the rest reconstructed",
       Mark::memory_medium, "boot covers, inner gloves, coverall, apron, respirator, hood, face shield, outer gloves",
       {"look coverall", "hh", "off apron", "hh", "off outer gloves", "look inner gloves", "off face shield", "hh", "off hood", "hh", "off coverall", "hh",
        "off boot covers", "change inner gloves", "off respirator", "hh", "wipe shoes", "off inner gloves", "hh", "look scrubs", "exit"}},
      {"gown poster with head cover", "WHO, Steps to take off PPE including gown, 2014-2015; from memory", Mark::memory_medium,
       "boot covers, inner gloves, gown, respirator, face shield, hood, apron, outer gloves",
       {"hh", "off apron", "hh", "off outer gloves", "hh", "off hood", "hh", "off gown", "hh", "off face shield", "hh", "off respirator", "hh",
        "off boot covers", "hh", "wipe shoes", "hh", "off inner gloves", "hh", "exit"}},
      {"coverall poster with head cover", "WHO, Steps to take off PPE including coverall, 2014-2015; from memory", Mark::memory_high,
       "boot covers, inner gloves, coverall, respirator, face shield, hood, apron, outer gloves",
       {"hh", "off apron", "hh", "off hood", "hh", "off coverall & outer gloves", "hh", "off face shield", "hh", "off respirator", "hh", "off boot covers", "hh",
        "wipe shoes", "hh", "off inner gloves", "hh", "exit"}},
      {"field order, 2014", "CDC order for West Africa as drawn in a newspaper graphic of October 2014; read in that account", Mark::read_in_another,
       "boot covers, inner gloves, gown, respirator, face shield, hood, apron, outer gloves",
       {"hh", "off outer gloves", "hh", "off apron", "hh", "off gown", "hh", "off boot covers", "hh", "off hood", "hh", "wipe shoes", "hh", "off inner gloves",
        "hh", "off face shield", "hh", "off respirator", "hh", "exit"}},
  };
  return orders;
}

const std::vector<Order>& basic_sheets() {
  static const std::vector<Order> orders = {
      {"basic sheet, example 1", "CDC, How to safely remove PPE, example 1 (sheet of about 2014); read in two teaching pages", Mark::read_in_another,
       "gown, respirator, face shield, inner gloves", {"off inner gloves", "off face shield", "off gown", "off respirator", "hh", "exit"}, "middle"},
      {"basic sheet, example 2", "CDC, How to safely remove PPE, example 2 (sheet of about 2014); from memory", Mark::memory_high,
       "gown, respirator, face shield, inner gloves", {"off gown & inner gloves", "off face shield", "off respirator", "hh", "exit"}, "middle"},
      {"order of 2020", "CDC order for COVID-19 as cited in a journal's table; read in that account", Mark::read_in_another,
       "gown, respirator, face shield, inner gloves", {"off inner gloves", "off gown", "exit", "hh", "off face shield", "off respirator", "hh"}, "middle"},
      {"droplet order, 2020", "PHE guidance for droplet precautions, 2020; read in two other accounts", Mark::read_in_another,
       "apron, respirator, face shield, inner gloves", {"off inner gloves", "hh", "off apron", "exit", "off face shield", "hh", "off respirator", "hh"}, "middle"},
  };
  return orders;
}

}  // namespace

TEST_CASE("published full sets raise nothing under ordinary hands") {
  for (const Order& order : full_sets()) {
    const Checked checked = check_text(protocol_text(order, "ordinary hands"));
    CAPTURE(order.id);
    CAPTURE(codes(checked));
    CHECK(checked.complete);
    CHECK(checked.errors.empty());
  }
}

TEST_CASE("published basic sheets raise nothing under perfect hands") {
  for (const Order& order : basic_sheets()) {
    const Checked checked = check_text(protocol_text(order, "perfect hands"));
    CAPTURE(order.id);
    CAPTURE(codes(checked));
    CHECK(checked.complete);
    CHECK(checked.errors.empty());
  }
}

TEST_CASE("basic sheets under ordinary hands raise only unclean hands at an item on the face") {
  // Where gloves leave first and uncleaned, and a face item follows before hands are cleaned, the sheets' own condition
  // ("between steps if hands become contaminated") is what ordinary hands meet. Two later sheets clean hands in between.
  const std::vector<std::string> conflict = {"basic sheet, example 1", "basic sheet, example 2"};
  for (const Order& order : basic_sheets()) {
    const Checked checked = check_text(protocol_text(order, "ordinary hands"));
    CAPTURE(order.id);
    CAPTURE(codes(checked));
    const bool expected = std::find(conflict.begin(), conflict.end(), order.id) != conflict.end();
    CHECK(checked.complete);
    CHECK(checked.errors.empty() == !expected);
    for (const auto& d : checked.errors) CHECK(d.code == stepward::diagnostics::Code::P101);
  }
}
