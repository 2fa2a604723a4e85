// Chains with exits: exact fractions from textbooks, closed forms, and the equations themselves.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "reliability/exact_chain.hpp"

namespace stepward::reliability {
namespace {

using Exact = ExactFraction;

template <class Number>
Arc<Number> arc(unsigned from, unsigned to, Number chance) { return {NodeId(from), NodeId(to), chance}; }

template <class Number>
Visits<Number> solved(const Chain<Number>& chain) {
  const auto answer = visits_of(chain);
  REQUIRE(given(answer));
  return *given(answer);
}

template <class Number>
Why why_no_visits(const Chain<Number>& chain) {
  const auto answer = visits_of(chain);
  REQUIRE(refused(answer));
  return refused(answer)->why;
}

/// Corners 0 to `last`, the outermost are exits; right with `right`, else left.
template <class Number>
Chain<Number> walk(unsigned last, unsigned start, const Number& right) {
  Chain<Number> chain{last + 1, NodeId(start), {}};
  for (unsigned i = 1; i < last; ++i) {
    chain.arcs.push_back(arc<Number>(i, i + 1, right));
    chain.arcs.push_back(arc<Number>(i, i - 1, Number(1 - right)));
  }
  return chain;
}

Exact power(Exact base, unsigned exponent) {
  Exact result = 1;
  for (; exponent > 0; --exponent) result *= base;
  return result;
}

/// A chain in exact fractions: mostly forwards, with some ways back; the last two nodes are exits.
Chain<Exact> random_chain(std::mt19937& random, unsigned nodes) {
  Chain<Exact> chain{nodes, NodeId(0u), {}};
  for (unsigned node = 0; node + 2 < nodes; ++node) {
    std::vector<unsigned> weights;
    unsigned sum = 0;
    for (unsigned i = 1 + random() % 4; i > 0; --i) {
      weights.push_back(1 + random() % 9);
      sum += weights.back();
    }
    // One arc at least leads onwards, so that there is always a way out.
    for (std::size_t i = 0; i < weights.size(); ++i) {
      const unsigned to = i == 0 ? node + 1 + random() % (nodes - node - 1) : static_cast<unsigned>(random() % nodes);
      chain.arcs.push_back(arc<Exact>(node, to, fraction(weights[i], sum)));
    }
  }
  return chain;
}

Chain<double> in_doubles(const Chain<Exact>& chain) {
  Chain<double> result{chain.nodes, chain.start, {}};
  for (const auto& each : chain.arcs) result.arcs.push_back({each.from, each.to, each.chance.get_d()});
  return result;
}

/// times = start + what comes in over all arcs: the equations that the solution has to fulfil.
void check_equations(const Chain<Exact>& chain, const Visits<Exact>& visits) {
  std::vector<Exact> coming(chain.nodes, Exact(0));
  coming[chain.start.value] = 1;
  for (const auto& each : chain.arcs) coming[each.to.value] += visits.times[each.from.value] * each.chance;
  CHECK(coming == visits.times);
  CHECK(visits.ended == 1);
}

}  // namespace

TEST_CASE("reliability: the walk between two corners, as exact fractions") {
  // Grinstead and Snell, Introduction to Probability, ch. 11.2: matrices N and B and times t (read in a copy).
  const Exact half = fraction(1, 2);
  const Exact times[3][3] = {{fraction(3, 2), 1, half}, {1, 2, 1}, {half, 1, fraction(3, 2)}};
  const Exact left[] = {fraction(3, 4), half, fraction(1, 4)};
  const long moves[] = {3, 4, 3};
  for (unsigned start = 1; start <= 3; ++start) {
    const Visits<Exact> got = solved(walk<Exact>(4, start, half));
    for (unsigned node = 1; node <= 3; ++node) CHECK(got.times[node] == times[start - 1][node - 1]);
    CHECK(got.times[0] == left[start - 1]);
    CHECK(got.times[4] == 1 - left[start - 1]);
    CHECK(got.moves == moves[start - 1]);
    CHECK(got.exits == std::vector<NodeId>{NodeId(0u), NodeId(4u)});
  }
}

TEST_CASE("reliability: jumping up to any larger number, as exact fractions") {
  // The same chapter, exercise (solutions read at rksmusings.com): integers 1 to 5, each larger one as likely as another.
  const Exact moves[] = {fraction(25, 12), fraction(11, 6), fraction(3, 2), 1};
  for (unsigned start = 0; start < 4; ++start) {
    Chain<Exact> chain{5, NodeId(start), {}};
    for (unsigned from = 0; from < 4; ++from) {
      for (unsigned to = from + 1; to < 5; ++to) chain.arcs.push_back(arc<Exact>(from, to, fraction(1, 4 - from)));
    }
    const Visits<Exact> got = solved(chain);
    CHECK(got.moves == moves[start]);
    CHECK(got.times[4] == 1);
    if (start > 0) continue;
    CHECK(got.times[0] == 1);
    CHECK(got.times[1] == fraction(1, 4));
    CHECK(got.times[2] == fraction(1, 3));
    CHECK(got.times[3] == fraction(1, 2));
  }
}

TEST_CASE("reliability: a line that is done again when its check finds it wrong") {
  // q c / (1 - q (1 - c)) with q = 3/1000, c = 1/2: by hand.
  const Exact wrong = fraction(3, 1000), missed = fraction(1, 2);
  const Chain<Exact> chain{3, NodeId(0u), {arc<Exact>(0, 1, Exact(wrong * missed)), arc<Exact>(0, 0, Exact(wrong * (1 - missed))),
                                           arc<Exact>(0, 2, Exact(1 - wrong))}};
  const Visits<Exact> got = solved(chain);
  CHECK(got.times[0] == fraction(2000, 1997));
  CHECK(got.times[1] == fraction(3, 1997));
  CHECK(got.times[2] == fraction(1994, 1997));
  CHECK(got.ended == 1);
  const Visits<double> rounded = solved(in_doubles(chain));
  CHECK(rounded.times[1] == doctest::Approx(0.00150225338).epsilon(1e-9));
  CHECK(std::abs(rounded.ended - 1) < 1e-12);
}

TEST_CASE("reliability: long walks against the gambler's closed form, past what 128 bits hold") {
  // Ruin from i of n with chances p and q = 1 - p: the right end is reached with (1 - (q/p)^i) / (1 - (q/p)^n); classical, from memory.
  const Exact right = fraction(3, 10);
  const Exact ratio = fraction(7, 3);
  const Exact expected = (1 - power(ratio, 5)) / (1 - power(ratio, 60));
  const Visits<Exact> got = solved(walk<Exact>(60, 5, right));
  CHECK(got.times[60] == expected);
  CHECK(mpz_sizeinbase(got.times[60].get_den().get_mpz_t(), 2) > 128);
  // 2e-20, and every digit of it is right.
  const Visits<double> rounded = solved(walk<double>(60, 5, 0.3));
  CHECK(rounded.times[60] == doctest::Approx(expected.get_d()).epsilon(1e-12));
  CHECK(expected.get_d() < 1e-18);
}

TEST_CASE("reliability: random chains fulfil their equations, exactly and in doubles") {
  std::mt19937 random(31);
  for (int round = 0; round < 150; ++round) {
    CAPTURE(round);
    const Chain<Exact> chain = random_chain(random, 3 + random() % 12);
    const Visits<Exact> got = solved(chain);
    check_equations(chain, got);
    const Visits<double> rounded = solved(in_doubles(chain));
    CHECK(std::abs(rounded.ended - 1) < 1e-12);
    for (std::size_t node = 0; node < chain.nodes; ++node)
      CHECK(rounded.times[node] == doctest::Approx(got.times[node].get_d()).epsilon(1e-12));
  }
}

TEST_CASE("reliability: a long procedure with loops of its own keeps its sum") {
  // Ten thousand lines, each done again with 1/8, left for harm with 1/1024: doubles hold these exactly; harm at line i has a closed form.
  const unsigned lines = 10'000;
  Chain<double> chain{lines + 2, NodeId(0u), {}};
  for (unsigned line = 0; line < lines; ++line) {
    chain.arcs.push_back(arc(line, line, 0.125));
    chain.arcs.push_back(arc(line, lines + 1, 1.0 / 1024));
    chain.arcs.push_back(arc(line, line + 1, 0.875 - 1.0 / 1024));
  }
  const Visits<double> got = solved(chain);
  const double onwards = (0.875 - 1.0 / 1024) / 0.875;
  CHECK(got.times[lines] == doctest::Approx(std::pow(onwards, lines)).epsilon(1e-9));
  CHECK(std::abs(got.ended - 1) < 1e-12);
}

TEST_CASE("reliability: last digits that are off do not add up along a procedure") {
  // Each line's chances miss 1 by 8e-13, which is taken for rounding; over ten thousand lines that would be 8e-9.
  const unsigned lines = 10'000;
  Chain<double> chain{lines + 2, NodeId(0u), {}};
  for (unsigned line = 0; line < lines; ++line) {
    chain.arcs.push_back(arc(line, lines + 1, 1e-5));
    chain.arcs.push_back(arc(line, line + 1, 1 - 1e-5 - 8e-13));
  }
  const Visits<double> got = solved(chain);
  CHECK(std::abs(got.ended - 1) < 1e-12);
  CHECK(got.times[lines + 1] == doctest::Approx(-std::expm1(lines * std::log1p(-1e-5))).epsilon(1e-9));
}

TEST_CASE("reliability: arcs that are given twice add up, and those that are never taken are none") {
  const Chain<Exact> twice{3, NodeId(0u), {arc<Exact>(0, 1, fraction(1, 4)), arc<Exact>(0, 2, fraction(1, 2)),
                                           arc<Exact>(0, 1, fraction(1, 4))}};
  CHECK(solved(twice).times[1] == fraction(1, 2));
  const Chain<double> never{3, NodeId(0u), {arc(0, 1, 1.0), arc(0, 2, 0.0), arc(2, 2, 1.0)}};
  CHECK(solved(never).times[1] == 1);
  CHECK(solved(Chain<double>{1, NodeId(0u), {}}).times[0] == 1);
}

TEST_CASE("reliability: a loop without a way out is refused if a run can enter it") {
  Chain<double> trap{4, NodeId(0u), {arc(0, 1, 0.5), arc(0, 3, 0.5), arc(1, 2, 1.0), arc(2, 1, 1.0)}};
  CHECK(why_no_visits(trap) == Why::never_ends);
  CHECK(why_no_visits(Chain<double>{1, NodeId(0u), {arc(0, 0, 1.0)}}) == Why::never_ends);
  trap.arcs[0] = arc(0, 3, 0.5);
  CHECK(solved(trap).times[3] == 1);
}

TEST_CASE("reliability: what is no chain is refused") {
  CHECK(why_no_visits(Chain<double>{2, NodeId(0u), {arc(0, 1, 0.9)}}) == Why::does_not_add_up);
  CHECK(why_no_visits(Chain<Exact>{2, NodeId(0u), {arc<Exact>(0, 1, fraction(999'999'999, 1'000'000'000))}}) == Why::does_not_add_up);
  CHECK(why_no_visits(Chain<double>{2, NodeId(0u), {arc(0, 1, 1.5), arc(0, 0, -0.5)}}) == Why::outside_0_to_1);
  CHECK(why_no_visits(Chain<double>{2, NodeId(0u), {arc(0, 1, std::nan(""))}}) == Why::outside_0_to_1);
  CHECK(why_no_visits(Chain<double>{2, NodeId(0u), {arc(0, 5, 1.0)}}) == Why::unknown_node);
  CHECK(why_no_visits(Chain<double>{2, NodeId(5u), {arc(0, 1, 1.0)}}) == Why::unknown_node);
  CHECK(why_no_visits(Chain<double>{2, NodeId(), {arc(0, 1, 1.0)}}) == Why::unknown_node);
}

// ---------------------------------------------------------------- turns that nobody knows the chance of

namespace {

/// Nodes with their options, each a list of (node, chance); a node without options is an end.
template <class Number>
Decisions<Number> decisions_of(const std::vector<std::vector<std::vector<std::pair<unsigned, Number>>>>& nodes) {
  Decisions<Number> out;
  for (const auto& options : nodes) {
    for (const auto& option : options) {
      for (const auto& [to, chance] : option) {
        out.to.push_back(to);
        out.chances.push_back(chance);
      }
      out.arc_ends.push_back(static_cast<std::uint32_t>(out.to.size()));
    }
    out.option_ends.push_back(static_cast<std::uint32_t>(out.arc_ends.size()));
  }
  return out;
}

/// Least and most of what the start, node 2, is worth, where node 0 is harm and node 1 no harm.
template <class Number>
std::pair<Number, Number> harm_of(const Decisions<Number>& decisions) {
  const auto answer = worths_of(decisions, {Wanted<Number>{{Number(1)}, Bound::least}, Wanted<Number>{{Number(1)}, Bound::most}}, 2);
  REQUIRE(given(answer));
  return {(*given(answer))[0], (*given(answer))[1]};
}

Why why_no_worth(const Decisions<double>& decisions) {
  const auto answer = worths_of(decisions, {Wanted<double>{{1}, Bound::most}}, 2);
  REQUIRE(refused(answer));
  return refused(answer)->why;
}

/// What the start is worth, for every way of fixing one option a node, each a chain; least and most.
std::pair<Exact, Exact> by_every_choice(const Decisions<Exact>& d) {
  std::vector<std::uint32_t> chosen(d.nodes(), 0);
  std::pair<Exact, Exact> out{2, -1};
  for (;;) {
    Chain<Exact> chain{d.nodes(), NodeId(2u), {}};
    for (std::uint32_t n = 0; n < d.nodes(); ++n)
      if (!d.is_end(n))
        for (std::uint32_t a = d.first_arc(d.first_option(n) + chosen[n]); a < d.arc_ends[d.first_option(n) + chosen[n]]; ++a) chain.arcs.push_back({NodeId(n), NodeId(d.to[a]), d.chances[a]});
    if (const auto visits = visits_of(chain); given(visits)) {  // a choice that never ends is none
      out.first = std::min(out.first, given(visits)->times[0]);
      out.second = std::max(out.second, given(visits)->times[0]);
    }
    std::uint32_t n = 0;
    while (n < d.nodes() && (d.is_end(n) || ++chosen[n] == d.option_ends[n] - d.first_option(n))) chosen[n++] = 0;
    if (n == d.nodes()) return out;
  }
}

}  // namespace

TEST_CASE("decisions: the worked example, in fractions") {
  // 2: the rub; 3: the question behind one that is left out.
  const auto d = decisions_of<Exact>({{}, {}, {{{1, fraction(9, 10)}, {3, fraction(1, 10)}}}, {{{1, fraction(9, 10)}, {0, fraction(1, 10)}}, {{0, 1}}}});
  CHECK(harm_of(d) == std::pair(fraction(1, 100), fraction(1, 10)));
}

TEST_CASE("decisions: a loop is solved for each way of choosing, in fractions") {
  // The line goes wrong with 3/1000; then either the check misses half of that and the line is done again otherwise (3/1997), or nobody checks (3/1000), or
  // it is done again without harm, always (nought).
  const auto d = decisions_of<Exact>({{}, {}, {{{1, fraction(997, 1000)}, {3, fraction(3, 1000)}}}, {{{0, fraction(1, 2)}, {2, fraction(1, 2)}}, {{0, 1}}, {{2, 1}}}});
  CHECK(harm_of(d) == std::pair(fraction(0), fraction(3, 1000)));
  const auto checked = decisions_of<Exact>({{}, {}, {{{1, fraction(997, 1000)}, {3, fraction(3, 1000)}}}, {{{0, fraction(1, 2)}, {2, fraction(1, 2)}}, {{0, 1}}}});
  CHECK(harm_of(checked) == std::pair(fraction(3, 1997), fraction(3, 1000)));
  // One may go round for ever, and does not: runs that end count.
  const auto round = decisions_of<Exact>({{}, {}, {{{3, 1}}}, {{{2, 1}}, {{0, fraction(1, 3)}, {1, fraction(2, 3)}}}});
  CHECK(harm_of(round) == std::pair(fraction(1, 3), fraction(1, 3)));
}

TEST_CASE("decisions: random graphs with loops, against every way of choosing") {
  std::mt19937 random(7);
  std::size_t open = 0;
  for (int trial = 0; trial < 60; ++trial) {
    std::vector<std::vector<std::vector<std::pair<unsigned, Exact>>>> nodes{{}, {}};
    const unsigned count = 5 + random() % 3;
    for (unsigned n = 2; n < count; ++n) {
      nodes.emplace_back();
      for (unsigned option = 1 + random() % 3; option > 0; --option) {
        const unsigned parts = 2 + random() % 8, one = 1 + random() % (parts - 1);
        nodes.back().push_back({{random() % count, fraction(one, parts)}, {random() % 2, fraction(parts - one, parts)}});
      }
    }
    const auto d = decisions_of<Exact>(nodes);
    const auto expected = by_every_choice(d);
    CHECK(harm_of(d) == expected);
    open += expected.first != expected.second;
    Decisions<double> rough{d.option_ends, d.arc_ends, d.to, {}};
    for (const Exact& chance : d.chances) rough.chances.push_back(chance.get_d());
    CHECK(std::abs(harm_of(rough).first - expected.first.get_d()) < 1e-12);
    CHECK(std::abs(harm_of(rough).second - expected.second.get_d()) < 1e-12);
  }
  CHECK(open > 20);
}

TEST_CASE("decisions: what cannot be reckoned is refused") {
  CHECK(why_no_worth(decisions_of<double>({{}, {}, {{{0, 0.5}, {1, 0.4}}}})) == Why::does_not_add_up);
  CHECK(why_no_worth(decisions_of<double>({{}, {}, {{{0, 1.5}, {1, -0.5}}}})) == Why::outside_0_to_1);
  CHECK(why_no_worth(decisions_of<double>({{}, {}, {{{7, 1.0}}}})) == Why::unknown_node);
  CHECK(why_no_worth(decisions_of<double>({{}, {}, {{{3, 1.0}}}, {{{2, 1.0}}}})) == Why::never_ends);
}

}  // namespace stepward::reliability
