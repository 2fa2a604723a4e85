// `stepward check`: every finding of one or several files, then the verdict.

#include <algorithm>

#include <fmt/format.h>

#include "base/side_by_side.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/dependencies.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "driver/verdict_text.hpp"
#include "model/variants.hpp"
#include "resolve/name_table.hpp"

namespace stepward::driver {
namespace {

ExitCode code_of(const Compilation& made) {
  if (made.unreadable) return ExitCode::file_trouble;
  return diagnostics::count(made.findings).errors > 0 ? ExitCode::findings : ExitCode::fine;
}

using Format = CheckRequest::Format;

std::string shown(const Compilation& made, const CheckRequest& request, const Asked& asked, const std::string& file, bool colour) {
  if (request.format == Format::sarif) {
    return diagnostics::as_sarif_run({file, &made.findings, &made.files, verdict_text(made, asked, false), !made.unreadable});
  }
  if (request.format == Format::json) return diagnostics::as_json(made.findings, made.files, verdict_facts(made, asked, request.timings));
  return diagnostics::as_text(made.findings, made.files, {colour}) + verdict_text(made, asked, request.timings);
}

std::string no_such_rule(const model::Protocol& protocol, const std::string& number) {
  std::vector<std::string> numbers;
  for (const model::Rule& rule : protocol.rules) numbers.push_back(rule.number);
  const auto near = resolve::nearest_of(numbers, number);
  return "no rule here is called \"" + number + "\"" + (near ? "; perhaps " + *near + " is meant" : "");
}

Outcome check_one(const std::string& file, const CheckRequest& request, const Host& host, unsigned workers, unsigned checks, std::vector<std::string>& read_from) {
  const FilesOnDisk on_disk(file);
  const ReadFiles disk(on_disk, read_from);
  Compilation made = read(file, disk, request.today.empty() ? host.today : request.today);
  Asked asked{"", request.interruptions, request.limit};
  check::Options options;
  options.interruptions = request.interruptions;
  options.limit = request.limit;
  options.workers = workers;
  options.checks = checks;
  if (!request.only.empty() && made.is_walkable()) {
    std::string why;
    options.only_variant = variant_meant(*made.protocol, request.only, why);
    if (!options.only_variant) return refusal(ExitCode::wrong_use, file + ": " + why);
    asked.only = model::variant_name(*made.protocol, model::all_variants(*made.protocol)[*options.only_variant]);
  }
  if (!request.witness.empty() && made.is_walkable()) {
    const std::vector<bool> meant = check::rules_meant(*made.protocol, request.witness);
    if (std::find(meant.begin(), meant.end(), true) == meant.end()) return refusal(ExitCode::wrong_use, file + ": " + no_such_rule(*made.protocol, request.witness));
    options.witness = request.witness;
  }
  walk(made, options);
  return {code_of(made), shown(made, request, asked, file, request.output.empty() && wants_colour(host, request.colour)), ""};
}

/// Checks file by file on as many cores as there are; what a check throws comes out here, on the caller's thread.
std::vector<Outcome> check_all(const CheckRequest& request, const Host& host, std::vector<std::vector<std::string>>& read_from) {
  const std::size_t count = request.files.size();
  const auto at_a_time = static_cast<unsigned>(std::min<std::size_t>(count, host.cores));
  std::vector<Outcome> outcomes(count);
  side_by_side(count, at_a_time, [&](std::size_t i) {
    outcomes[i] = check_one(request.files[i], request, host, std::max(1u, host.cores / at_a_time), at_a_time, read_from[i]);
  });
  return outcomes;
}

/// The code that asks for the most attention: a file that was not read leaves more open than an error in one that was.
ExitCode worst(ExitCode a, ExitCode b) { return static_cast<int>(a) > static_cast<int>(b) ? a : b; }

std::string as_array(const std::vector<Outcome>& outcomes) {
  std::string array = "[\n";
  for (const Outcome& one : outcomes) {
    if (one.out.empty()) continue;
    if (array.size() > 2) array.insert(array.size() - 1, ",");
    array += one.out;
  }
  return array + "]\n";
}

/// What all files gave, in the order in which they were named.
Outcome brought_together(const CheckRequest& request, const std::vector<Outcome>& outcomes) {
  Outcome all;
  std::vector<std::string> runs;
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    const Outcome& one = outcomes[i];
    all.code = worst(all.code, one.code);
    all.err += one.err;
    if (request.format == Format::sarif && !one.out.empty()) runs.push_back(one.out);
    if (request.format != Format::text) continue;
    if (outcomes.size() > 1 && !one.out.empty()) all.out += fmt::format("{}{}:\n", all.out.empty() ? "" : "\n", request.files[i]);
    all.out += one.out;
  }
  if (request.format == Format::json) all.out = outcomes.size() == 1 ? outcomes.front().out : as_array(outcomes);
  if (request.format == Format::sarif) all.out = diagnostics::as_sarif(runs);
  return all;
}

/// The result and the list of what was read, both or neither; the answer keeps its code.
Outcome put_on_disk(const CheckRequest& request, Outcome all, const std::vector<std::vector<std::string>>& read_from) {
  std::vector<Output> outputs;
  if (!request.output.empty()) outputs.push_back({request.output, std::move(all.out)});
  if (!request.depfile.empty()) {
    std::string why;
    const auto rule = dependency_rule({dependency_target(request.output, request.depfile)}, read_from, why);
    if (!rule) return refusal(ExitCode::wrong_use, why);
    outputs.push_back({request.depfile, *rule});
  }
  if (!request.output.empty()) all.out.clear();
  const std::string why = write_all(outputs);
  return why.empty() ? all : refusal(ExitCode::file_trouble, why);
}

}  // namespace

Outcome check_command(const CheckRequest& request, const Host& host) {
  const Patience patience(host, request.files.size() == 1 ? "walking every run of " + request.files.front()
                                                          : fmt::format("walking every run of {} files", request.files.size()));
  std::vector<std::vector<std::string>> read_from(request.files.size());
  Outcome all = brought_together(request, check_all(request, host, read_from));
  const bool is_wrong_use = all.code == ExitCode::wrong_use;
  if (is_wrong_use || (request.output.empty() && request.depfile.empty())) return all;
  return put_on_disk(request, std::move(all), read_from);
}

}  // namespace stepward::driver
