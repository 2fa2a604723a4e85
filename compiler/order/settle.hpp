#pragma once
// `in any safe order`: finds the order that all papers print, and says of the others why they are not it.
//
// The lines of an order block stand in the model as they are written. Settling puts them into the order that was found, before anything
// else is made of the protocol; from then on it has one definite order, which is walked, printed and exported like any other. So nothing is
// believed of the search: `check` walks what it found. Every command settles in the same way, and the same text gets the same order.
//
//   1  an order that keeps every rule and every law of physics, on every path, in every variant, with interruptions (search.hpp)
//   2  of these, one with the fewest weak points (slips/table.hpp), then the one whose longest run is shortest
//   3  of these, the one nearest to the lines as they are written
//
// Weak points are dear to count. Where there are more orders than can be compared, as many are taken as an allowance of states reaches, spread
// evenly over all from the first, and it is told how many. Bounds on time are read off finished walks: orders are taken in turn until one keeps them.
//
// Where no order keeps everything, the lines stay as they are written, so that `check` tells the story of what breaks in that order, and
// the smallest set of rules that no order keeps together is named. Orders are *allowed by the rules*, never advised: nobody wrote down
// every reason for an order.

#include <string>
#include <vector>

#include "diagnostics/diagnostic.hpp"
#include "order/search.hpp"
#include "source/files.hpp"

namespace stepward::order {

struct Options {
  bool compare = true;                     ///< false: the first order that keeps everything, whatever its weak points
  std::uint64_t limit = 2'000'000;         ///< states of one variant's walk
  std::uint64_t allowance = 3'000'000;     ///< states for the comparison of weak points; the first two orders are compared in any case
  unsigned workers = 2;
};

/// Why some orders are out.
struct Refusal {
  Breach breach;
  source::Span line;                       ///< with this line it is broken
  double orders = 0;
};

/// What became of one order block.
struct Settled {
  enum class Outcome : std::uint8_t { found, none_keeps, not_all_tried, never_reached } outcome = Outcome::found;
  source::Span span;                       ///< its head
  std::vector<source::Span> lines;         ///< as they are written
  std::vector<std::uint8_t> order;         ///< found: their positions; else as they are written
  double all = 0, kept = 0;                ///< orders of this block, the others as they were found; of these, those that keep everything
  bool clocks_open = false;                ///< bounds on time are asked too, so some of `kept` may break one
  std::size_t compared = 0;                ///< orders whose weak points were counted; 0: none
  std::size_t weak_points = 0, most_weak_points = 0;  ///< of the order found, and of the worst that was compared
  std::vector<Refusal> refused;            ///< the most frequent first
  std::vector<Breach> collide;             ///< none_keeps: the smallest set of rules that no order keeps together; empty: it needs no rule
  std::uint64_t states = 0;                ///< that were walked for it
};

/// "3 628 800"; beyond what a number of 64 bits counts exactly, "1.2e+18".
std::string number_of_orders(double orders);

/// Puts the lines of all order blocks into the order found. Findings (F116, F117, F118) go to `sink`.
std::vector<Settled> settle(model::Protocol& protocol, const Options& options, const source::Files& files, diagnostics::Sink& sink);

}  // namespace stepward::order
