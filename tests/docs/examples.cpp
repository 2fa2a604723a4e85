#include "examples.hpp"

#include "base/file_access.hpp"
#include "driver/pipeline.hpp"

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
  return {std::move(compilation.files), std::move(compilation.findings)};
}

}  // namespace stepward::test
