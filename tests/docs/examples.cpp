#include "examples.hpp"

#include "base/file_access.hpp"
#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"
#include "slips/answers.hpp"

namespace stepward::test {

Checked check_sources(const SourceFiles& sources, const std::string& today, const CheckOptions& with) {
  FilesInMemory access;
  for (const auto& [name, text] : sources) access.put(name, text);
  driver::Compilation compilation = driver::read("example.ward", access, today);
  check::Options options;
  options.limit = with.limit;
  options.only_variant = with.only_variant;
  options.workers = 1;
  options.witness = with.witness;
  driver::walk(compilation, options);
  const bool is_answered = compilation.is_walkable() && !compilation.protocol->answered_slips.empty();
  if (is_answered && diagnostics::count(compilation.findings).errors == 0)
    for (diagnostics::Diagnostic& finding : slips::answers_not_needed(slips::analyse(*compilation.protocol, {.workers = 1}))) compilation.findings.push_back(std::move(finding));
  return {std::move(compilation.files), std::move(compilation.findings)};
}

}  // namespace stepward::test
