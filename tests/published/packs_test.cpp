// Every published order under every rule pack of the standard library.
//
// An order keeps its own packs. Under the others it shows what the sources differ in: the table below says, for each rule,
// which orders break it and which question between the sources that is (numbers C1 to C21 of the facts sheet; "looks":
// the other source has no such look; "hood": before or after the suit). A rule that is not in the table is broken by no order. Where a rule
// says the same as a row of the published matrix, the two must agree as well.
//
// Sheets with one pair of gloves are read with perfect hands: with ordinary ones the bare hand behind the gloves is not
// clean, and two of them bring it to the face.

#include <algorithm>
#include <set>
#include <sstream>

#include "doctest/doctest.h"

#include "matrix.hpp"
#include "removal_orders.hpp"
#include "resolve/standard_library.hpp"

using namespace stepward::published;

namespace {

const std::vector<std::string> all_packs = {
    "basic-precautions",        "basic-eye-cover-inside",  "basic-eye-cover-outside",      "layered-exit",
    "layered-exit-boots-first", "layered-exit-boots-last", "layered-exit-head-cover-first", "layered-exit-bare-hands-at-the-face"};

// Orders in short: basic sheets e1 e2 20 on uk; full sets p14 n14 p15 n15 tr (training set) wg wc (posters) af (field).
// p15, n15, tr and wg are regression only.
struct Short { std::string_view name, id; };
const Short shorts[] = {{"e1", "basic sheet, example 1"}, {"e2", "basic sheet, example 2"}, {"20", "order of 2020"}, {"on", "provincial sheet"},
                        {"uk", "droplet order, 2020"}, {"p14", "powered hood and gown, October 2014"}, {"n14", "respirator and gown, October 2014"},
                        {"p15", "powered hood and gown, August 2015"}, {"n15", "respirator and gown, August 2015"},
                        {"tr", "coverall training set with respirator"}, {"wg", "gown poster with head cover"},
                        {"wc", "coverall poster with head cover"}, {"af", "field order, 2014"}};

struct Difference { std::string_view rule, question, broken_by; std::string_view row = ""; };
const Difference differences[] = {
    {"BP01", "", "", "B2"},
    {"BP02", "C5", "p14 n14 p15 n15 tr wg wc"},
    {"BP03", "", "", "B10"},
    {"BP04", "", "", "B9"},
    {"BP06", "C12", "p14 n14 p15 n15 tr wg wc af"},
    {"BI01", "C1", "e2 20 on wg wc af", "B6"},
    {"BI02", "C12", "20 uk n14 n15 tr wg wc af"},
    {"BO01", "C12", "e1 e2 on"},
    {"BO02", "C1", "e1 n14 n15 tr"},
    {"LE01", "C13", "e1 e2 20 on uk", "B3"},
    {"LE02", "C13", "e1 e2 20 on uk", "B1"},
    {"LE05", "C11", "p14 n14 p15 n15 tr"},
    {"LE07", "looks", "e1 e2 20 on uk wg wc af"},
    {"LE12", "looks", "wg wc af", "B14"},
    {"LE13", "looks", "e1 e2 20 on uk p14 n14 p15 n15 tr wg wc af"},
    {"LE15", "C5", "e1 e2 20 af"},
    {"LE17", "C2", "wg wc af", "B7"},
    {"LE20", "C6", "wg wc"},
    {"LO01", "C13", "e1 e2 20 on uk", "B3"},
    {"LO02", "C13", "e1 e2 20 on uk", "B1"},
    {"LO04", "looks", "wg wc af", "B14"},
    {"LO06", "C3", "uk af", "B12"},
    {"LO07", "looks", "uk wg wc af"},
    {"LO08", "C4", "wc", "B11"},
    {"LO09", "C2", "wg wc af", "B7"},
    {"LO10", "C1", "e2 20 on wg wc af", "B6"},
    {"LO12", "", "", "B9"},
    {"LO13", "C5", "e1 e2 20 on uk wg wc af"},
    {"LO15", "C5", "e1 e2 20 on uk af", "B4"},
    {"LO18", "looks", "wg wc af"},
    {"LO19", "C6", "wg wc"},
    {"LF01", "C6", "p15 n15 tr af"},
    {"LL01", "C6", "p14 n14", "B13"},
    {"LL02", "C6", "e1 e2 20 on uk wg wc af"},
    {"LH01", "C13", "e1 e2 20 on uk", "B3"},
    {"LH02", "C13", "e1 e2 20 on uk", "B1"},
    {"LH03", "C3", "uk af", "B12"},
    {"LH04", "C2", "af", "B8"},
    {"LH05", "C1", "e1 n14 n15 tr"},
    {"LH06", "", "", "B10"},
    {"LH07", "C6", "p14 n14 n15 tr af"},
    {"LH08", "C5", "e1 e2 20 on uk af", "B4"},
    {"LG01", "C13", "e1 e2 20 on uk", "B3"},
    {"LG02", "C13", "e1 e2 20 on uk", "B1"},
    {"LG03", "C3", "p14 n14 p15 n15 tr wg wc"},
    {"LG04", "C6, hood", "p14 n14 n15 tr wg wc"},
    {"LG05", "C5", "n14 n15 tr wg wc"},
    {"LG06", "", "", "B10"},
};

bool names(std::string_view list, std::string_view one) {
  std::istringstream words{std::string(list)};
  for (std::string word; words >> word;)
    if (word == one) return true;
  return false;
}

std::string_view short_of(const Order& order) {
  return std::find_if(std::begin(shorts), std::end(shorts), [&](const Short& s) { return s.id == order.id; })->name;
}

bool is_own(const Order& order, const std::string& pack) {
  const auto own = own_packs(order);
  return std::find(own.begin(), own.end(), pack) != own.end();
}

Checked under(const Order& order, const std::string& pack, std::string_view only_rule = "") {
  return check_text(protocol_text(order, {.reading = reading_of(order), .packs = {pack}}), only_rule);
}

const Order& order_named(std::string_view name) {
  static const std::vector<Order> all = all_removal_orders();
  return *std::find_if(all.begin(), all.end(), [&](const Order& o) { return short_of(o) == name; });
}

/// The rules of a pack that the table says an order breaks.
std::set<std::string> expected(const Order& order, const Checked& checked) {
  std::set<std::string> out;
  for (const auto& rule : checked.protocol->rules)
    for (const Difference& d : differences)
      if (d.rule == rule.number && names(d.broken_by, short_of(order))) out.insert(rule.number);
  return out;
}

std::string list(const std::set<std::string>& numbers) {
  std::string out;
  for (const std::string& n : numbers) out += n + " ";
  return out;
}

void compare_packs(bool regression_only) {
  for (const Order& order : all_removal_orders())
    for (const std::string& pack : all_packs) {
      if (is_regression_only(order.mark) != regression_only) continue;
      const Checked checked = under(order, pack);
      CAPTURE(order.id);
      CAPTURE(words(order.mark));
      CAPTURE(pack);
      CAPTURE(codes(checked));
      CHECK(checked.complete);
      const auto broken = broken_rules(checked);
      CHECK(list({broken.begin(), broken.end()}) == list(expected(order, checked)));
      if (is_own(order, pack)) CHECK(broken.empty());
      for (const auto& d : checked.errors) {
        // A pack for another outfit names nothing that is worn here, and is told so; it is no pack of this order.
        const bool names_nothing = d.code == stepward::diagnostics::Code::R205;
        const bool allowed = names_nothing ? !is_own(order, pack) : d.code == stepward::diagnostics::Code::R101;
        CHECK(allowed);
      }
    }
}

}  // namespace

