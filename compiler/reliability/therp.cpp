#include "reliability/therp.hpp"

#include <algorithm>

#include "reliability/tables.hpp"

namespace stepward::reliability {
namespace {

constexpr std::string_view therp_log = "as a published calculation log quotes it (nusbaumer.tripod.com)";
constexpr std::string_view therp_7 = "table 20-7, from memory";
constexpr std::string_view therp_6 = "table 20-6, from memory";
constexpr std::string_view therp_22 = "table 20-22, from memory";
constexpr std::string_view therp_16 = "table 20-16, from memory";

constexpr Figure therp_rows[] = {
    chance("left out, ticked, short list", 0.001, 3, Mark::memory, therp_7),
    chance("left out, ticked, long list", 0.003, 3, Mark::memory, therp_7),
    chance("left out, not ticked, short list", 0.003, 3, Mark::read, therp_log),
    chance("left out, not ticked, long list", 0.01, 3, Mark::memory, therp_7),
    chance("left out, document lies unused", 0.05, 5, Mark::read, therp_log),

    chance("document unused, maintenance", 0.3, 5, Mark::read, therp_log),
    chance("document unused, test or calibration", 0.05, 0, Mark::memory, therp_6),
    chance("document unused, normal work", 0.01, 0, Mark::memory, therp_6),
    chance("document unused, something wrong", 0.005, 0, Mark::memory, therp_6),
    chance("boxes not ticked one by one", 0.5, 5, Mark::memory, therp_6),

    chance("check misses, reads aloud", 0.5, 5, Mark::memory, therp_22),
    chance("check misses, looks, nothing in writing", 0.2, 5, Mark::second_hand,
     "table 20-22, from a published calculation log that halves it (nusbaumer.tripod.com)"),
    chance("check misses, looks for what is in writing", 0.1, 5, Mark::memory, therp_22),
    chance("check misses, alerted, once", 0.05, 5, Mark::memory, therp_22),
    chance("check misses, active test", 0.01, 5, Mark::memory, therp_22),
    chance("check misses, own safety hangs on it", 0.001, 5, Mark::memory, therp_22),
    times("check of somebody else's restoring", 0.5, Mark::read, therp_log),

    times("stress very low, skilled", 2, Mark::memory, therp_16),
    times("stress very low, novice", 2, Mark::memory, therp_16),
    times("stress optimum, skilled", 1, Mark::read, therp_log),
    times("stress optimum, novice", 1, Mark::memory, therp_16),
    times("stress moderately high, skilled", 2, Mark::memory, therp_16),
    times("stress moderately high, novice", 4, Mark::memory, therp_16),
    times("stress extremely high, skilled", 5, Mark::memory, therp_16),
    times("stress extremely high, novice", 10, Mark::memory, therp_16),
};

}  // namespace

std::span<const Figure> therp_figures() { return therp_rows; }

std::string_view omission_figure(bool ticked, std::size_t lines) {
  if (lines <= short_list) return ticked ? "left out, ticked, short list" : "left out, not ticked, short list";
  return ticked ? "left out, ticked, long list" : "left out, not ticked, long list";
}

std::string_view check_figure(CheckKind check) {
  switch (check) {
    case CheckKind::reads_aloud: return "check misses, reads aloud";
    case CheckKind::looks_unwritten: return "check misses, looks, nothing in writing";
    case CheckKind::sees_stated_state: return "check misses, looks for what is in writing";
    case CheckKind::alerted_once: return "check misses, alerted, once";
    case CheckKind::active_test: return "check misses, active test";
    case CheckKind::own_safety: return "check misses, own safety hangs on it";
  }
  return {};
}

std::string_view stress_figure(Stress stress, Experience experience) {
  const bool skilled = experience == Experience::skilled;
  switch (stress) {
    case Stress::very_low: return skilled ? "stress very low, skilled" : "stress very low, novice";
    case Stress::optimum: return skilled ? "stress optimum, skilled" : "stress optimum, novice";
    case Stress::moderately_high: return skilled ? "stress moderately high, skilled" : "stress moderately high, novice";
    case Stress::extremely_high: return skilled ? "stress extremely high, skilled" : "stress extremely high, novice";
  }
  return {};
}

Answer<Estimate> multiplied(const UsedFigure& probability, const UsedFigure& multiplier) {
  if (probability.kind != FigureKind::probability) return Refusal{Why::not_a_multiplier, probability.source, probability.estimate.value};
  if (multiplier.kind != FigureKind::multiplier) return Refusal{Why::not_a_multiplier, multiplier.source, multiplier.estimate.value};
  return Estimate{std::min(1.0, probability.estimate.value * multiplier.estimate.value), probability.estimate.error_factor};
}

}  // namespace stepward::reliability
