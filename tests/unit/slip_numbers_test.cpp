// What slips weigh: failure modes, figures by sets of slips, and chances on the graph of a procedure that is worked by hand.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "emit/slips/failure_modes.hpp"
#include "emit/slips/numbers.hpp"
#include "room_protocol.hpp"
#include "slips/exit_chances.hpp"
#include "slips/failure_modes.hpp"
#include "slips/numbers.hpp"

using namespace stepward;
using namespace stepward::room;
using graph::SlipKind;
using slips::Outcome;

namespace {

using slips::FailureDecision;

/// A table of rows that nobody walked, to hold what is made of it against the published tree and figures.
slips::Table of_rows(std::vector<slips::Row> rows) {
  slips::Table out;
  out.variants = {"only"};
  out.at_once = 2;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].key.begin = static_cast<std::uint32_t>(i);
    rows[i].steps = {std::to_string(i + 1)};
    rows[i].variants = {0};
    rows[i].list_lines = 12;
    out.rows.push_back(std::move(rows[i]));
  }
  return out;
}

slips::Row of_outcome(Outcome outcome, std::vector<slips::Catch::By> caught = {}, bool harm = false, SlipKind kind = SlipKind::left_out) {
  slips::Row row;
  row.outcome = outcome;
  row.key.kind = kind;
  if (harm || outcome == Outcome::harm) row.harm.emplace();
  for (const auto by : caught) row.caught.push_back({by, {}, "", ""});
  return row;
}

}  // namespace

// The tree of HFMEA (questions read on VA pages, wiring from memory; reliability.md): single point and no control acts under any score.
TEST_CASE("failure modes: the model answers the questions of HFMEA as far as it knows") {
  using By = slips::Catch::By;
  const slips::Table table = of_rows({of_outcome(Outcome::harm), of_outcome(Outcome::caught, {By::look}), of_outcome(Outcome::caught, {By::cannot_be_done}),
                                      of_outcome(Outcome::caught, {By::ending, By::question}), of_outcome(Outcome::caught, {By::confirm}, true),
                                      of_outcome(Outcome::harmless), of_outcome(Outcome::not_modelled)});
  const auto modes = slips::failure_modes(table, [](const slips::Row&) { return 1u; });
  REQUIRE(modes.size() == 6);  // what is not in the model is left out
  const FailureDecision expected[] = {FailureDecision::act, FailureDecision::stop_controlled, FailureDecision::stop_obvious,
                                      FailureDecision::stop_controlled, FailureDecision::stop_controlled, FailureDecision::stop_no_harm};
  for (std::size_t i = 0; i < modes.size(); ++i) CHECK(static_cast<int>(modes[i].decision) == static_cast<int>(expected[i]));
  CHECK(modes[0].number == "1(1)");
  CHECK(modes[0].answers.single_point_weakness);
  CHECK(modes[4].answers.single_point_weakness);
  CHECK(modes[4].answers.effective_control);
  CHECK_FALSE(modes[2].answers.effective_control);
}

TEST_CASE("failure modes: of a walked procedure every row of the model has one, numbered by step") {
  const slips::Table table = tried(leaving_the_room(plain_order));
  const auto modes = slips::failure_modes(table, [](const slips::Row&) { return 1u; });
  CHECK(modes.size() == table.rows.size());
  std::set<std::string> numbers;
  for (const auto& m : modes) numbers.insert(m.number);
  CHECK(numbers.size() == modes.size());
  const std::string csv = emit::failure_modes_as_csv(table, modes, emit::FailureForm::hfmea);
  CHECK(static_cast<std::size_t>(std::count(csv.begin(), csv.end(), '\n')) == modes.size() + 1);
}

// reliability.md 1.7: omission 0.003, checker 0.1, moderate dependence: 6.857143e-4; zero 3e-4; high 1.65e-3 (worked out there).
TEST_CASE("numbers: an omission and the confirm that misses it, by level of dependence") {
  slips::Table table = of_rows({of_outcome(Outcome::caught, {slips::Catch::By::confirm}, true)});
  table.rows[0].watch = "All of it shines wet.";
  table.pairs.push_back({0, 0, {}});
  const std::pair<reliability::Dependence, double> levels[] = {{reliability::Dependence::zero, 3e-4}, {reliability::Dependence::low, 4.35e-4},
                                                               {reliability::Dependence::moderate, 6.857143e-4}, {reliability::Dependence::high, 1.65e-3}};
  for (const auto& [level, chance] : levels) {
    const auto answer = slips::numbers_of(table, {.set = "THERP-1983", .dependence = level});
    REQUIRE(reliability::given(answer));
    const slips::Numbers& numbers = *reliability::given(answer);
    REQUIRE(numbers.variants.size() == 1);
    CHECK(numbers.variants[0].chance == doctest::Approx(chance).epsilon(1e-6));
    CHECK(numbers.events.size() == 2);
  }
}

