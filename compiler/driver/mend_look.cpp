#include "driver/mend_look.hpp"

#include <algorithm>

#include "diagnostics/render.hpp"
#include "driver/pipeline.hpp"
#include "model/variants.hpp"
#include "order/settle.hpp"

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

/// Some order will do until a change is confirmed: weak points are compared when all is read once more.
void settle_quickly(mend::Seen& seen, const check::Options& options) {
  order::Options how;
  how.compare = false;
  how.workers = options.workers;
  if (seen.protocol) order::settle(*seen.protocol, how, seen.files, seen.findings);
}

/// What there is to walk, in some order, and without what nobody comes to: most of a step graph is copies of what interruptions ask for.
mend::Seen read_quickly(const std::string& file, const FileAccess& access, const std::string& today, const check::Options& options) {
  mend::Seen seen;
  seen.loaded = resolve::load(file, access, seen.files, seen.findings);
  seen.protocol = model::build(seen.loaded, seen.files, seen.findings, {today});
  settle_quickly(seen, options);
  if (seen.protocol && !options.interruptions) seen.protocol->interruptions.clear();
  return seen;
}

mend::Seen plain_look(const std::string& file, const FileAccess& access, const std::string& today, const check::Options& options) {
  mend::Seen seen = read_quickly(file, access, today, options);
  if (!seen.protocol) return seen;
  seen.complete = true;
  const std::vector<model::Variant> variants = model::all_variants(*seen.protocol);
  for (std::size_t v = 0; v < variants.size(); ++v)
    if (!options.only_variant || *options.only_variant == v) add_plain(variants[v], options, seen);
  return seen;
}

/// The walk alone.
mend::Seen quick_look(const std::string& file, const FileAccess& access, const std::string& today, const check::Options& options) {
  mend::Seen seen = read_quickly(file, access, today, options);
  if (seen.protocol && !seen.protocol->phases.empty()) seen.verdict = check::check(*seen.protocol, options, seen.findings);
  seen.longest = seen.verdict.longest();
  seen.complete = seen.verdict.complete;
  diagnostics::sort(seen.findings, seen.files);
  return seen;
}

}  // namespace

mend::Recheck recheck_of(const std::string& file, const FileAccess& access, const std::string& today) {
  return [file, &access, today](const mend::Texts& texts, const mend::Depth& depth) {
    const ChangedFiles changed(access, texts);
    check::Options options;
    options.interruptions = depth.interruptions;
    options.only_variant = depth.variant;
    options.workers = depth.workers;
    if (depth.plain) return plain_look(file, changed, today, options);
    const bool whole = depth.interruptions && !depth.variant;
    return whole ? whole_look(file, changed, today, options) : quick_look(file, changed, today, options);
  };
}

}  // namespace stepward::driver