TEST_CASE("each order keeps its own packs and differs from the others in exactly the known rules") { compare_packs(false); }

TEST_CASE("so do the orders that are kept as regression only") { compare_packs(true); }

TEST_CASE("every order has a pack of its own and breaks at least one other pack") {
  for (const Order& order : all_removal_orders()) {
    CAPTURE(order.id);
    CHECK(std::any_of(all_packs.begin(), all_packs.end(), [&](const std::string& pack) { return is_own(order, pack); }));
    CHECK(std::any_of(std::begin(differences), std::end(differences), [&](const Difference& d) { return names(d.broken_by, short_of(order)); }));
  }
}

TEST_CASE("rules of the packs agree with the rows of the published matrix that say the same") {
  for (const Difference& d : differences)
    for (const Order& order : all_removal_orders()) {
      const std::string_view cell = published_cell(d.row, order.column);
      if (cell.empty() || cell == "–") continue;
      CAPTURE(d.rule);
      CAPTURE(order.id);
      CHECK(names(d.broken_by, short_of(order)) == (cell == "NO" || cell == "="));
    }
}

TEST_CASE("the order of October 2014 with respirator differs from the boots-last pack in the boot covers alone") {
  const auto broken = broken_rules(under(order_named("n14"), "layered-exit-boots-last"));
  CHECK(broken == std::vector<std::string>{"LL01"});
}

