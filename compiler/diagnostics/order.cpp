#include <algorithm>
#include <tuple>

#include "diagnostics/render.hpp"

namespace stepward::diagnostics {

Counts count(const Sink& findings) {
  Counts counts;
  for (const Diagnostic& finding : findings) {
    switch (finding.severity) {
      case Severity::error: ++counts.errors; break;
      case Severity::warning: ++counts.warnings; break;
      case Severity::note: ++counts.notes; break;
    }
  }
  return counts;
}

void sort(Sink& findings, const source::Files& files) {
  using Key = std::tuple<std::uint32_t, std::uint32_t, std::string_view, std::uint32_t>;
  const auto key = [&files](const Diagnostic& finding) {
    const std::uint32_t line = finding.at.file ? files.position(finding.at.file, finding.at.begin).line : 0;
    return Key(finding.at.file.value, line, code_name(finding.code), finding.at.begin);
  };
  std::vector<std::pair<Key, std::size_t>> keyed;
  for (std::size_t i = 0; i < findings.size(); ++i) keyed.emplace_back(key(findings[i]), i);
  std::sort(keyed.begin(), keyed.end());  // the position in the list as last key keeps equal findings in their order
  Sink sorted;
  sorted.reserve(findings.size());
  for (const auto& entry : keyed) sorted.push_back(std::move(findings[entry.second]));
  findings = std::move(sorted);
}

std::string_view severity_name(Severity severity) {
  switch (severity) {
    case Severity::note: return "note";
    case Severity::warning: return "warning";
    case Severity::error: return "error";
  }
  return "error";
}

}  // namespace stepward::diagnostics
