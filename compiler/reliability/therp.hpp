#pragma once
// The figures of THERP-1983 that a line of a protocol asks for, by what the line is and who looks.
//
// *Leaving a line out* (table 20-7): a list of at most ten lines is a third as bad as a longer one, and a box to tick for
// each line is worth another third. *Not noticing* (table 20-22): what counts is the kind of check that the protocol
// writes down. Someone who reads each line aloud is the second of a two-person team and misses every other error (0.5); someone
// who has it in writing what must be seen, and looks, misses one in ten; an active test (a tug, a count, a seal check) one in a
// hundred. A third pair of eyes earns nothing. *Stress* (table 20-16) multiplies.
//
// Worked example: a line of a ticked list of 12 (0.003), under moderately high stress, done by a novice (x 4): 0.012; the observer
// sees a stated state (0.1), and is no more likely to miss it because the other has slipped: 0.0012.

#include <cstddef>

#include "reliability/published.hpp"

namespace stepward::reliability {

/// At most so many lines are a short list (table 20-7).
constexpr std::size_t short_list = 10;

enum class CheckKind : std::uint8_t {
  reads_aloud,       ///< the reader of a two-person team, or a second checker: 0.5
  looks_unwritten,   ///< looks, with nothing in writing to look for: 0.2
  sees_stated_state, ///< looks for what is in writing: 0.1
  alerted_once,      ///< one special look for which there is a reason: 0.05
  active_test,       ///< measures, tugs, counts: 0.01
  own_safety         ///< a check on which the checker's own safety hangs: 0.001
};

enum class Stress : std::uint8_t { very_low, optimum, moderately_high, extremely_high };
enum class Experience : std::uint8_t { skilled, novice };

/// The name of the figure in the set, for `figure_of`.
std::string_view omission_figure(bool ticked, std::size_t lines);
std::string_view check_figure(CheckKind check);
/// For work done line by line from a list.
std::string_view stress_figure(Stress stress, Experience experience);

/// A probability times a multiplier, at most 1. `probability` and `multiplier` as `figure_of` gives them; the error factor stays the
/// probability's. Why::not_a_multiplier where either is of the wrong kind.
Answer<Estimate> multiplied(const UsedFigure& probability, const UsedFigure& multiplier);

}  // namespace stepward::reliability
