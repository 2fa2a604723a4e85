// `stepward mend`: the smallest changes that clear the errors of the walk; shown, never made.

#include "mend/search.hpp"

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/mend_look.hpp"
#include "driver/mend_text.hpp"
#include "driver/pipeline.hpp"

namespace stepward::driver {
namespace {

/// What leaves nothing to search in, in words; nothing: there are steps.
std::optional<Outcome> cannot_be_mended(const std::string& file, const FileAccess& disk, const std::string& today) {
  if (read_alone(file, disk, today).is_walkable()) return std::nullopt;
  const Compilation made = read(file, disk, today);
  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return Outcome{ExitCode::file_trouble, "", findings};
  const char* why = made.protocol ? "this file has no steps to mend" : "what was found above has to be mended first, by hand: it says what the lines mean";
  return Outcome{ExitCode::findings, "", findings + fmt::format("stepward: no mend was looked for: {}\n", why)};
}

bool is_all_clear(const mend::Result& result) {
  if (result.errors.empty()) return result.other_errors == 0;
  return !result.mends.empty() && result.mends.front().left == 0 && result.mends.front().others == 0;
}

}  // namespace

Outcome mend_command(const MendRequest& request, const Host& host) {
  const Patience patience(host, "looking for mends of " + request.file);
  const std::string today = request.today.empty() ? host.today : request.today;
  const FilesOnDisk disk(request.file);
  if (auto refused = cannot_be_mended(request.file, disk, today)) return *refused;
  const mend::Result result = mend::find_mends(recheck_of(request.file, disk, today), {request.limit, 3, host.cores});
  const ExitCode code = is_all_clear(result) ? ExitCode::fine : ExitCode::findings;
  return {code, request.as_json ? mends_as_json(result, request.file, request.limit) : mends_as_text(result, request.file, request.limit), ""};
}

}  // namespace stepward::driver