// reliability.md 1.7: at least one of ten omissions at 0.003: 0.02959822 (worked out there).
TEST_CASE("numbers: ten weak points that are left out") {
  const slips::Table table = of_rows(std::vector<slips::Row>(10, of_outcome(Outcome::harm)));
  const auto answer = slips::numbers_of(table, {.set = "THERP-1983"});
  REQUIRE(reliability::given(answer));
  CHECK(reliability::given(answer)->variants[0].chance == doctest::Approx(0.02959822).epsilon(1e-6));
  CHECK_FALSE(reliability::given(answer)->order_hangs_on_dependence);
}

TEST_CASE("numbers: what has no published figure is not reckoned, and looks only where the author says how often there is something to see") {
  const slips::Table table = of_rows({of_outcome(Outcome::harm, {}, true, SlipKind::clumsy), of_outcome(Outcome::harm, {}, true, SlipKind::overlooked)});
  const auto without = slips::numbers_of(table, {.set = "THERP-1983"});
  REQUIRE(reliability::given(without));
  CHECK(reliability::given(without)->not_reckoned == 2);
  CHECK(reliability::given(without)->variants[0].chance == 0);
  const auto with = slips::numbers_of(table, {.set = "THERP-1983", .something_to_see = 0.02});
  REQUIRE(reliability::given(with));
  CHECK(reliability::given(with)->not_reckoned == 1);
  CHECK(reliability::given(with)->variants[0].chance == doctest::Approx(0.002));
}

namespace {

/// What the graph says of the only variant where each line is left out with 1/10, and the chance by sets of up to three slips.
std::pair<slips::HarmBounds, double> on_graph(const std::string& text, std::uint64_t limit = 100'000) {
  FilesInMemory access;
  access.put("room.ward", text);
  const driver::Compilation made = driver::read("room.ward", access, "");
  const slips::Options options{.at_once = 3, .limit = limit, .workers = 1};
  const slips::Table table = slips::analyse(*made.protocol, options);
  const slips::NumbersRequest request{.set = "THERP-1983", .overrides = {{"left out, ticked, short list", {0.1, 3}, "by hand"}}};
  const auto numbers = slips::numbers_of(table, request);
  REQUIRE(reliability::given(numbers));
  const auto answer = slips::exit_chances(*made.protocol, options, table, *reliability::given(numbers), request);
  if (reliability::refused(answer)) return {slips::HarmBounds(), 0};
  REQUIRE(reliability::given(answer)->size() == 1);
  return {reliability::given(answer)->front(), reliability::given(numbers)->variants[0].chance};
}

const slips::Bounds& of(const slips::HarmBounds& bounds, slips::Consequence kind) { return bounds.by_harm[static_cast<std::size_t>(kind)]; }

void check_bounds(const slips::Bounds& bounds, double least, double most) {
  CHECK(std::abs(bounds.least - least) < 1e-12);
  CHECK(std::abs(bounds.most - most) < 1e-12);
}

const std::string confirmed = "rhythm\n  watcher reads aloud\n  wearer acts\n  watcher confirms\nend rhythm\n";

}  // namespace

// By hand, in tenths: gloves, rub, goggles, rub, gown, rub. Dirt comes to the face where the first rub is left out and the goggles are not: behind gloves that are off
// (p q p), or that are still on (q q p; with the rub it shows). Without the goggles too, or without both of the gown's neighbours, nothing has come of two slips.
TEST_CASE("chances on the graph: six lines in fractions, worked by hand") {
  constexpr double q = 1.0 / 10;
  const auto [bounds, by_sets] = on_graph(leaving_the_room(plain_order));
  const double beyond = 6436.0 / 1'000'000;  // q^3 (1 + p + 2 p^2 + 4 p^3): three left out, and neither harm nor sight before
  check_bounds(of(bounds, slips::Consequence::face), 90.0 / 1000, 90.0 / 1000 + beyond);
  check_bounds(bounds.any, 90.0 / 1000, 90.0 / 1000 + beyond);
  check_bounds(of(bounds, slips::Consequence::skin), 0, beyond);
  CHECK(std::abs(bounds.beyond - beyond) < 1e-12);
  CHECK(std::abs(by_sets - q) < 1e-12);  // the rub alone, whether or not a run comes to it
}

