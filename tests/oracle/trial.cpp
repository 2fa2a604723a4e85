#include "trial.hpp"

#include <algorithm>

#include "base/file_access.hpp"
#include "generator.hpp"
#include "model/from_syntax.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"

namespace stepward::oracle {

Trial read_text(const std::string& text) {
  Trial trial;
  trial.text = text;
  FilesInMemory memory;
  memory.put("random.ward", text);
  source::Files& files = trial.files;
  diagnostics::Sink sink;
  const resolve::Loaded loaded = resolve::load("random.ward", memory, files, sink);
  trial.protocol = model::build(loaded, files, sink);
  for (const diagnostics::Diagnostic& finding : sink) {
    const std::string before = text.substr(0, finding.at.begin);
    const auto line = std::count(before.begin(), before.end(), '\n') + 1;
    std::string told(diagnostics::code_name(finding.code));
    told += " on line " + std::to_string(line);
    for (const std::string& arg : finding.args) told += " '" + arg + "'";
    trial.refusals.push_back(told);
  }
  return trial;
}

Trial read_procedure(std::uint64_t number) { return read_text(random_procedure(number)); }

}  // namespace stepward::oracle
