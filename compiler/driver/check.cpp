// `stepward check`: every finding of one or several files, then the verdict.

#include <algorithm>

#include <fmt/format.h>

#include "base/side_by_side.hpp"
#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
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

std::string shown(const Compilation& made, const CheckRequest& request, const Asked& asked, bool colour) {
  if (request.as_json) return diagnostics::as_json(made.findings, made.files, verdict_facts(made, asked, request.timings));
  return diagnostics::as_text(made.findings, made.files, {colour}) + verdict_text(made, asked, request.timings);
}

std::string no_such_rule(const model::Protocol& protocol, const std::string& number) {
  std::vector<std::string> numbers;
  for (const model::Rule& rule : protocol.rules) numbers.push_back(rule.number);
  const auto near = resolve::nearest_of(numbers, number);
  return "no rule here is called \"" + number + "\"" + (near ? "; perhaps " + *near + " is meant" : "");
}

Outcome check_one(const std::string& file, const CheckRequest& request, const Host& host, unsigned workers, unsigned checks) {
  const FilesOnDisk disk(file);
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
  return {code_of(made), shown(made, request, asked, wants_colour(host, request.colour)), ""};
}

/// Checks file by file on as many cores as there are; what a check throws comes out here, on the caller's thread.
std::vector<Outcome> check_all(const CheckRequest& request, const Host& host) {
  const std::size_t count = request.files.size();
  const auto at_a_time = static_cast<unsigned>(std::min<std::size_t>(count, host.cores));
  std::vector<Outcome> outcomes(count);
  side_by_side(count, at_a_time, [&](std::size_t i) {
    outcomes[i] = check_one(request.files[i], request, host, std::max(1u, host.cores / at_a_time), at_a_time);
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

}  // namespace

Outcome check_command(const CheckRequest& request, const Host& host) {
  const Patience patience(host, request.files.size() == 1 ? "walking every run of " + request.files.front()
                                                          : fmt::format("walking every run of {} files", request.files.size()));
  const std::vector<Outcome> outcomes = check_all(request, host);
  Outcome all;
  for (std::size_t i = 0; i < outcomes.size(); ++i) {
    const Outcome& one = outcomes[i];
    all.code = worst(all.code, one.code);
    all.err += one.err;
    if (request.as_json) continue;
    if (outcomes.size() > 1 && !one.out.empty()) all.out += fmt::format("{}{}:\n", all.out.empty() ? "" : "\n", request.files[i]);
    all.out += one.out;
  }
  if (request.as_json) all.out = outcomes.size() == 1 ? outcomes.front().out : as_array(outcomes);
  return all;
}

}  // namespace stepward::driver
