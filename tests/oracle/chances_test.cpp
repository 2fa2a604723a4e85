// Chances of harm on the graph of random procedures, held against every run and slip by brute force.

#include "doctest/doctest.h"

#include <cmath>
#include <random>

#include "chance_brute.hpp"
#include "model/variants.hpp"
#include "rules/advice.hpp"
#include "trial.hpp"

using namespace stepward;
using namespace stepward::oracle;

namespace {

constexpr std::size_t most_places = 30'000;
constexpr std::uint64_t procedures = 40;

double difference(const slips::Bounds& a, const slips::Bounds& b) { return std::max(std::abs(a.least - b.least), std::abs(a.most - b.most)); }

double difference(const slips::HarmBounds& a, const slips::HarmBounds& b) {
  double most = std::max(difference(a.any, b.any), std::abs(a.beyond - b.beyond));
  for (std::size_t k = 0; k < a.by_harm.size(); ++k) most = std::max(most, difference(a.by_harm[k], b.by_harm[k]));
  return most;
}

/// Any way may have a chance, whatever its kind; seldom enough that those of one line stay below 1.
std::vector<slips::WayChance> random_chances(std::size_t ways, std::mt19937& dice) {
  const auto share = [&] { return static_cast<double>(dice() % 1000) / 1000; };
  std::vector<slips::WayChance> out(ways);
  for (slips::WayChance& way : out) {
    if (dice() % 2) way.slips = share() * 0.05;
    if (dice() % 3 == 0) way.unseen = share();
  }
  return out;
}

/// Slips that are made instead of no line that a run can do there: none of the graph's turns would hold them.
std::size_t strays(const slips::SlippedSystem& made) {
  std::size_t out = 0;
  for (const graph::SlipWay& way : made.ways.ways) {
    const explore::PackedNode& node = made.packed.nodes[way.at.value];
    bool is_of_a_line = false;
    for (std::uint32_t e = node.edges.first; e < node.edges.last; ++e)
      is_of_a_line |= made.system.edges[e].label.what != effects::EdgeLabel::What::slips && made.system.edges[e].by == (way.before ? way.before : way.slipped);
    out += !is_of_a_line;
  }
  return out;
}

struct Compared { std::size_t variants = 0, strays = 0, harms = 0, open = 0, given_up = 0; double worst = 0; };

/// `wrong`: one way has another chance on the graph than by brute force.
Compared compared(bool wrong) {
  Compared out;
  for (std::uint64_t number = 0; number < procedures; ++number) {
    const Trial trial = read_procedure(number);
    if (!trial.protocol) continue;
    std::mt19937 dice(static_cast<unsigned>(number));
    model::Protocol advised = rules::with_rules_as_advice(*trial.protocol);
    advised.interruptions.clear();
    for (const model::Variant& variant : model::all_variants(advised)) {
      const slips::SlippedSystem made = slips::slipped_system(advised, variant);
      const auto kinds = slips::harm_kinds(advised, made);
      std::vector<slips::WayChance> ways = random_chances(made.ways.ways.size(), dice);
      const auto slow = brute_bounds(made, kinds, ways, most_places);
      if (!slow || ways.empty()) { ++out.given_up; continue; }
      if (wrong) ways.front().slips += 0.01;
      const auto fast = slips::harm_bounds(made, kinds, ways, 1'000'000);
      REQUIRE(reliability::given(fast));
      ++out.variants;
      out.strays += strays(made);
      out.worst = std::max(out.worst, difference(*slow, *reliability::given(fast)));
      out.harms += slow->any.most > slow->beyond + 1e-6;
      out.open += slow->any.least + slow->beyond + 1e-6 < slow->any.most;
    }
  }
  return out;
}

}  // namespace

TEST_CASE("chances on the graph: the same as by brute force to 1e-12") {
  const Compared all = compared(false);
  CHECK(all.worst < 1e-12);
  CHECK(all.variants > 20);
  CHECK(all.strays == 0);
  CHECK(all.harms > 10);
  CHECK(all.open > 0);
  MESSAGE(all.variants << " variants, " << all.harms << " with harm, " << all.open << " that hang on answers, " << all.given_up << " given up, differ by " << all.worst);
}

TEST_CASE("chances on the graph: a chance that differs is noticed") { CHECK(compared(true).worst > 1e-6); }
