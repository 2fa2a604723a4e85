// `stepward tidy`: sources in tidy form, written back in place, printed, or only asked about.

#include "tidy/tidy.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"

namespace stepward::driver {
namespace {

/// One file: what it holds, and its tidy form or what there is to say instead.
struct Looked {
  std::string path;
  std::string before;
  std::string after;
  ExitCode code = ExitCode::fine;
  std::string trouble;

  bool has_changed() const { return code == ExitCode::fine && before != after; }
};

std::optional<std::string> read_source(const std::string& path, std::string& why) {
  return path == "-" ? read_standard_input(why) : FilesOnDisk(path).read(path, why);
}

/// Errors of layout only: whether names are known matters to no margin.
std::string errors_as_text(diagnostics::Sink findings, const source::Files& files) {
  findings.erase(std::remove_if(findings.begin(), findings.end(),
                                [](const auto& finding) { return finding.severity == diagnostics::Severity::warning; }),
                 findings.end());
  diagnostics::sort(findings, files);
  return diagnostics::as_text(findings, files, {});
}

void tidy_one(Looked& looked) {
  source::Files files;
  diagnostics::Sink findings;
  const source::FileId file = files.add(looked.path == "-" ? "standard input" : looked.path, looked.before);
  tidy::Tidied tidied = tidy::tidy(file, files.text(file), findings);
  switch (tidied.outcome) {
    case tidy::Outcome::tidy:
      looked.after = std::move(tidied.text);
      return;
    case tidy::Outcome::not_read:
      looked.code = ExitCode::findings;
      looked.trouble = errors_as_text(std::move(findings), files) +
                       fmt::format("stepward: {} was left as it is: what was found has to be mended first\n", files.path(file));
      return;
    case tidy::Outcome::would_differ:
      looked.code = ExitCode::internal_fault;
      looked.trouble = fmt::format("stepward: {} was left as it is: its tidy form would say something else. This is a fault of "
                                   "the program.\nPlease report it with the file.\n", files.path(file));
  }
}

Looked look_at(const std::string& path) {
  Looked looked;
  looked.path = path;
  std::string why;
  std::optional<std::string> bytes = read_source(path, why);
  if (!bytes) {
    looked.code = ExitCode::file_trouble;
    looked.trouble = fmt::format("stepward: cannot read {}: {}\n", path, why);
    return looked;
  }
  looked.before = std::move(*bytes);
  tidy_one(looked);
  return looked;
}

Outcome name_untidy(const std::vector<Looked>& all) {
  Outcome outcome;
  for (const Looked& looked : all) {
    if (!looked.has_changed()) continue;
    outcome.out += looked.path + '\n';
    outcome.code = ExitCode::findings;
  }
  return outcome;
}

Outcome write_back(const std::vector<Looked>& all) {
  Outcome outcome;
  std::vector<Output> outputs;
  for (const Looked& looked : all) {
    if (!looked.has_changed()) continue;
    outputs.push_back({looked.path, looked.after});
    outcome.out += fmt::format("{} is tidy now\n", looked.path);
  }
  const std::string why = write_all(outputs);
  return why.empty() ? outcome : refusal(ExitCode::file_trouble, why);
}

}  // namespace

Outcome tidy_command(const TidyRequest& request) {
  const bool from_input = std::find(request.files.begin(), request.files.end(), "-") != request.files.end();
  const bool print = request.print || (from_input && !request.only_look);
  if ((print || from_input) && request.files.size() > 1) {
    return refusal(ExitCode::wrong_use, "only one file can be printed, or read from standard input");
  }
  std::vector<Looked> all;
  for (const std::string& path : request.files) all.push_back(look_at(path));

  Outcome outcome = print ? Outcome{ExitCode::fine, all.front().after, ""} : request.only_look ? name_untidy(all) : write_back(all);
  for (const Looked& looked : all) {
    outcome.err += looked.trouble;
    if (static_cast<int>(looked.code) > static_cast<int>(outcome.code)) outcome.code = looked.code;
  }
  return outcome;
}

}  // namespace stepward::driver
