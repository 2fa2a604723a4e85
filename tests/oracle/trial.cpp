#include "trial.hpp"

#include <algorithm>

#include "base/file_access.hpp"
#include "generator.hpp"
#include "model/from_syntax.hpp"
#include "resolve/imports.hpp"
#include "source/files.hpp"

namespace stepward::oracle {

Trial read_from(const FileAccess& access, const std::string& path) {
  Trial trial;
  std::string why;
  trial.text = access.read(path, why).value_or("");
  const std::string& text = trial.text;
  source::Files& files = trial.files;
  diagnostics::Sink sink;
  const resolve::Loaded loaded = resolve::load(path, access, files, sink);
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

Trial read_text(const std::string& text) {
  FilesInMemory memory;
  memory.put("random.ward", text);
  return read_from(memory, "random.ward");
}

Trial read_procedure(std::uint64_t number) { return read_text(random_procedure(number)); }

}  // namespace stepward::oracle
