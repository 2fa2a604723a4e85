// Dependence between two people, the spread of a figure, bands, and several chances at once.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <random>

#include "reliability/bands.hpp"
#include "reliability/dependence.hpp"
#include "reliability/several.hpp"

namespace stepward::reliability {
namespace {

constexpr Dependence levels_up[] = {Dependence::zero, Dependence::low, Dependence::moderate, Dependence::high,
                                    Dependence::complete};

double conditional_on(Dependence level, double alone) {
  const auto answer = given_failure(level, alone);
  REQUIRE(given(answer));
  return *given(answer);
}

double joint(Dependence level, double first, double second) {
  const auto answer = both_fail(level, first, second);
  REQUIRE(given(answer));
  return *given(answer);
}

Lognormal spread(double median, double error_factor) {
  const auto answer = lognormal_of({median, error_factor});
  REQUIRE(given(answer));
  return *given(answer);
}

double any(double chance, std::size_t times) { return *given(at_least_one(std::vector<double>(times, chance))); }

/// By all 2^n outcomes.
double more_by_counting(std::size_t limit, const std::vector<double>& chances) {
  double sum = 0;
  for (std::uint32_t outcome = 0; outcome < (1u << chances.size()); ++outcome) {
    double weight = 1;
    std::size_t happened = 0;
    for (std::size_t i = 0; i < chances.size(); ++i) {
      const bool yes = outcome >> i & 1;
      weight *= yes ? chances[i] : 1 - chances[i];
      happened += yes;
    }
    if (happened > limit) sum += weight;
  }
  return sum;
}

}  // namespace

TEST_CASE("reliability: the five levels of dependence, by THERP table 20-17") {
  // Formulas second hand (a public Python module) and from memory, which agree; values worked out from them.
  const double rows[][6] = {
      {0, 0, 0.05, 0.142857143, 0.5, 1},           {0.001, 0.001, 0.05095, 0.143714286, 0.5005, 1},
      {0.003, 0.003, 0.05285, 0.145428571, 0.5015, 1}, {0.01, 0.01, 0.0595, 0.151428571, 0.505, 1},
      {0.05, 0.05, 0.0975, 0.185714286, 0.525, 1}, {0.1, 0.1, 0.145, 0.228571429, 0.55, 1},
      {0.2, 0.2, 0.24, 0.314285714, 0.6, 1},       {0.5, 0.5, 0.525, 0.571428571, 0.75, 1},
  };
  for (const auto& row : rows) {
    for (std::size_t level = 0; level < 5; ++level) {
      CAPTURE(row[0]);
      CHECK(std::abs(conditional_on(levels_up[level], row[0]) - row[level + 1]) < 1e-9);
    }
  }
}

TEST_CASE("reliability: more dependence never makes a check better, and at certainty all levels meet") {
  for (int i = 0; i <= 1000; ++i) {
    const double alone = i / 1000.0;
    for (std::size_t level = 1; level < 5; ++level)
      CHECK(conditional_on(levels_up[level - 1], alone) <= conditional_on(levels_up[level], alone) + 1e-15);
  }
  for (const Dependence level : levels_up) CHECK(conditional_on(level, 1) == doctest::Approx(1).epsilon(1e-15));
}

TEST_CASE("reliability: two failures together are never likelier than either") {
  // Complete dependence would exceed it when the second is rarer: Herberger and Boring, PSAM 13, 2016 (abstract read).
  std::mt19937 random(7);
  for (int i = 0; i < 2000; ++i) {
    const double first = random() / 4294967295.0, second = random() / 4294967295.0;
    for (const Dependence level : levels_up) {
      const double both = joint(level, first, second);
      CHECK(both >= 0);
      CHECK(both <= std::min(first, second));
    }
  }
  CHECK(joint(Dependence::complete, 0.5, 0.001) == 0.001);
}

TEST_CASE("reliability: a line left out and its check, as the rules give them") {
  // Worked out by hand from tables 20-7, 20-22 and 20-17.
  const double rows[][6] = {{0.001, 0.1, 1e-4, 1.45e-4, 2.285714e-4, 5.5e-4},
                            {0.003, 0.1, 3e-4, 4.35e-4, 6.857143e-4, 1.65e-3},
                            {0.003, 0.05, 1.5e-4, 2.925e-4, 5.571429e-4, 1.575e-3},
                            {0.003, 0.2, 6e-4, 7.2e-4, 9.428571e-4, 1.8e-3}};
  for (const auto& row : rows) {
    for (std::size_t level = 0; level < 4; ++level)
      CHECK(joint(levels_up[level], row[0], row[1]) == doctest::Approx(row[level + 2]).epsilon(1e-6));
  }
  CHECK(any(0.003 * 0.5, 19) == doctest::Approx(0.02811850).epsilon(1e-6));
  CHECK(any(0.003 * 0.1, 19) == doctest::Approx(0.00568464).epsilon(1e-6));
}

TEST_CASE("reliability: the level of dependence from four questions, by SPAR-H") {
  // From memory (NUREG/CR-6883).
  CHECK(dependence_of({true, true, true, false}) == Dependence::complete);
  CHECK(dependence_of({true, true, false, false}) == Dependence::high);
  CHECK(dependence_of({true, false, true, false}) == Dependence::high);
  CHECK(dependence_of({true, false, true, true}) == Dependence::moderate);
  CHECK(dependence_of({true, false, false, false}) == Dependence::moderate);
  CHECK(dependence_of({true, false, false, true}) == Dependence::low);
  CHECK(dependence_of({false, true, true, false}) == Dependence::moderate);
  CHECK(dependence_of({false, true, false, true}) == Dependence::moderate);
  CHECK(dependence_of({false, false, true, false}) == Dependence::low);
}

TEST_CASE("reliability: chances outside 0 to 1 are refused") {
  CHECK(refused(given_failure(Dependence::low, 1.2))->why == Why::outside_0_to_1);
  CHECK(refused(given_success(Dependence::low, -0.2))->why == Why::outside_0_to_1);
  CHECK(refused(both_fail(Dependence::low, 0.5, 2))->value == 2);
  CHECK(refused(both_fail(Dependence::low, std::nan(""), 0.5)));
  CHECK(refused(at_least_one({0.5, 1.5})));
  CHECK(refused(more_than(1, {-0.5})));
  CHECK(given(given_success(Dependence::high, 0.9)));
  CHECK(*given(given_success(Dependence::high, 0.9)) == doctest::Approx(0.95));
}

TEST_CASE("reliability: a published chain of omission and commission, to three digits") {
  // THERP documentation log, nusbaumer.tripod.com, maintenance branch: inputs and printed results read.
  const auto near = [](const Lognormal& got, double median, double error_factor) {
    CHECK(got.median == doctest::Approx(median).epsilon(1e-5));
    CHECK(got.error_factor == doctest::Approx(error_factor).epsilon(1e-4));
  };
  const Lognormal unused = product_of({spread(0.3, 5), spread(0.05, 5)});
  near(unused, 0.015, 9.7385);  // printed 1.50E-2, 9.74
  const Lognormal used = product_of({certain_value(0.7), spread(0.003, 3)});
  near(used, 0.0021, 3);  // printed 2.10E-3, 3
  const Lognormal omission = sum_of({unused, used});
  near(omission, 0.0169079, 9.1166);  // printed 1.69E-2, 9.12
  const Lognormal commission = sum_of({spread(0.001, 3), spread(0.005, 3)});
  near(commission, 0.00632439, 2.6122);  // printed 6.32E-3, 2.61
  const Lognormal both = sum_of({omission, commission});
  near(both, 0.0227901, 7.6950);  // printed 2.28E-2, 7.70
  near(product_of({both, spread(0.01, 10)}), 2.27901e-4, 21.686);  // printed 2.28E-4, 21.7
}

TEST_CASE("reliability: mean and spread of a lognormal by its error factor") {
  // Worked out from sigma = ln EF / 1.645.
  const double rows[][3] = {{3, 0.66785, 1.24983}, {5, 0.97838, 1.61384}, {10, 1.39975, 2.66352}};
  for (const auto& row : rows) {
    CHECK(sigma_of(spread(0.01, row[0])) == doctest::Approx(row[1]).epsilon(1e-5));
    CHECK(mean_of(spread(0.01, row[0])) / 0.01 == doctest::Approx(row[2]).epsilon(1e-5));
  }
  const Lognormal sum = sum_of({spread(0.01, 3), spread(0.02, 5), certain_value(0.001)});
  CHECK(mean_of(sum) == doctest::Approx(0.01 * 1.249832 + 0.02 * 1.613842 + 0.001).epsilon(1e-5));
  CHECK(sum_of({}).median == 0);
  CHECK(product_of({}).median == 1);
  CHECK(sum_of({spread(0.2, 5)}).median == doctest::Approx(0.2));
}

TEST_CASE("reliability: a figure without spread cannot be given one") {
  CHECK(refused(lognormal_of({0.01, std::nullopt}))->why == Why::no_error_factor);
  CHECK(refused(lognormal_of({0.01, 0.9}))->why == Why::error_factor_below_1);
  CHECK(refused(lognormal_of({0, 3}))->why == Why::not_positive);
  CHECK(refused(lognormal_of({1.01, 3}))->why == Why::outside_0_to_1);
}

TEST_CASE("reliability: bands have one figure each and end at 1") {
  CHECK(one_figure(0.000686) == 0.0007);
  CHECK(one_figure(0.0951) == 0.1);
  CHECK(one_figure(0.94) == 0.9);
  CHECK(one_figure(0) == 0);
  CHECK(one_figure(1) == 1);
  CHECK(std::isinf(to_figures(std::numeric_limits<double>::infinity(), 9)));
  CHECK(to_figures(0.123456789123, 3) == 0.123);
  const Band band = band_of(spread(0.000686, 3));
  CHECK(band.low == 0.0002);
  CHECK(band.middle == 0.0007);
  CHECK(band.high == 0.002);
  CHECK(band_of(spread(0.5, 5)).high == 1);
  CHECK(std::string(bands_compare_drafts).find("compare drafts") != std::string::npos);
}

TEST_CASE("reliability: at least one of several lines left out") {
  // 1 - (1 - q)^n, by hand.
  const double rows[][3] = {{0.001, 5, 0.00499001},  {0.001, 10, 0.00995512}, {0.001, 20, 0.01981114}, {0.001, 30, 0.02956903},
                            {0.003, 10, 0.02959822}, {0.003, 20, 0.05832039}, {0.003, 30, 0.08619243}};
  for (const auto& row : rows) CHECK(any(row[0], static_cast<std::size_t>(row[1])) == doctest::Approx(row[2]).epsilon(1e-6));
  CHECK(any(1e-18, 2) == doctest::Approx(2e-18).epsilon(1e-12));
  CHECK(any(1, 3) == 1);
  CHECK(any(0.5, 0) == 0);
}

TEST_CASE("reliability: more than so many slips, held against all outcomes") {
  std::mt19937 random(11);
  for (int round = 0; round < 60; ++round) {
    std::vector<double> chances(random() % 11);
    for (double& each : chances) each = random() / 4294967295.0;
    for (std::size_t limit = 0; limit < 5; ++limit)
      CHECK(*given(more_than(limit, chances)) == doctest::Approx(more_by_counting(limit, chances)).epsilon(1e-10));
  }
  CHECK(*given(more_than(1, {1e-9, 1e-9})) == doctest::Approx(1e-18).epsilon(1e-12));
}

}  // namespace stepward::reliability
