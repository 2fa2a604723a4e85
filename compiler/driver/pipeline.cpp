#include "driver/pipeline.hpp"

#include <algorithm>

#include "diagnostics/render.hpp"
#include "driver/host.hpp"

namespace stepward::driver {
namespace {

bool is_of_reading(const diagnostics::Diagnostic& finding) { return finding.code == diagnostics::Code::N201; }

}  // namespace

Compilation read(const std::string& path, const FileAccess& access, const std::string& today) {
  Compilation made;
  const double start = seconds_now();
  made.loaded = resolve::load(path, access, made.files, made.findings);
  const double loaded = seconds_now();
  made.unreadable = std::any_of(made.findings.begin(), made.findings.end(), is_of_reading);
  made.protocol = model::build(made.loaded, made.files, made.findings, {today});
  made.timings.read = loaded - start;
  made.timings.build = seconds_now() - loaded;
  diagnostics::sort(made.findings, made.files);
  return made;
}

void walk(Compilation& made, const check::Options& options) {
  if (!made.is_walkable()) return;
  const double start = seconds_now();
  made.verdict = check::check(*made.protocol, options, made.findings);
  made.walked = true;
  diagnostics::sort(made.findings, made.files);
  made.timings.walk = seconds_now() - start;
}

}  // namespace stepward::driver
