#pragma once
// What this folder says when it cannot reckon: a refusal, as data.
//
// Numbers about people come from an author's file and from published tables, and either may be wrong: a probability of
// 1.2, a set that nobody published, a spread that was never given. A wrong number that is passed on in silence ends as a
// figure on a page that somebody believes. So every function that can be asked for the impossible gives an `Answer`: what was
// asked for, or a `Refusal` that names what it is about. Nothing is thrown; the words are found elsewhere.
//
//   const Answer<double> answer = given_failure(Dependence::low, 1.2);
//   if (const Refusal* no = refused(answer)) …       no->why == Why::outside_0_to_1, no->value == 1.2

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>

namespace stepward::reliability {

enum class Why : std::uint8_t {
  unknown_set,         ///< no published set has this name
  unknown_figure,      ///< the set has no figure of this name
  outside_0_to_1,      ///< a probability or a share that is none
  not_positive,        ///< a multiplier or a median that is nought, less, or no number
  no_error_factor,     ///< a spread was asked for, and only a single number is known
  error_factor_below_1,///< the 95th percentile would lie under the median
  not_a_multiplier,    ///< a probability stands where a multiplier is wanted, or the other way round
  rating_outside_1_to_10,
  unknown_event,       ///< a cut set names an event that has no probability
  too_large,           ///< more work than was allowed; bounds can still be had
  unknown_node,        ///< an arc leads to a place that the chain has not
  does_not_add_up,     ///< what leaves a node does not sum to one
  never_ends           ///< a loop without a way out is entered
};

struct Refusal {
  Why why = Why::unknown_set;
  std::string about;  ///< the name that was asked for; of a cut set, an event or a node: its position
  double value = 0;   ///< the number that was refused, where there is one
};

template <class Wanted>
using Answer = std::variant<Wanted, Refusal>;

/// What was asked for, or nullptr.
template <class Wanted>
const Wanted* given(const Answer<Wanted>& answer) { return std::get_if<Wanted>(&answer); }

/// Why not, or nullptr.
template <class Wanted>
const Refusal* refused(const Answer<Wanted>& answer) { return std::get_if<Refusal>(&answer); }

/// A refusal if this is no probability; not-a-number is none.
inline std::optional<Refusal> unless_probability(double value, std::string_view about) {
  if (value >= 0 && value <= 1) return std::nullopt;
  return Refusal{Why::outside_0_to_1, std::string(about), value};
}

}  // namespace stepward::reliability
