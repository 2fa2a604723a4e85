// Chances of a harm from its cut sets, and how much each event matters.
//
// Held against published worked sets, against all outcomes for small trees, and against closed forms for large ones.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "reliability/event_order.hpp"
#include "reliability/importance.hpp"
#include "reliability/several.hpp"

namespace stepward::reliability {
namespace {

CutSet set_of(std::initializer_list<unsigned> events) {
  CutSet set;
  for (const unsigned event : events) set.push_back(EventId(event));
  return set;
}

HarmTree tidy_tree(const HarmTree& tree) {
  const auto answer = minimal(tree);
  REQUIRE(given(answer));
  return *given(answer);
}

HarmImportance exact(const HarmTree& tree) {
  const auto answer = importance_of(tidy_tree(tree));
  REQUIRE(given(answer));
  return *given(answer);
}

double exact_chance(const HarmTree& tree) {
  const auto diagram = diagram_of(tidy_tree(tree));
  REQUIRE(given(diagram));
  return chance_of_harm(*given(diagram), tree.chances);
}

/// Two pumps and two valves: harm if (p1 or v1) and (p2 or v2); events p1, p2, v1, v2.
HarmTree pumps(double p1, double p2, double v1, double v2) {
  return {{p1, p2, v1, v2}, {set_of({0, 1}), set_of({0, 3}), set_of({2, 1}), set_of({2, 3})}};
}

struct Printed { double birnbaum, criticality, diagnostic, raw, rrw; };

void check_against(const HarmImportance& got, const Printed (&rows)[4], double within) {
  REQUIRE(got.events.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CAPTURE(i);
    CHECK(got.events[i].birnbaum == doctest::Approx(rows[i].birnbaum).epsilon(within));
    CHECK(got.events[i].criticality == doctest::Approx(rows[i].criticality).epsilon(within));
    CHECK(got.events[i].diagnostic == doctest::Approx(rows[i].diagnostic).epsilon(within));
    CHECK(got.events[i].risk_achievement == doctest::Approx(rows[i].raw).epsilon(within));
    CHECK(got.events[i].risk_reduction == doctest::Approx(rows[i].rrw).epsilon(within));
  }
}

// ---- by all outcomes ----

/// What all 2^n outcomes add up to: the harm's chance, and for each event what the measures are made from.
struct Counted {
  double harm = 0;
  std::vector<double> with_event, by_its_sets;
};

bool happens(const CutSet& set, std::uint32_t outcome) {
  return std::all_of(set.begin(), set.end(), [&](EventId event) { return outcome >> event.value & 1; });
}

Counted count_outcomes(const HarmTree& tree) {
  const std::size_t n = tree.chances.size();
  Counted sum{0, std::vector<double>(n, 0.0), std::vector<double>(n, 0.0)};
  for (std::uint32_t outcome = 0; outcome < (1u << n); ++outcome) {
    double weight = 1;
    for (std::size_t i = 0; i < n; ++i) weight *= outcome >> i & 1 ? tree.chances[i] : 1 - tree.chances[i];
    std::vector<bool> named(n, false);
    bool harm = false;
    for (const CutSet& set : tree.cut_sets) {
      if (!happens(set, outcome)) continue;
      harm = true;
      for (const EventId event : set) named[event.value] = true;
    }
    if (!harm) continue;
    sum.harm += weight;
    for (std::size_t i = 0; i < n; ++i) {
      if (outcome >> i & 1) sum.with_event[i] += weight;
      if (named[i]) sum.by_its_sets[i] += weight;
    }
  }
  return sum;
}

HarmTree random_tree(std::mt19937& random) {
  HarmTree tree;
  const std::size_t events = 1 + random() % 12;
  for (std::size_t i = 0; i < events; ++i) {
    const double small = random() % 2 ? 1 : 0.01;
    tree.chances.push_back(random() % 20 == 0 ? random() % 2 : small * random() / 4294967295.0);
  }
  for (std::size_t sets = random() % 14; sets > 0; --sets) {
    CutSet set;
    for (std::size_t size = 1 + random() % 4; size > 0; --size) set.push_back(EventId(random() % events));
    tree.cut_sets.push_back(set);
  }
  return tree;
}

HarmTree with_chance(HarmTree tree, std::size_t event, double chance) {
  tree.chances[event] = chance;
  return tree;
}

// ---- large trees with a closed form ----

/// That somewhere `run` neighbours in a row fail: the recursion for consecutive-k-out-of-n systems.
double neighbours_fail(const std::vector<double>& q, std::size_t run) {
  std::vector<double> without(q.size() + 1, 1.0);  // no run among the first n
  for (std::size_t n = run; n <= q.size(); ++n) {
    double product = 1;
    for (std::size_t i = n - run; i < n; ++i) product *= q[i];
    const double before = n == run ? 1 : without[n - run - 1] * (1 - q[n - run - 1]);
    without[n] = without[n - 1] - before * product;
  }
  return 1 - without[q.size()];
}

std::vector<double> many_chances(std::size_t count) {
  std::vector<double> chances;
  for (std::size_t i = 0; i < count; ++i) chances.push_back(0.01 + 0.3 * static_cast<double>(i * 37 % 101) / 101);
  return chances;
}

}  // namespace

TEST_CASE("reliability: a published fault tree with its importance measures") {
  // Input and printed values read in the tests of scram, a general risk-assessment library (ImportanceDefault, Mcub), by rakhimov;
  // chances of the events recovered from them, every printed value derived anew.
  const HarmTree tree = pumps(0.6, 0.7, 0.4, 0.5);
  CHECK(exact_chance(tree) == doctest::Approx(0.646).epsilon(1e-12));
  CHECK(min_cut_upper_bound(tree) == doctest::Approx(0.766144).epsilon(1e-12));
  CHECK(rare_event_sum(tree) == doctest::Approx(1.2).epsilon(1e-12));
  CHECK(rare_event_chance(tree) == 1);
  const Printed rows[] = {{0.51, 0.4737, 0.7895, 1.316, 1.9},
                          {0.38, 0.4118, 0.8235, 1.176, 1.7},
                          {0.34, 0.2105, 0.5263, 1.316, 1.267},
                          {0.228, 0.1765, 0.5882, 1.176, 1.214}};
  const HarmImportance got = exact(tree);
  check_against(got, rows, 5e-4);
  for (const Importance& event : got.events)
    CHECK(event.fussell_vesely_by_cut_sets == doctest::Approx(event.diagnostic).epsilon(1e-12));
  // RAW is the same for the two of one train; what lowers the risk more comes first.
  CHECK(ranked(got) == std::vector<EventId>{EventId(0u), EventId(2u), EventId(1u), EventId(3u)});
}

TEST_CASE("reliability: the same tree by the rare-event sum, as published") {
  // Read in the same file.
  const HarmTree tree = pumps(0.06, 0.07, 0.04, 0.05);
  const HarmImportance got = importance_by_rare_events(tidy_tree(tree));
  CHECK(got.chance == doctest::Approx(0.012).epsilon(1e-12));
  const Printed rows[] = {{0.12, 0.6, 0.624, 10.4, 2.5},
                          {0.1, 0.5833, 0.6125, 8.75, 2.4},
                          {0.12, 0.4, 0.424, 10.6, 1.667},
                          {0.1, 0.4167, 0.4458, 8.917, 1.714}};
  check_against(got, rows, 5e-4);
  CHECK(exact_chance(tree) == doctest::Approx(0.0976 * 0.1165).epsilon(1e-12));
}

TEST_CASE("reliability: a train of two, whose chance is published") {
  // Chance read in the same library; the measures follow from it by hand.
  const HarmImportance got = exact(pumps(0.5, 0.5, 0.7, 0.7));
  CHECK(got.chance == doctest::Approx(0.7225).epsilon(1e-12));
  CHECK(got.events[0].birnbaum == doctest::Approx(0.255).epsilon(1e-12));
  CHECK(got.events[2].birnbaum == doctest::Approx(0.425).epsilon(1e-12));
  CHECK(got.events[0].risk_reduction == doctest::Approx(0.7225 / 0.595).epsilon(1e-12));
  CHECK(got.events[2].risk_reduction == doctest::Approx(1.7).epsilon(1e-12));
}

TEST_CASE("reliability: chances and measures agree with all outcomes of small trees") {
  std::mt19937 random(20260301);
  int with_harm = 0;
  for (int round = 0; round < 600; ++round) {
    const HarmTree tree = random_tree(random);
    const Counted counted = count_outcomes(tidy_tree(tree));
    CAPTURE(round);
    const HarmImportance got = exact(tree);
    CHECK(got.chance == doctest::Approx(counted.harm).epsilon(1e-11));
    if (counted.harm <= 0) continue;
    ++with_harm;
    for (const Importance& event : got.events) {
      const std::size_t i = event.event.value;
      const double always = count_outcomes(with_chance(tidy_tree(tree), i, 1)).harm;
      const double never = count_outcomes(with_chance(tidy_tree(tree), i, 0)).harm;
      CHECK(event.risk_achievement == doctest::Approx(always / counted.harm).epsilon(1e-10));
      CHECK(std::abs(event.birnbaum - (always - never)) < 1e-12);
      CHECK(event.diagnostic == doctest::Approx(counted.with_event[i] / counted.harm).epsilon(1e-10));
      CHECK(event.fussell_vesely_by_cut_sets == doctest::Approx(counted.by_its_sets[i] / counted.harm).epsilon(1e-10));
    }
  }
  CHECK(with_harm > 400);
}

TEST_CASE("reliability: bounds hold, and measures keep their order") {
  std::mt19937 random(99);
  for (int round = 0; round < 400; ++round) {
    const HarmTree tree = tidy_tree(random_tree(random));
    const HarmImportance got = exact(tree);
    CAPTURE(round);
    CHECK(got.chance <= min_cut_upper_bound(tree) + 1e-12);
    CHECK(got.chance <= rare_event_chance(tree) + 1e-12);
    CHECK(got.chance >= lower_bound(tree) - 1e-12);
    for (const Importance& event : got.events) {
      CHECK(event.criticality <= event.fussell_vesely_by_cut_sets + 1e-11);
      CHECK(event.fussell_vesely_by_cut_sets <= event.diagnostic + 1e-11);
      if (got.chance == 0) continue;
      CHECK(event.criticality == doctest::Approx(1 - 1 / event.risk_reduction).epsilon(1e-9));
      CHECK(event.diagnostic == doctest::Approx(event.chance * event.risk_achievement).epsilon(1e-12));
      if (event.chance == 1) CHECK(event.risk_achievement == doctest::Approx(1).epsilon(1e-12));
    }
  }
}

TEST_CASE("reliability: an event without which there is no harm reduces it without limit") {
  const HarmImportance got = exact({{0.01, 0.2, 0.3}, {set_of({0, 1}), set_of({0, 2})}});
  CHECK(std::isinf(got.events[0].risk_reduction));
  CHECK(got.events[0].criticality == doctest::Approx(1));
  CHECK(std::isfinite(got.events[1].risk_reduction));
}

TEST_CASE("reliability: a harm that cannot happen, and one that must") {
  CHECK(exact({{0.5}, {}}).chance == 0);
  CHECK(exact({{0.5}, {}}).events.empty());
  CHECK(exact({{0.5}, {CutSet{}, set_of({0})}}).chance == 1);
  const HarmImportance never = exact({{0, 0.5}, {set_of({0, 1})}});
  CHECK(never.chance == 0);
  CHECK(std::isinf(never.events[0].risk_achievement));
  CHECK(never.events[1].risk_achievement == 1);
  CHECK(never.events[0].diagnostic == 0);
  CHECK(exact({{1, 0.5}, {set_of({0})}}).chance == 1);
}

TEST_CASE("reliability: cut sets are made minimal, whatever their order") {
  const HarmTree tree = tidy_tree({{0.1, 0.2, 0.3, 0.4},
                                   {set_of({3, 2, 1}), set_of({1, 0}), set_of({0, 1, 2}), set_of({0, 1}), set_of({2, 2, 3}), set_of({1, 0, 1})}});
  CHECK(tree.cut_sets == std::vector<CutSet>{set_of({0, 1}), set_of({2, 3})});
}

TEST_CASE("reliability: what is no tree is refused") {
  CHECK(refused(minimal({{0.5, 1.5}, {}}))->why == Why::outside_0_to_1);
  CHECK(refused(minimal({{0.5, 1.5}, {}}))->about == "1");
  CHECK(refused(minimal({{0.5}, {set_of({0, 3})}}))->why == Why::unknown_event);
  CHECK(refused(minimal({{std::nan("")}, {}}))->why == Why::outside_0_to_1);
}

TEST_CASE("reliability: hundreds of lines with one check between them") {
  // Harm if the check fails and any line: c (1 - product of (1 - q)).
  HarmTree tree{many_chances(301), {}};
  for (unsigned line = 1; line <= 300; ++line) tree.cut_sets.push_back(set_of({0, line}));
  const std::vector<double> lines(tree.chances.begin() + 1, tree.chances.end());
  const HarmImportance got = exact(tree);
  CHECK(got.chance == doctest::Approx(tree.chances[0] * *given(at_least_one(lines))).epsilon(1e-12));
  CHECK(got.events.size() == 301);
  CHECK(ranked(got).front() == EventId(0u));
}

TEST_CASE("reliability: hundreds of lines, harm from neighbours in a row") {
  const std::vector<double> chances = many_chances(300);
  for (unsigned run = 1; run <= 3; ++run) {
    HarmTree tree{chances, {}};
    for (unsigned first = 0; first + run <= 300; ++first) {
      CutSet set;
      for (unsigned i = 0; i < run; ++i) set.push_back(EventId(first + i));
      tree.cut_sets.push_back(set);
    }
    CHECK(exact_chance(tree) == doctest::Approx(neighbours_fail(chances, run)).epsilon(1e-11));
  }
}

TEST_CASE("reliability: hundreds of lines that share a dozen checks, held against all outcomes of the checks") {
  // Once it is known which checks fail, the lines are independent.
  std::mt19937 random(17);
  const unsigned checks = 12, lines = 250;
  HarmTree tree{many_chances(checks + lines), {}};
  for (unsigned line = checks; line < checks + lines; ++line) {
    const unsigned one = random() % checks, other = random() % checks;
    tree.cut_sets.push_back(one == other ? set_of({one, line}) : set_of({one, other, line}));
    std::sort(tree.cut_sets.back().begin(), tree.cut_sets.back().end());
  }
  double truth = 0;
  for (std::uint32_t failed = 0; failed < (1u << checks); ++failed) {
    double weight = 1, none = 1;
    for (unsigned check = 0; check < checks; ++check) weight *= failed >> check & 1 ? tree.chances[check] : 1 - tree.chances[check];
    for (const CutSet& set : tree.cut_sets) {
      const bool open = std::all_of(set.begin(), set.end() - 1, [&](EventId check) { return failed >> check.value & 1; });
      if (open) none *= 1 - tree.chances[set.back().value];
    }
    truth += weight * (1 - none);
  }
  CHECK(exact_chance(tree) == doctest::Approx(truth).epsilon(1e-11));
}

TEST_CASE("reliability: what many share is asked for first") {
  const std::vector<CutSet> sets = {set_of({0, 3}), set_of({1, 3}), set_of({2, 3})};
  CHECK(most_pending(sets, {EventId(0u), EventId(1u), EventId(2u), EventId(3u)}) == 3);
  CHECK(order_of_events(sets).front() == EventId(3u));
  CHECK(most_pending(sets, order_of_events(sets)) == 1);
  std::mt19937 random(23);
  for (int round = 0; round < 100; ++round) {
    const HarmTree tree = tidy_tree(random_tree(random));
    std::vector<EventId> named;
    for (const CutSet& set : tree.cut_sets) named.insert(named.end(), set.begin(), set.end());
    std::sort(named.begin(), named.end());
    named.erase(std::unique(named.begin(), named.end()), named.end());
    std::vector<EventId> order = order_of_events(tree.cut_sets);
    CHECK(most_pending(tree.cut_sets, order) <= most_pending(tree.cut_sets, named));
    std::sort(order.begin(), order.end());
    CHECK(order == named);
  }
}

TEST_CASE("reliability: any two of a hundred lines, and the bounds of small chances") {
  HarmTree tree{std::vector<double>(100, 1e-6), {}};
  for (unsigned one = 0; one < 100; ++one) {
    for (unsigned other = 0; other < one; ++other) tree.cut_sets.push_back(set_of({other, one}));
  }
  const double truth = *given(more_than(1, tree.chances));
  CHECK(exact_chance(tree) == doctest::Approx(truth).epsilon(1e-11));
  CHECK(rare_event_chance(tree) == doctest::Approx(truth).epsilon(1e-3));
  CHECK(lower_bound(tree) <= truth);
}

TEST_CASE("reliability: parts that share no event are kept apart") {
  HarmTree tree{many_chances(300), {}};
  double none = 1;
  for (unsigned i = 0; i < 300; i += 3) {
    tree.cut_sets.push_back(set_of({i, i + 1, i + 2}));
    none *= 1 - tree.chances[i] * tree.chances[i + 1] * tree.chances[i + 2];
  }
  const auto diagram = diagram_of(tidy_tree(tree));
  REQUIRE(given(diagram));
  CHECK(given(diagram)->parts.size() == 100);
  CHECK(chance_of_harm(*given(diagram), tree.chances) == doctest::Approx(1 - none).epsilon(1e-12));
}

TEST_CASE("reliability: ways of asking come together where the same is open") {
  // By hand, a c and b c d in the order a, b, c, d. Asked for a: once. For b: after a and after no a. For c: with c open, whatever b did
  // after a, since that covers c d; and with c d open. For d: once. With the two ends that is 8.
  const auto diagram = diagram_of(tidy_tree({{0.1, 0.2, 0.3, 0.4}, {set_of({0, 2}), set_of({1, 2, 3})}}));
  REQUIRE(given(diagram));
  REQUIRE(given(diagram)->parts.size() == 1);
  CHECK(given(diagram)->parts[0].events == set_of({0, 1, 2, 3}));
  CHECK(given(diagram)->parts[0].nodes.size() == 8);
}

TEST_CASE("reliability: a diagram that grows too large is refused, and bounds remain") {
  std::mt19937 random(5);
  HarmTree tree{std::vector<double>(60, 0.001), {}};
  for (int i = 0; i < 300; ++i) tree.cut_sets.push_back(set_of({static_cast<unsigned>(random() % 60), static_cast<unsigned>(random() % 60)}));
  const HarmTree tidy = tidy_tree(tree);
  const auto diagram = diagram_of(tidy, 1000);
  REQUIRE(refused(diagram));
  CHECK(refused(diagram)->why == Why::too_large);
  CHECK(refused(importance_of(tidy, 1000)));
  CHECK(lower_bound(tidy) > 0);
  CHECK(lower_bound(tidy) <= min_cut_upper_bound(tidy));
}

}  // namespace stepward::reliability
