#pragma once
// Least and most chance of an end, where some turns have a chance and others are anybody's guess.
//
// Whether a line is left out has a published chance; whether soil is found has none. A chain (chain.hpp) needs a chance for every turn. Here
// a node has *options*, and each option a spread of arcs with chances that sum to 1. Nobody knows which option is taken, nor may it be
// the same each time: it may hang on all that happened before. So the chance of an end is not a number but an interval, and both its bounds are
// exact: the least and the most that any way of choosing the options comes to.
//
// Worked example: a rub is left out with 1/10. Then a question: with *yes* the hands are looked at, and 9 in 10 such rubs are made good; with
// *no* they are not.
//
//   start  —one option—→  9/10 rubbed, 1/10 asked
//   asked  —yes—→  9/10 rubbed, 1/10 harm         —no—→  1 harm
//
//   harm: at least 1/100, at most 1/10.
//
// How: what a node is worth is the best of its options, backwards from the ends, each node behind all that it leads to; that is exact. Nodes on a
// loop with each other (a strongly connected part) have no such order. There some option is fixed for each node, so that the loop is a chain,
// solved as chains are; then every node takes an option that is better, until none is (policy iteration). It begins with options that lead
// out of the loop, and no better one can lead back in for good, so what is bounded are the runs that end. Iterating values until little changes would
// not be sound, and is not done.

#include <cstdint>
#include <vector>

#include "reliability/answer.hpp"

namespace stepward::reliability {

/// Nodes by position. Options of node n end at option_ends[n], arcs of option o at arc_ends[o]; a node without options is an end.
template <class Number>
struct Decisions {
  std::vector<std::uint32_t> option_ends, arc_ends, to;
  std::vector<Number> chances;  ///< of each arc

  std::size_t nodes() const { return option_ends.size(); }
  std::uint32_t first_option(std::uint32_t node) const { return node ? option_ends[node - 1] : 0; }
  std::uint32_t first_arc(std::uint32_t option) const { return option ? arc_ends[option - 1] : 0; }
  bool is_end(std::uint32_t node) const { return first_option(node) == option_ends[node]; }
};

enum class Bound : std::uint8_t { least, most };

/// A loop of more nodes is not solved.
constexpr std::size_t largest_loop_of_options = 500;

/// What is asked: what each end is worth (by node; of others it does not count, and behind the last nought), and which bound.
template <class Number>
struct Wanted {
  std::vector<Number> gains;
  Bound bound = Bound::least;
};

/// For each of `wanted` what the node `at` is worth. Why::unknown_node, Why::outside_0_to_1, Why::does_not_add_up (about the option),
/// Why::never_ends (about a node from which no options lead to an end), Why::too_large (a loop).
template <class Number>
Answer<std::vector<Number>> worths_of(const Decisions<Number>& decisions, const std::vector<Wanted<Number>>& wanted, std::uint32_t at);

extern template Answer<std::vector<double>> worths_of(const Decisions<double>&, const std::vector<Wanted<double>>&, std::uint32_t);

}  // namespace stepward::reliability
