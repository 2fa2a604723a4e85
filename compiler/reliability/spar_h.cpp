#include "reliability/spar_h.hpp"

#include <algorithm>

#include "reliability/tables.hpp"

namespace stepward::reliability {
namespace {

constexpr std::string_view spar_h_retyped = "SPAR-H shaping factors, from a public re-encoding";
constexpr std::string_view spar_h_page = "SPAR-H concept page; Boring and Blackman 2007, abstract";
constexpr std::string_view spar_h_disputed = "from memory; a public re-encoding says 2";

constexpr Figure shaped(std::string_view name, double value) { return times(name, value, Mark::second_hand, spar_h_retyped); }
constexpr Figure hopeless(std::string_view name) { return sure(name, Mark::second_hand, spar_h_retyped); }

constexpr Figure spar_h_rows[] = {
    chance("action", 0.001, 0, Mark::read, spar_h_page),
    hopeless("action, time inadequate"),
    shaped("action, time just enough", 10),
    shaped("action, time nominal", 1),
    shaped("action, time 5 times what is needed", 0.1),
    shaped("action, time 50 times what is needed", 0.01),
    shaped("action, stress extreme", 5),
    shaped("action, stress high", 2),
    shaped("action, stress nominal", 1),
    shaped("action, complexity high", 5),
    shaped("action, complexity moderate", 2),
    shaped("action, complexity nominal", 1),
    shaped("action, experience low", 3),
    shaped("action, experience nominal", 1),
    shaped("action, experience high", 0.5),
    shaped("action, procedures none", 50),
    shaped("action, procedures incomplete", 20),
    shaped("action, procedures poor", 5),
    shaped("action, procedures nominal", 1),
    shaped("action, ergonomics misleading", 50),
    shaped("action, ergonomics poor", 10),
    shaped("action, ergonomics nominal", 1),
    shaped("action, ergonomics good", 0.5),
    hopeless("action, fitness unfit"),
    shaped("action, fitness degraded", 5),
    shaped("action, fitness nominal", 1),
    times("action, work processes poor", 5, Mark::memory, spar_h_disputed),
    shaped("action, work processes nominal", 1),
    shaped("action, work processes good", 0.5),

    chance("diagnosis", 0.01, 0, Mark::read, spar_h_page),
    hopeless("diagnosis, time inadequate"),
    shaped("diagnosis, time barely enough", 10),
    shaped("diagnosis, time nominal", 1),
    shaped("diagnosis, time extra", 0.1),
    shaped("diagnosis, time expansive", 0.01),
    shaped("diagnosis, stress extreme", 5),
    shaped("diagnosis, stress high", 2),
    shaped("diagnosis, stress nominal", 1),
    shaped("diagnosis, complexity high", 5),
    shaped("diagnosis, complexity moderate", 2),
    shaped("diagnosis, complexity nominal", 1),
    shaped("diagnosis, complexity obvious", 0.1),
    shaped("diagnosis, experience low", 10),
    shaped("diagnosis, experience nominal", 1),
    shaped("diagnosis, experience high", 0.5),
    shaped("diagnosis, procedures none", 50),
    shaped("diagnosis, procedures incomplete", 20),
    shaped("diagnosis, procedures poor", 5),
    shaped("diagnosis, procedures nominal", 1),
    shaped("diagnosis, procedures by symptom", 0.5),
    shaped("diagnosis, ergonomics misleading", 50),
    shaped("diagnosis, ergonomics poor", 10),
    shaped("diagnosis, ergonomics nominal", 1),
    shaped("diagnosis, ergonomics good", 0.5),
    hopeless("diagnosis, fitness unfit"),
    shaped("diagnosis, fitness degraded", 5),
    shaped("diagnosis, fitness nominal", 1),
    shaped("diagnosis, work processes poor", 2),
    shaped("diagnosis, work processes nominal", 1),
    shaped("diagnosis, work processes good", 0.8),
};

std::string_view spar_h_task(TaskKind kind) { return kind == TaskKind::action ? "action" : "diagnosis"; }

}  // namespace

std::span<const Figure> spar_h_figures() { return spar_h_rows; }

std::string spar_h_figure(TaskKind kind, std::string_view level) {
  return std::string(spar_h_task(kind)).append(", ").append(level);
}

Answer<double> shaped_chance(double nominal, const std::vector<double>& multipliers) {
  if (const auto no = unless_probability(nominal, "nominal chance")) return *no;
  double product = 1;
  for (const double each : multipliers) {
    if (!(each > 0)) return Refusal{Why::not_positive, "shaping factor", each};
    product *= each;
  }
  const auto negative = std::count_if(multipliers.begin(), multipliers.end(), [](double m) { return m > 1; });
  if (negative < 3) return std::min(1.0, nominal * product);
  return nominal * product / (nominal * (product - 1) + 1);
}

Answer<double> spar_h_chance(const Choice& spar_h, TaskKind kind, const std::vector<std::string>& levels) {
  const Answer<UsedFigure> nominal = figure_of(spar_h, spar_h_task(kind));
  if (const Refusal* no = refused(nominal)) return *no;
  std::vector<double> multipliers;
  bool certain = false;
  for (const std::string& each : levels) {
    const Answer<UsedFigure> factor = figure_of(spar_h, spar_h_figure(kind, each));
    if (const Refusal* no = refused(factor)) return *no;
    certain = certain || given(factor)->kind == FigureKind::certain;
    multipliers.push_back(given(factor)->estimate.value);
  }
  if (certain) return 1.0;
  return shaped_chance(given(nominal)->estimate.value, multipliers);
}

}  // namespace stepward::reliability
