#pragma once
// The scores of a failure-mode table, in the two published forms.
//
// HFMEA (DeRosier and others 2002, Jt Comm J Qual Improv 28(5); VA National Center for Patient Safety) scores how bad a failure
// is and how often it happens, four words each, and multiplies: the matrix below. Four questions then say whether to go on:
//
//   1 is the score 8 or more?  yes: 3   no: 2          |            | catastrophic | major | moderate | minor |
//   2 is it a single point     yes: 3   no: stop       | frequent   |     16       |  12   |    8     |   4   |
//     weakness?                                        | occasional |     12       |   9   |    6     |   3   |
//   3 does an effective        yes: stop               | uncommon   |      8       |   6   |    4     |   2   |
//     control exist?           no: 4                   | remote     |      4       |   3   |    2     |   1   |
//   4 is it so obvious that no yes: stop
//     control is needed?       no: go on, act
//
// Worked example: remote and catastrophic scores 4, and would stop at question 1; as a single point weakness without control
// that nobody would see, it goes on all the same. Threshold and questions read (VA pages); matrix and wiring from memory.
//
// IEC 60812 knows, among others, the risk priority number: severity x occurrence x detection, 1 to 10 each. Many different rows
// share one number, so rows are ranked by number, then severity, then occurrence, then detection.

#include <cstdint>

#include "reliability/answer.hpp"

namespace stepward::reliability {

enum class Severity : std::uint8_t { minor = 1, moderate, major, catastrophic };

/// How often: remote, some time in 5 to 30 years; uncommon, in 2 to 5 years; occasional, several times in 1 to 2 years; frequent, several
/// times in one year. From memory.
enum class Frequency : std::uint8_t { remote = 1, uncommon, occasional, frequent };

/// 1 to 16.
constexpr unsigned hazard_score(Severity severity, Frequency frequency) {
  return static_cast<unsigned>(severity) * static_cast<unsigned>(frequency);
}

/// From this score on, a failure counts by its score alone.
constexpr unsigned counts_by_score = 8;

/// What is asked besides the score.
struct HazardAnswers {
  bool single_point_weakness = false;  ///< this failure alone leads to harm
  bool effective_control = false;      ///< something stands between it and the harm, on every way
  bool obvious = false;                ///< so plain to see that no control is needed
};

/// Where the questions end.
enum class HazardDecision : std::uint8_t { stop_too_small, stop_controlled, stop_obvious, act };

HazardDecision decide(unsigned score, const HazardAnswers& answers);

/// One row's ratings, 1 to 10 each; 10 is worst, for detection: least likely to be noticed.
struct Ratings {
  unsigned severity = 1, occurrence = 1, detection = 1;
  friend bool operator==(const Ratings&, const Ratings&) = default;
};

/// 1 to 1000, or Why::rating_outside_1_to_10.
Answer<unsigned> risk_priority(const Ratings& ratings);

/// Whether the first stands above the second in a ranked table. Both have valid ratings.
bool ranks_above(const Ratings& one, const Ratings& other);

}  // namespace stepward::reliability
