#include "driver/pipeline.hpp"

#include <algorithm>

#include "check/pairing.hpp"
#include "diagnostics/render.hpp"
#include "driver/copies.hpp"
#include "driver/host.hpp"
#include "driver/papers.hpp"
#include "model/variants.hpp"
#include "order/collision_findings.hpp"

namespace stepward::driver {
namespace {

bool is_of_reading(const diagnostics::Diagnostic& finding) { return finding.code == diagnostics::Code::N201; }

/// Reads the entry of a `pairs with` line. Its own findings are told when it is checked itself; here one of them is
/// enough to know that there is nothing to compare.
std::optional<Partner> read_partner(const resolve::PairsWith& said, const FileAccess& access, const std::string& today, Compilation& made) {
  std::string why;
  if (!access.read(said.path, why)) {
    made.findings.push_back(diagnostics::make(diagnostics::Code::N202, said.name_span, {said.named, why}));
    return std::nullopt;
  }
  Partner partner{said, {}, {}, 0};
  diagnostics::Sink theirs;
  partner.loaded = resolve::load(said.path, access, made.files, theirs);
  if (!resolve::fits_as_entry(said, made.loaded, partner.loaded, made.findings)) return std::nullopt;
  partner.protocol = model::build(partner.loaded, made.files, theirs, {today});
  if (partner.protocol) order::settle(*partner.protocol, {}, made.files, theirs);
  return partner;
}

void read_partners(const FileAccess& access, const std::string& today, Compilation& made) {
  for (const resolve::PairsWith& said : resolve::pairs_of(made.loaded, made.findings))
    if (auto partner = read_partner(said, access, today, made)) made.partners.push_back(std::move(*partner));
}

void compare(Compilation& made, Partner& partner, const check::Options& options) {
  const resolve::PairsWith& said = partner.said;
  if (!partner.protocol || partner.protocol->phases.empty()) {
    made.findings.push_back(diagnostics::make(diagnostics::Code::V201, said.name_span, {said.named}));
    return;
  }
  partner.compared = check::check_pair({*made.protocol, *partner.protocol, said.named, said.span, said.name_span, said.moved_since}, options, made.findings);
}

}  // namespace

namespace {

Compilation compiled(const std::string& path, const FileAccess& access, const std::string& today, bool with_partners) {
  Compilation made;
  made.today = today;
  const double start = seconds_now();
  made.loaded = resolve::load(path, access, made.files, made.findings);
  const double loaded = seconds_now();
  made.unreadable = std::any_of(made.findings.begin(), made.findings.end(), is_of_reading);
  made.protocol = model::build(made.loaded, made.files, made.findings, {today});
  if (made.protocol) made.orders = order::settle(*made.protocol, {}, made.files, made.findings);
  if (made.protocol) made.words = translation::dictionaries(made.loaded, *made.protocol, made.files, made.findings);
  check_copies(made);
  // After the protocol: that an entry cannot be read does not keep the exit from being walked.
  if (with_partners) read_partners(access, today, made);
  made.timings.read = loaded - start;
  made.timings.build = seconds_now() - loaded;
  diagnostics::sort(made.findings, made.files);
  return made;
}

}  // namespace

Compilation read(const std::string& path, const FileAccess& access, const std::string& today) { return compiled(path, access, today, true); }

Compilation read_alone(const std::string& path, const FileAccess& access, const std::string& today) { return compiled(path, access, today, false); }

void walk_steps(Compilation& made, const check::Options& options) {
  if (!made.is_walkable()) return;
  const double start = seconds_now();
  made.verdict = check::check(*made.protocol, options, made.findings);
  made.walked = true;
  for (Partner& partner : made.partners) compare(made, partner, options);
  diagnostics::sort(made.findings, made.files);
  made.timings.walk = seconds_now() - start;
}

namespace {

/// Which rules collide is searched where one is broken, and for whoever reads the findings; a mend looks at thousands of drafts.
void explain_collisions(Compilation& made, const check::Options& options) {
  order::PhaseOptions how;
  how.interruptions = options.interruptions;
  how.limit = std::min(how.limit, options.limit);
  how.workers = options.workers;
  order::report_collisions(*made.protocol, made.verdict.walks, made.orders, how, made.files, made.findings);
}

}  // namespace

namespace {

/// Slips are tried on a protocol without errors, and where the whole of it was walked: a mark says of every run that it needs care there.
void find_weak_points(Compilation& made, const check::Options& options) {
  if (!made.protocol->document.marks_weak_points || !options.interruptions || diagnostics::count(made.findings).errors > 0) return;
  slips::Options how;
  how.limit = std::min(how.limit, options.limit);
  how.workers = options.workers;
  const std::vector<model::Variant> all = model::all_variants(*made.protocol);
  for (const check::VariantWalk& walked : made.verdict.walks) {
    const auto number = std::find(all.begin(), all.end(), walked.variant) - all.begin();
    made.weak_points[walked.variant] = slips::weak_points(*made.protocol, static_cast<std::size_t>(number), how);
  }
}

}  // namespace

void look_behind_the_walk(Compilation& made, const check::Options& options) {
  if (!made.is_walkable()) return;
  const double start = seconds_now();
  find_weak_points(made, options);
  explain_collisions(made, options);
  cover_all(made, options.workers);
  diagnostics::sort(made.findings, made.files);
  made.timings.walk += seconds_now() - start;
}

void walk(Compilation& made, const check::Options& options) {
  walk_steps(made, options);
  look_behind_the_walk(made, options);
}

}  // namespace stepward::driver
