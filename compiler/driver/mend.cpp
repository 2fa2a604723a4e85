// `stepward mend`: the smallest changes that clear the errors of the walk; shown, never made.

#include "mend/search.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "diagnostics/render.hpp"
#include "driver/commands.hpp"
#include "driver/disk.hpp"
#include "driver/mend_text.hpp"
#include "driver/pipeline.hpp"
#include "model/variants.hpp"

namespace stepward::driver {
namespace {

/// The disk, with some of its files as they would be.
class ChangedFiles final : public FileAccess {
 public:
  ChangedFiles(const FileAccess& disk, const mend::Texts& texts) : disk_(disk), texts_(texts) {}

  std::optional<std::string> read(std::string_view path, std::string& why) const override {
    const auto changed = texts_.find(std::string(path));
    return changed == texts_.end() ? disk_.read(path, why) : mend::joined(changed->second);
  }

 private:
  const FileAccess& disk_;
  const mend::Texts& texts_;
};

/// Everything that `check` asks of the steps: the entry that it pairs with, too.
mend::Seen whole_look(const std::string& file, const FileAccess& access, const std::string& today, const check::Options& options) {
  Compilation made = read(file, access, today);
  walk_steps(made, options);
  const std::uint32_t longest = made.verdict.longest();
  const bool complete = made.verdict.complete;
  return {std::move(made.files), std::move(made.loaded), std::move(made.protocol), std::move(made.findings), std::move(made.verdict), longest, complete};
}

/// Where a variant goes wrong first, on any run: codes and lines.
void add_plain(const model::Variant& variant, const check::Options& options, mend::Seen& seen) {
  const check::PlainWalk walk = check::plain_walk(*seen.protocol, variant, options);
  seen.longest = std::max(seen.longest, walk.longest);
  seen.complete = seen.complete && walk.complete;
  for (const check::PlainFinding& found : walk.findings) {
    const bool known = std::any_of(seen.findings.begin(), seen.findings.end(), [&](const auto& d) { return d.code == found.code && d.at == found.at; });
    if (!known) seen.findings.push_back(diagnostics::make(found.code, found.at, {found.about}));
  }
}

mend::Seen plain_look(const std::string& file, const FileAccess& access, const std::string& today, const check::Options& options) {
  mend::Seen seen;
  seen.loaded = resolve::load(file, access, seen.files, seen.findings);
  seen.protocol = model::build(seen.loaded, seen.files, seen.findings, {today});
  if (!seen.protocol) return seen;
  seen.complete = true;
  const std::vector<model::Variant> variants = model::all_variants(*seen.protocol);
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (!options.only_variant || *options.only_variant == v) add_plain(variants[v], options, seen);
  return seen;
}

/// The walk alone.
mend::Seen quick_look(const std::string& file, const FileAccess& access, const std::string& today, const check::Options& options) {
  mend::Seen seen;
  seen.loaded = resolve::load(file, access, seen.files, seen.findings);
  seen.protocol = model::build(seen.loaded, seen.files, seen.findings, {today});
  if (seen.protocol && !seen.protocol->phases.empty()) seen.verdict = check::check(*seen.protocol, options, seen.findings);
  seen.longest = seen.verdict.longest();
  seen.complete = seen.verdict.complete;
  diagnostics::sort(seen.findings, seen.files);
  return seen;
}

/// What leaves nothing to search in, in words; nothing: there are steps.
std::optional<Outcome> cannot_be_mended(const std::string& file, const FileAccess& disk, const std::string& today) {
  const Compilation made = read(file, disk, today);
  if (made.is_walkable()) return std::nullopt;
  const std::string findings = diagnostics::as_text(made.findings, made.files, {});
  if (made.unreadable) return Outcome{ExitCode::file_trouble, "", findings};
  const char* why = made.protocol ? "this file has no steps to mend" : "what was found above has to be mended first, by hand: it says what the lines mean";
  return Outcome{ExitCode::findings, "", findings + fmt::format("stepward: no mend was looked for: {}\n", why)};
}

bool is_all_clear(const mend::Result& result) {
  const bool cleared = result.errors.empty() || (!result.mends.empty() && result.mends.front().left == 0);
  return cleared && result.other_errors == 0;
}

}  // namespace

Outcome mend_command(const MendRequest& request, const Host& host) {
  const Patience patience(host, "looking for mends of " + request.file);
  const std::string today = request.today.empty() ? host.today : request.today;
  const FilesOnDisk disk(request.file);
  if (auto refused = cannot_be_mended(request.file, disk, today)) return *refused;
  const mend::Recheck recheck = [&](const mend::Texts& texts, const mend::Depth& depth) {
    const ChangedFiles access(disk, texts);
    check::Options options;
    options.interruptions = depth.interruptions;
    options.only_variant = depth.variant;
    options.workers = depth.workers;
    if (depth.plain) return plain_look(request.file, access, today, options);
    const bool whole = depth.interruptions && !depth.variant;
    return whole ? whole_look(request.file, access, today, options) : quick_look(request.file, access, today, options);
  };
  const mend::Result result = mend::find_mends(recheck, {request.limit, 3, host.cores});
  const ExitCode code = is_all_clear(result) ? ExitCode::fine : ExitCode::findings;
  return {code, request.as_json ? mends_as_json(result, request.file, request.limit) : mends_as_text(result, request.file, request.limit), ""};
}

}  // namespace stepward::driver
