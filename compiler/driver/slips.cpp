// `stepward slips`: what comes of every slip at every line.

#include "slips/answers.hpp"

#include <algorithm>
#include <cstdlib>
#include <optional>

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "emit/slips/failure_modes.hpp"
#include "emit/slips/numbers.hpp"
#include "emit/slips/slip_words.hpp"
#include "emit/slips/slips.hpp"
#include "slips/exit_chances.hpp"

namespace stepward::driver {
namespace {

std::string shown_failure_modes(const slips::Table& table, const source::Files& files, const SlipsRequest& request) {
  const auto form = request.form == SlipsRequest::Form::hfmea ? emit::FailureForm::hfmea : emit::FailureForm::iec_60812;
  const auto modes = slips::failure_modes(table, [&](const slips::Row& row) { return files.position(row.at.file, row.at.begin).line; });
  switch (request.format) {
    case SlipsRequest::Format::text: return emit::failure_modes_as_text(table, modes, form);
    case SlipsRequest::Format::csv: return emit::failure_modes_as_csv(table, modes, form);
    case SlipsRequest::Format::json: return emit::failure_modes_as_json(table, modes, form);
  }
  return "";
}

std::string shown_slips(const slips::Table& table, const source::Files& files, const SlipsRequest& request) {
  if (request.form != SlipsRequest::Form::slips) return shown_failure_modes(table, files, request);
  switch (request.format) {
    case SlipsRequest::Format::text: return emit::slips_as_text(table, files);
    case SlipsRequest::Format::csv: return emit::slips_as_csv(table, files);
    case SlipsRequest::Format::json: return emit::slips_as_json(table, files);
  }
  return "";
}

/// A protocol that was read and walked, and what comes of its slips; or why not.
struct Tried {
  Compilation made;
  slips::Options options;
  slips::Table table;
  std::optional<Outcome> refused;
};

Tried tried(const std::string& file, const SlipsRequest& request, const Host& host) {
  const FilesOnDisk disk(file);
  Tried out{read(file, disk, request.today.empty() ? host.today : request.today), {}, {}, std::nullopt};
  const auto findings = [&] { return diagnostics::as_text(out.made.findings, out.made.files, {}); };
  if (out.made.unreadable) out.refused = Outcome{ExitCode::file_trouble, "", findings()};
  else if (out.made.protocol && !out.made.is_walkable()) out.refused = refusal(ExitCode::findings, "slips are tried on a protocol, and " + file + " has no phases");
  if (out.refused) return out;
  slips::Options& options = out.options;
  options.at_once = request.numbers.empty() ? request.at_once : std::max(request.at_once, 2u);
  options.interruptions = request.interruptions;
  options.limit = request.limit;
  options.workers = host.cores;
  if (!request.only.empty() && out.made.is_walkable()) {
    std::string why;
    options.only_variant = variant_meant(*out.made.protocol, request.only, why);
    if (!options.only_variant) out.refused = refusal(ExitCode::wrong_use, why);
    if (out.refused) return out;
  }
  const check::Options walked{.workers = host.cores};
  walk_steps(out.made, walked);
  if (diagnostics::count(out.made.findings).errors == 0) {
    out.table = slips::analyse(*out.made.protocol, options);
    return out;
  }
  // All that is to be said of it, what only warns of its papers too.
  look_behind_the_walk(out.made, walked);
  out.refused = Outcome{ExitCode::findings, "", findings() + "stepward: no slip was tried: what was found has to be mended first\n"};
  return out;
}

using reliability::Dependence;

/// Words of the command line, by position those of the enumeration.
template <typename Kind>
Kind kind_of(const std::string& word, std::initializer_list<const char*> words) {
  return static_cast<Kind>(std::find(words.begin(), words.end(), word) - words.begin());
}

/// "NAME=VALUE/ERROR FACTOR" as a figure of the author's; nothing if it is none.
std::optional<reliability::Override> figure_given(const std::string& text) {
  const std::size_t equals = text.rfind('=');
  if (equals == std::string::npos || equals == 0) return std::nullopt;
  const std::string number = text.substr(equals + 1);
  const std::size_t slash = number.find('/');
  const auto value_of = [](const std::string& digits) -> std::optional<double> {
    char* end = nullptr;
    const double value = std::strtod(digits.c_str(), &end);
    return digits.empty() || *end != '\0' ? std::nullopt : std::optional(value);
  };
  const auto value = value_of(number.substr(0, slash));
  if (!value) return std::nullopt;
  reliability::Override out{text.substr(0, equals), {*value, std::nullopt}, "given on the command line"};
  if (slash == std::string::npos) return out;
  out.estimate.error_factor = value_of(number.substr(slash + 1));
  return out.estimate.error_factor ? std::optional(out) : std::nullopt;
}

std::optional<slips::NumbersRequest> numbers_request(const SlipsRequest& request, std::string& why) {
  slips::NumbersRequest out;
  out.set = request.numbers;
  out.dependence = kind_of<Dependence>(request.dependence, {"zero", "low", "moderate", "high", "complete"});
  out.stress = kind_of<reliability::Stress>(request.stress, {"very-low", "optimum", "moderately-high", "extremely-high"});
  out.experience = kind_of<reliability::Experience>(request.experience, {"skilled", "novice"});
  out.something_to_see = request.something_to_see;
  for (const std::string& text : request.figures) {
    const auto figure = figure_given(text);
    if (!figure) {
      why = "\"" + text + "\" is no figure; one is NAME=VALUE or NAME=VALUE/ERROR-FACTOR";
      return std::nullopt;
    }
    out.overrides.push_back(*figure);
  }
  return out;
}

/// What the slips weigh, by the sets of them and on the graph.
reliability::Answer<slips::Numbers> weighed(const Tried& it, const slips::NumbersRequest& asked) {
  const auto numbers = slips::numbers_of(it.table, asked);
  if (reliability::refused(numbers)) return numbers;
  slips::Numbers out = *reliability::given(numbers);
  const auto on_graph = slips::exit_chances(*it.made.protocol, it.options, it.table, out, asked);
  const reliability::Refusal* const no = reliability::refused(on_graph);
  if (no && no->why != reliability::Why::too_large) return *no;
  if (!no) out.on_graph = *reliability::given(on_graph);
  return out;
}

/// The slips with what they weigh; or why that could not be reckoned.
Outcome with_numbers(const Tried& now, const SlipsRequest& request, const Host& host) {
  if (request.format == SlipsRequest::Format::csv || request.form != SlipsRequest::Form::slips) return refusal(ExitCode::wrong_use, "--numbers goes with --format text and json, and with the form slips");
  std::string why;
  const auto asked = numbers_request(request, why);
  if (!asked) return refusal(ExitCode::wrong_use, why);
  const auto numbers = weighed(now, *asked);
  if (const auto* no = reliability::refused(numbers)) return refusal(ExitCode::wrong_use, emit::refusal_in_words(*no));
  std::optional<slips::Numbers> before;
  if (!request.against.empty()) {
    const Tried then = tried(request.against, request, host);
    if (then.refused) return *then.refused;
    const auto old = slips::numbers_of(then.table, *asked);
    if (const auto* no = reliability::refused(old)) return refusal(ExitCode::wrong_use, emit::refusal_in_words(*no));
    before = *reliability::given(old);
  }
  const slips::Numbers* const older = before ? &*before : nullptr;
  const std::string table = shown_slips(now.table, now.made.files, request);
  if (request.format == SlipsRequest::Format::text) return {ExitCode::fine, table + emit::numbers_as_text(now.table, *asked, *reliability::given(numbers), older), ""};
  const std::string all = table.substr(0, table.rfind("\n}"));  // the numbers become the table's last member
  return {ExitCode::fine, all + ",\n  \"numbers\": " + emit::numbers_as_json(now.table, *asked, *reliability::given(numbers), older) + "\n}\n", ""};
}

}  // namespace

Outcome slips_command(const SlipsRequest& request, const Host& host) {
  const Patience patience(host, "trying every slip of " + request.file);
  const Tried now = tried(request.file, request, host);
  if (now.refused) return *now.refused;
  Outcome out = request.numbers.empty() ? Outcome{ExitCode::fine, shown_slips(now.table, now.made.files, request), ""} : with_numbers(now, request, host);
  if (out.code != ExitCode::fine) return out;
  out.err = diagnostics::as_text(slips::answers_not_needed(now.table), now.made.files, {});
  if (!now.table.complete) {
    out.code = ExitCode::findings;
    out.err += fmt::format("stepward: {}\n", emit::reach_in_words(now.table));
  }
  if (request.output.empty()) return out;
  const std::string why = write_all({{request.output, std::move(out.out)}});
  return why.empty() ? Outcome{out.code, "", std::move(out.err)} : refusal(ExitCode::file_trouble, why);
}

}  // namespace stepward::driver