TEST_CASE("the field order bares the hands for eye cover and respirator, and the head-cover-first pack names both") {
  const Checked checked = under(order_named("af"), "layered-exit-head-cover-first", "LH08");
  CHECK(cell_of(checked, "LH08").at == std::vector<std::string>{"off:face shield", "off:respirator"});
}

TEST_CASE("an observer who lends a hand breaks the later pack and keeps the earlier one") {
  // The observer's course of October 2014 counts assisting among the observer's duties (read); the change of 2015 asks
  // for two people (read in another's account).
  for (const char* name : {"n14", "n15"}) {
    Order order = order_named(name);
    const auto gown = std::find(order.acts.begin(), order.acts.end(), std::string_view("off gown"));
    order.acts.insert(gown, "say observer acts \"open the ties\" touching ties of gown of wearer");
    const auto early = broken_rules(under(order, "layered-exit-boots-first")), late = broken_rules(under(order, "layered-exit-boots-last"));
    CHECK(std::count(early.begin(), early.end(), "LL03") == 0);
    CHECK(std::count(late.begin(), late.end(), "LL03") == 1);
  }
}

TEST_CASE("coverall and outer gloves split into two movements keep the rule that wants them apart") {
  Order order = order_named("wc");
  const auto both = std::find(order.acts.begin(), order.acts.end(), std::string_view("off coverall & outer gloves"));
  *both = "off coverall";
  order.acts.insert(order.acts.insert(both, "hh"), "off outer gloves");
  CHECK(cell_of(under(order_named("wc"), "matrix-rules.ward", "B11"), "B11").sign == "=");
  CHECK(cell_of(under(order, "matrix-rules.ward", "B11"), "B11").sign == "ok");
}

TEST_CASE("the page on evidence names every rule of every pack, and no other") {
  const std::string page = file_text("../../docs/evidence/rule-packs.md");
  std::set<std::string> rules, prefixes;
  for (const auto& file : stepward::resolve::standard_files()) {
    if (file.text.rfind("stepward 1 rules", 0) != 0) continue;  // a protocol's own rules are told on its own page
    std::istringstream lines{std::string(file.text)};
    for (std::string line; std::getline(lines, line);)
      if (line.rfind("rule ", 0) == 0) rules.insert(line.substr(5, line.find(' ', 5) - 5));
  }
  REQUIRE(rules.size() > 90);
  for (const std::string& rule : rules) {
    CAPTURE(rule);
    CHECK(page.find(rule) != std::string::npos);
    prefixes.insert(rule.substr(0, 2));
  }
  for (const std::string& prefix : prefixes)
    for (auto at = page.find(prefix); at != std::string::npos; at = page.find(prefix, at + 1)) {
      if (at + 4 > page.size() || page[at + 2] < '0' || page[at + 2] > '9') continue;
      CAPTURE(page.substr(at, 4));
      CHECK(rules.count(page.substr(at, 4)) == 1);
    }
}
