#include "caught.hpp"

#include <algorithm>

#include "explorer.hpp"
#include "model/from_syntax.hpp"
#include "model/variants.hpp"
#include "resolve/imports.hpp"

namespace stepward::mutations {
namespace {

By family(diagnostics::Code code) {
  switch (diagnostics::code_name(code)[0]) {
    case 'P': return By::physics;
    case 'R': return By::rule;
    default: return By::course;
  }
}

std::string name_of(const Reported& r) { return family(r.code) == By::rule && r.args.size() > 1 ? r.args[1] : std::string(diagnostics::code_name(r.code)); }

bool is_new(const Reported& warning, const Verdict& unedited) {
  return std::none_of(unedited.warnings.begin(), unedited.warnings.end(), [&](const Reported& r) { return r.code == warning.code && r.at == warning.at; });
}

bool meets(const Course& course, Origin place) {
  return std::any_of(course.begin(), course.end(), [&](const Step& step) { return step.at == place; });
}

void keep_needed_interruptions(const Base& base, const Mutant& m, model::Protocol& p) {
  const auto courses = base.courses(base.variants[m.variant]);
  const bool in_course = meets(courses.front(), m.place);
  std::vector<model::Interruption> kept;
  for (std::size_t i = 0; i < p.interruptions.size() && i + 1 < courses.size(); ++i)
    if (!in_course && meets(courses[i + 1], m.place)) kept.push_back(p.interruptions[i]);
  p.interruptions = std::move(kept);
}

}  // namespace

std::string_view words(By by) {
  switch (by) {
    case By::physics: return "physics";
    case By::rule: return "rule";
    case By::course: return "course";
    case By::warning: return "warning";
    case By::nothing: return "nothing";
  }
  return "";
}

Caught caught(const Verdict& verdict, const Verdict& unedited) {
  Caught out;
  for (const Reported& r : verdict.errors)
    if (family(r.code) < out.by) out = {family(r.code), name_of(r)};
  if (out.by != By::nothing) return out;
  for (const Reported& r : verdict.warnings)
    if (is_new(r, unedited)) return {By::warning, name_of(r)};
  return out;
}

SecondWord ask_second_explorer(const Base& base, const Mutant& m, std::size_t most_states) {
  source::Files files;
  diagnostics::Sink sink;
  const auto loaded = resolve::load(m.copies.path(0), m.copies.as_files(), files, sink);
  auto protocol = model::build(loaded, files, sink);
  if (!protocol) return {};
  keep_needed_interruptions(base, m, *protocol);
  const auto variants = model::all_variants(*protocol);
  const oracle::Result result = oracle::explore(*protocol, variants[std::min(m.variant, variants.size() - 1)], most_states);
  SecondWord out{result.is_complete, {}};
  for (const auto& [finding, steps] : result.shortest)
    if (diagnostics::default_severity(finding.code) == diagnostics::Severity::error) out.errors.push_back(oracle::to_string(finding));
  return out;
}

}  // namespace stepward::mutations
