#pragma once
// Published figures on how often people slip, each with its source and with how well we know it.
//
// The figures come from three methods of the nuclear and process industries; none was made for hospitals. They serve to
// compare two drafts of one protocol with each other, and to say which of its lines weighs most. None is applied unless
// an author asks for its set by name, and every figure can be replaced by the author's own.
//
//   THERP-1983   Swain and Guttmann 1983 (NUREG/CR-1278): leaving a line out, a checker who does not notice, stress
//   HEART-1986   Williams 1986: nine kinds of task, and conditions that make each worse
//   SPAR-H-2005  Gertman and others 2005 (NUREG/CR-6883): two nominal figures and eight shaping factors
//
// The tables themselves were not at hand when this was written. So each figure carries a *mark*: `read` in a text that quotes
// the table (a worked calculation, an abstract); `second_hand` in somebody's re-typing of it; `memory`, not seen at all. A
// page that prints a figure prints its mark, and nobody may print this as "the published table" without it. HEART's conditions
// 32 to 38 are left out: the copies that were seen disagree about them.
//
// Owned by the program: constant tables. What an author chooses is a `Choice`: a set and what replaces some of its figures.

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "reliability/answer.hpp"

namespace stepward::reliability {

enum class Mark : std::uint8_t {
  read,         ///< seen in a text that quotes the source
  second_hand,  ///< seen in somebody's copy of the table
  memory,       ///< not seen
  author        ///< the protocol's own figure
};

enum class FigureKind : std::uint8_t {
  probability,  ///< of failing, per opportunity; the median where it has an error factor
  multiplier,   ///< of a probability
  certain       ///< this condition alone makes failure certain
};

/// A number and, if it is known, its error factor: the 95th percentile divided by the median.
struct Estimate {
  double value = 0;
  std::optional<double> error_factor;
};

struct Figure {
  std::string_view name;  ///< unique in its set
  FigureKind kind = FigureKind::probability;
  Estimate estimate;
  Mark mark = Mark::memory;
  std::string_view source;
};

struct PublishedSet {
  std::string_view name;
  std::string_view source;
  std::span<const Figure> figures;
};

std::span<const PublishedSet> published_sets();

/// The set of this name, or Why::unknown_set.
Answer<PublishedSet> published_set(std::string_view name);

/// An author's figure instead of a published one, of the same kind.
struct Override {
  std::string name;  ///< of the figure that it replaces
  Estimate estimate;
  std::string source;  ///< in the author's words
};

struct Choice {
  PublishedSet set;
  std::vector<Override> overrides;
};

/// A set with what replaces some of its figures, all of it looked at: unknown names, probabilities outside 0 to 1, multipliers that
/// are not above nought and error factors below 1 are refused. A later override of one name wins.
Answer<Choice> choose(std::string_view set, std::vector<Override> overrides);

/// A figure as it is to be used and printed.
struct UsedFigure {
  FigureKind kind = FigureKind::probability;
  Estimate estimate;
  Mark mark = Mark::memory;
  std::string source;
};

/// The author's figure if there is one, else the published one, else Why::unknown_figure.
Answer<UsedFigure> figure_of(const Choice& choice, std::string_view name);

}  // namespace stepward::reliability
