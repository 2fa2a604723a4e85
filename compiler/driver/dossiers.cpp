#include "driver/dossiers.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/side_by_side.hpp"
#include "driver/dossier_charts.hpp"
#include "driver/verdict_text.hpp"
#include "emit/document/digest.hpp"
#include "graph/quiet_path.hpp"
#include "model/variants.hpp"
#include "resolve/pairs.hpp"
#include "resolve/standard_library.hpp"
#include "wording/messages.hpp"

namespace stepward::driver {
namespace {

using emit::dossier::Facts;
using emit::dossier::ReadFile;
using emit::dossier::ToldFinding;
using emit::dossier::VariantFacts;

/// A map of more states than this would take longer than a reviewer waits; a variant that has more says so.
constexpr std::uint64_t most_states_of_a_map = 3'000'000;

/// As it is seen from the folder of the protocol: a dossier does not tell where on somebody's machine that lies.
std::string shown_path(const Compilation& made, const std::string& path) {
  const std::string& first = made.loaded.files.front().path;
  const std::size_t slash = first.rfind('/');
  return slash != std::string::npos && path.compare(0, slash + 1, first, 0, slash + 1) == 0 ? path.substr(slash + 1) : path;
}

/// A file of the standard library, which is part of this program and on no disk.
std::optional<std::string> embedded(const std::string& path) {
  for (const resolve::StandardFile& file : resolve::standard_files())
    if (path == "standard/" + std::string(file.path)) return std::string(file.text);
  return std::nullopt;
}

bool is_standard(const Compilation& made, const std::string& path) {
  const auto is_it = [&](const auto& file) { return file.standard && file.path == path; };
  const auto in = [&](const resolve::Loaded& loaded) { return std::any_of(loaded.files.begin(), loaded.files.end(), is_it); };
  return in(made.loaded) || std::any_of(made.partners.begin(), made.partners.end(), [&](const Partner& partner) { return in(partner.loaded); });
}

std::optional<ReadFile> read_again(const Compilation& made, const FileAccess& access, source::FileId file, std::string& why) {
  const std::string& path = made.files.path(file);
  const std::optional<std::string> bytes = is_standard(made, path) ? embedded(path) : access.read(path, why);
  if (!bytes) {
    why = fmt::format("{}: {}", path, why);
    return std::nullopt;
  }
  if (source::plain_text(*bytes) != made.files.text(file)) {
    why = fmt::format("{}: it was changed while it was being checked", path);
    return std::nullopt;
  }
  return ReadFile{shown_path(made, path), bytes->size(), emit::short_hash(emit::sha256(*bytes), 32)};
}

/// Everything about one variant that has to be walked for.
void walk_for_map(const model::Protocol& protocol, VariantFacts& variant, unsigned workers) {
  const check::QuietWalk walk = check::quiet_walk(protocol, variant.variant, most_states_of_a_map, workers);
  variant.map = check::contamination_map(walk, protocol);
  variant.lengths = check::run_lengths(walk, protocol);
  variant.rules = check::rules_at_lines(protocol, variant.variant);
}

VariantFacts variant_facts(const Compilation& made, const check::VariantWalk& walk) {
  VariantFacts variant;
  variant.variant = walk.variant;
  variant.course = graph::number_steps(*made.protocol, walk.variant);
  variant.in_order = graph::lines_of(*made.protocol, walk.variant);
  variant.walk = walk_facts(made, walk, *made.protocol);
  variant.complete = walk.complete;
  variant.states = walk.states;
  variant.longest = walk.longest;
  variant.transitions = walk.transitions;
  variant.paths = walk.paths;
  variant.set_aside = walk.set_aside;
  for (const auto& [line, hands] : walk.hands_before) variant.reached.insert(line);
  variant.endings = walk.endings_reached;
  return variant;
}

std::string place_of(const Compilation& made, source::Span at) {
  if (!at.file) return {};
  return fmt::format("{}, line {}", shown_path(made, made.files.path(at.file)), made.files.position(at.file, at.begin).line);
}

/// In a terminal a finding says a day as the source writes it, where it is to be mended; on paper all days have one form.
std::vector<std::string> with_days_of_papers(std::vector<std::string> args, const emit::Captions& english) {
  for (std::string& each : args) each = emit::date_words(each, english);
  return args;
}

ToldFinding told(const Compilation& made, const diagnostics::Diagnostic& finding, const emit::Captions& english) {
  const std::vector<std::string> args = with_days_of_papers(finding.args, english);
  ToldFinding out{finding.severity, std::string(diagnostics::code_name(finding.code)), wording::headline(finding.code, args), place_of(made, finding.at), finding.at, {}, {}};
  for (const diagnostics::StoryLine& line : finding.story) out.story.push_back({line.step, line.text, line.here});
  const auto remark = [&](const char* name, const std::string& words) {
    if (!words.empty()) out.remarks.emplace_back(name, words);
  };
  for (const diagnostics::Place& place : finding.places) remark("see", place_of(made, place.span) + ": " + wording::caption(place.caption, args));
  remark("hint", wording::hint(finding.code, args));
  remark("where", finding.shared);
  remark("because", finding.because);
  remark("source", finding.source);
  for (const diagnostics::Also& also : finding.also)
    remark("also breaks", fmt::format("{} {}, {}", diagnostics::code_name(also.code), wording::headline(also.code, with_days_of_papers(also.args, english)), place_of(made, also.at)));
  // A fix is a line to be typed, so a day in it stays as it is written there.
  remark("fix", finding.fix.empty() ? wording::fix(finding.code, finding.args) : finding.fix);
  return out;
}

/// Findings are in English in every language, and so are their days.
void tell_findings(const Compilation& made, Facts& facts) {
  const VariantFacts none;
  const VariantFacts& any = facts.variants.empty() ? none : facts.variants.front();
  const emit::Captions english = emit::captions_of({*made.protocol, *made.protocol, any.variant, any.course, any.walk});
  for (const diagnostics::Diagnostic& finding : made.findings) facts.findings.push_back(told(made, finding, english));
  std::stable_sort(facts.findings.begin(), facts.findings.end(), [](const ToldFinding& a, const ToldFinding& b) { return a.severity > b.severity; });
}

/// Every `pairs with` line, also one whose entry could not be read: a reviewer has to know that nothing was compared.
void note_pairs(const Compilation& made, Facts& facts) {
  diagnostics::Sink told_already;
  for (const resolve::PairsWith& said : resolve::pairs_of(made.loaded, told_already)) {
    emit::dossier::PairFacts pair{said.named, "", "", "", said.moved_since, 0};
    const auto partner = std::find_if(made.partners.begin(), made.partners.end(), [&](const Partner& each) { return each.said.path == said.path; });
    if (partner != made.partners.end() && partner->protocol) {
      const model::DocumentControl& document = partner->protocol->document;
      pair = {said.named, document.title, document.number, document.version, said.moved_since, partner->compared};
    }
    facts.pairs.push_back(std::move(pair));
  }
}

/// The chart of the same files, as everybody can draw it again.
void draw_chart(const Compilation& made, Facts& facts) {
  const std::string& path = made.loaded.files.front().path;
  facts.chart.command = "stepward graph " + shown_path(made, path) + " --as svg";
  BandPlacer placer;  // what both draw alike is placed once
  auto charts = dossier_charts(*made.protocol, made, NeverTaken::is_not_told, placer, facts.chart.why_none);
  if (!charts) return;
  const std::string of_file = emit::flow_chart::as_svg(*charts);
  facts.chart.sha256 = emit::short_hash(emit::sha256(of_file), 32);
  auto marked = dossier_charts(*made.protocol, made, NeverTaken::is_told, placer, facts.chart.why_none);
  facts.charts = std::move(marked ? *marked : *charts);
  facts.chart.tells_never = marked && emit::flow_chart::as_svg(facts.charts) != of_file;
}

constexpr double exact_runs = 1e6;

/// "61 000 000 000 000": a committee reads no powers of ten. Two digits count; what a figure of this length cannot hold is left as it is.
std::string written_out(double runs) {
  if (runs < exact_runs || runs >= 1e18) return emit::with_whole_figures(counted_runs(runs));
  double rest = 1;
  while (runs / rest >= 99.5) rest *= 10;
  return emit::whole_figure(static_cast<std::uint64_t>(std::llround(runs / rest)) * static_cast<std::uint64_t>(std::llround(rest)));
}

/// Once, for the section on slips and for the table of failure modes.
void try_slips(const Compilation& made, const DossierRequest& request, Facts& facts) {
  facts.slips = slips::analyse(*made.protocol, {.limit = most_states_of_a_map, .workers = request.workers});
  facts.failure_modes = slips::failure_modes(*facts.slips, [&](const slips::Row& row) { return made.files.position(row.at.file, row.at.begin).line; });
}

/// Figures over all variants, and what the whole check says.
void sum_up(const Compilation& made, const DossierRequest& request, Facts& facts) {
  const check::Verdict& verdict = made.verdict;
  facts.tool = "stepward " STEPWARD_VERSION;
  facts.day = request.today;
  facts.limit = emit::whole_figure(request.limit);
  facts.counts = diagnostics::count(made.findings);
  facts.complete = verdict.complete;
  facts.states = emit::whole_figure(verdict.states());
  facts.transitions = emit::whole_figure(verdict.transitions());
  facts.longest = emit::whole_figure(verdict.longest());
  facts.paths_are_rounded = verdict.paths() >= exact_runs;
  facts.paths = written_out(verdict.paths());
  facts.nobody_looked = verdict.nobody_looked;
  facts.rules_tested = verdict.rules_tested;
  for (const check::ExceptionUse& use : verdict.exceptions) facts.exceptions.push_back({use.variants, emit::with_whole_figures(counted_runs(use.runs))});
}

}  // namespace

std::optional<Facts> dossier_facts(const Compilation& made, const FileAccess& access, const DossierRequest& request, std::string& why) {
  Facts facts;
  for (std::size_t f = 0; f < made.files.size(); ++f) {
    auto file = read_again(made, access, source::FileId(f), why);
    if (!file) return std::nullopt;
    const bool known = std::any_of(facts.files.begin(), facts.files.end(), [&](const ReadFile& each) { return each.path == file->path; });
    if (!known) facts.files.push_back(std::move(*file));  // an entry that is compared brings the library along once more
  }
  sum_up(made, request, facts);
  note_pairs(made, facts);
  draw_chart(made, facts);
  for (const check::VariantWalk& walk : made.verdict.walks) facts.variants.push_back(variant_facts(made, walk));
  tell_findings(made, facts);
  const bool alone = facts.variants.size() == 1;
  side_by_side(facts.variants.size(), request.workers, [&](std::size_t v) { walk_for_map(*made.protocol, facts.variants[v], alone ? request.workers : 1); });
  // What is wrong already would be found again at every slip.
  if (facts.counts.errors == 0) try_slips(made, request, facts);
  return facts;
}

}  // namespace stepward::driver
