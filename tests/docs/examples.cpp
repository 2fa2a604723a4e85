#include "examples.hpp"

#include "base/file_access.hpp"
#include "check/verdict.hpp"
#include "diagnostics/render.hpp"
#include "model/from_syntax.hpp"
#include "resolve/imports.hpp"

namespace stepward::test {

Checked check_sources(const SourceFiles& sources, const std::string& today, const CheckOptions& with) {
  FilesInMemory access;
  for (const auto& [name, text] : sources) access.put(name, text);
  Checked made;
  const resolve::Loaded loaded = resolve::load("example.ward", access, made.files, made.findings);
  const auto protocol = model::build(loaded, made.files, made.findings, {today});
  if (protocol && !protocol->phases.empty()) {
    check::Options options;
    options.limit = with.limit;
    options.only_variant = with.only_variant;
    options.workers = 1;
    check::check(*protocol, options, made.findings);
  }
  diagnostics::sort(made.findings, made.files);
  return made;
}

}  // namespace stepward::test
