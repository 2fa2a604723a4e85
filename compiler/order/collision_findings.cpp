#include "order/collision_findings.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "order/open_phase.hpp"
#include "wording/messages.hpp"

namespace stepward::order {
namespace {

/// "24, 22, 25": lines of the source. Of many, the first.
std::string line_numbers(const std::vector<source::Span>& lines, const source::Files& files) {
  constexpr std::size_t most = 12;
  std::string out;
  for (std::size_t i = 0; i < lines.size() && i < most; ++i)
    out += fmt::format("{}{}", i == 0 ? "" : ", ", files.position(lines[i].file, lines[i].begin).line);
  return lines.size() > most ? out + " …" : out;
}

std::string reason_of(const model::Rule& rule) { return fmt::format("{} {}: {}", rule.number, rule.name, rule.because); }

diagnostics::Diagnostic worded_collision(const model::Protocol& protocol, const PhaseCollision& c, std::size_t variants, const source::Files& files) {
  const model::Rule &one = protocol[c.one], &other = protocol[c.other];
  diagnostics::Diagnostic d = diagnostics::make(diagnostics::Code::F119, c.at, {one.number, other.number, protocol.phases[c.phase.value].name, std::to_string(c.left),
                                                                   line_numbers(c.keeps_one, files), line_numbers(c.keeps_other, files)});
  d.places = {{one.span, "this rule"}, {other.span, "and this rule"}};
  d.because = reason_of(one) + " " + reason_of(other);
  d.story = c.story;
  d.story.push_back({"", wording::headline(d.code, d.args), true});
  if (variants > 1) d.shared = fmt::format("{} of {} variants", c.variants, variants);
  return d;
}

/// True of what F116 says already of a block that stands in this phase itself.
bool was_told(const model::Protocol& protocol, const PhaseCollision& c, const std::vector<Settled>& settled) {
  const auto& statements = protocol[protocol.phases[c.phase.value].block].statements;
  return std::any_of(settled.begin(), settled.end(), [&](const Settled& s) {
    const auto names = [&](model::RuleId rule) { return std::any_of(s.collide.begin(), s.collide.end(), [&](const Breach& b) { return b.rule == rule; }); };
    const bool here = std::any_of(statements.begin(), statements.end(), [&](const model::Statement& line) { return line.span == s.lines.front(); });
    return here && s.collide.size() == 2 && names(c.one) && names(c.other);
  });
}

std::string why_untried(const UntriedPhase& u) {
  if (u.too_many_lines) return fmt::format("only its last {} lines were put into other orders", most_lines_of_a_phase);
  return fmt::format("the search was stopped at {} situations of one variant", number_of_orders(static_cast<double>(u.states)));
}

}  // namespace

void report_collisions(const model::Protocol& protocol, const std::vector<check::VariantWalk>& walks, const std::vector<Settled>& settled,
                       const PhaseOptions& options, const source::Files& files, diagnostics::Sink& sink) {
  const PhaseCollisions found = phase_collisions(protocol, walks, options);
  for (const PhaseCollision& c : found.pairs)
    if (!was_told(protocol, c, settled)) sink.push_back(worded_collision(protocol, c, walks.size(), files));
  for (const UntriedPhase& u : found.untried) {
    const model::Phase& phase = protocol.phases[u.phase.value];
    sink.push_back(diagnostics::make(diagnostics::Code::F120, phase.span, {phase.name, why_untried(u)}));
  }
}

}  // namespace stepward::order