// The gloves, whose confirm would see it, and the rub: each is missed with (1 + 6/10) / 7 = 8/35 at moderate dependence.
TEST_CASE("chances on the graph: a confirm lets through what it misses") {
  constexpr double q = 1.0 / 10, p = 9.0 / 10;
  const auto [bounds, by_sets] = on_graph(leaving_the_room(plain_order, confirmed));
  const double missed = 8.0 / 35;
  CHECK(std::abs(bounds.any.least - (p * p * q * missed + p * q * q * missed * missed)) < 1e-12);
  CHECK(std::abs(by_sets - q * missed) < 1e-12);
}

// Whether soil is found nobody knows the chance of. Without soil: the rub left out, p p q p to the face. With soil: the cleaning done, one line more, p p p q p; or the
// cleaning left out, p p q, and the next removal is harm that is left open, whenever it comes.
TEST_CASE("chances on the graph: a question that nobody knows the answer to leaves an interval") {
  constexpr double q = 1.0 / 10, p = 9.0 / 10;
  const auto [bounds, by_sets] = on_graph(leaving_the_room(with_look));
  const double without_soil = p * p * p * q, with_soil = p * p * p * p * q, left_open = p * p * q;
  const double beyond_without = p * p * q * q * q * (1 + 2 * p + 4 * p * p);
  check_bounds(of(bounds, slips::Consequence::face), with_soil, without_soil + beyond_without);
  check_bounds(of(bounds, slips::Consequence::left_open), 0, left_open + p * beyond_without);
  check_bounds(bounds.any, without_soil, with_soil + left_open + p * beyond_without);
  CHECK(std::abs(bounds.beyond - (p * p * q * q * q * (1 + p + 2 * p * p + 4 * p * p * p) + p * p * p * q * q * q * (1 + p))) < 1e-12);
}

TEST_CASE("chances on the graph: never above the sets of slips, which count every branch, and harms are parts of any harm") {
  for (const std::string& text : {leaving_the_room(plain_order), leaving_the_room(plain_order, confirmed), leaving_the_room(with_look), leaving_the_room(three_rubs), leaving_the_room(three_rubs, confirmed)}) {
    const auto [bounds, by_sets] = on_graph(text);
    CHECK(bounds.any.most > 0);  // three rubs in a row take three slips
    CHECK(bounds.any.most - bounds.beyond <= by_sets + 1e-12);
    double least = 0, most = 0;
    for (const slips::Bounds& harm : bounds.by_harm) {
      CHECK(harm.least <= harm.most);
      CHECK(harm.most <= bounds.any.most + 1e-12);
      least += harm.least;
      most += harm.most;
    }
    CHECK(least <= bounds.any.least + 1e-12);
    CHECK(most >= bounds.any.most - 1e-12);
  }
  CHECK(on_graph(leaving_the_room(plain_order), 20).first.states == 0);  // refused: more states than that
}

TEST_CASE("numbers: an unknown set, one without lines and checks, and figures that are none are refused") {
  const slips::Table table = of_rows({of_outcome(Outcome::harm)});
  const auto why = [&](const slips::NumbersRequest& request) {
    const auto answer = slips::numbers_of(table, request);
    REQUIRE(reliability::refused(answer));
    CHECK_FALSE(emit::refusal_in_words(*reliability::refused(answer)).empty());
    return reliability::refused(answer)->why;
  };
  CHECK(why({.set = "THERP"}) == reliability::Why::unknown_set);
  CHECK(why({.set = "HEART-1986"}) == reliability::Why::unknown_figure);
  CHECK(why({.set = "THERP-1983", .overrides = {{"left out, ticked, long list", {1.5, std::nullopt}, "ours"}}}) == reliability::Why::outside_0_to_1);
  CHECK(why({.set = "THERP-1983", .overrides = {{"left out, ticked, long list", {0.01, 0.5}, "ours"}}}) == reliability::Why::error_factor_below_1);
  CHECK(why({.set = "THERP-1983", .something_to_see = -0.1}) == reliability::Why::outside_0_to_1);
}
