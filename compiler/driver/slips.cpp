// `stepward slips`: what comes of every slip at every line.

#include "slips/table.hpp"

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/pipeline.hpp"
#include "driver/variant_choice.hpp"
#include "emit/slips/slips.hpp"

namespace stepward::driver {
namespace {

std::string shown_slips(const slips::Table& table, const source::Files& files, SlipsRequest::Format format) {
  switch (format) {
    case SlipsRequest::Format::text: return emit::slips_as_text(table, files);
    case SlipsRequest::Format::csv: return emit::slips_as_csv(table, files);
    case SlipsRequest::Format::json: return emit::slips_as_json(table, files);
  }
  return "";
}

}  // namespace

Outcome slips_command(const SlipsRequest& request, const Host& host) {
  const FilesOnDisk disk(request.file);
  Compilation made = read(request.file, disk, host.today);
  if (made.unreadable) return {ExitCode::file_trouble, "", diagnostics::as_text(made.findings, made.files, {})};
  if (made.protocol && !made.is_walkable()) return refusal(ExitCode::findings, "slips are tried on a protocol, and this file has no phases");
  slips::Options options;
  options.at_once = request.at_once;
  options.interruptions = request.interruptions;
  options.limit = request.limit;
  options.workers = host.cores;
  if (!request.only.empty() && made.is_walkable()) {
    std::string why;
    options.only_variant = variant_meant(*made.protocol, request.only, why);
    if (!options.only_variant) return refusal(ExitCode::wrong_use, why);
  }
  const Patience patience(host, "trying every slip of " + request.file);
  walk(made, {.workers = host.cores});
  if (diagnostics::count(made.findings).errors > 0)
    return {ExitCode::findings, "", diagnostics::as_text(made.findings, made.files, {}) + "stepward: no slip was tried: what was found has to be mended first\n"};
  const slips::Table table = slips::analyse(*made.protocol, options);
  std::string text = shown_slips(table, made.files, request.format);
  const ExitCode code = table.complete ? ExitCode::fine : ExitCode::findings;
  if (request.output.empty()) return {code, std::move(text), ""};
  const std::string why = write_all({{request.output, std::move(text)}});
  return why.empty() ? Outcome{code, "", ""} : refusal(ExitCode::file_trouble, why);
}

}  // namespace stepward::driver
