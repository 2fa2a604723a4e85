#include "check/verdict.hpp"

#include <algorithm>
#include <mutex>
#include <tuple>
#include <utility>

#include <fmt/format.h>

#include "base/side_by_side.hpp"
#include "base/text.hpp"
#include "check/bearing.hpp"
#include "check/merger.hpp"
#include "check/variant_check.hpp"
#include "model/variants.hpp"

namespace stepward::check {
namespace {

using diagnostics::Code;
using diagnostics::Diagnostic;
using diagnostics::Severity;

/// Variants that differ in nothing but names, each group by its first.
std::vector<std::vector<std::size_t>> alike(const std::vector<Prepared>& all) {
  std::vector<std::vector<std::size_t>> groups;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const auto group = std::find_if(groups.begin(), groups.end(), [&](const auto& g) { return explore::walk_alike(all[g.front()].packed, all[i].packed); });
    if (group == groups.end()) groups.push_back({i});
    else group->push_back(i);
  }
  return groups;
}

/// The walk of each of a group, under one limit. False: it came to the limit.
bool walk_group(const model::Protocol& protocol, const Options& options, const std::vector<Prepared>& prepared,
                const std::vector<std::size_t>& group, std::vector<VariantResult>& results) {
  const Walked first = first_walk(prepared[group.front()], options);
  bool stopped = false;
  for (std::size_t i : group) {
    results[i] = result_of(protocol, options, prepared[i], first);
    stopped |= results[i].stopped != explore::Stopped::no;
  }
  return !stopped;
}

/// Walks that take the whole limit go one after the other, whoever asks for them.
std::mutex& one_large_walk() {
  static std::mutex mutex;
  return mutex;
}

std::vector<VariantResult> walk_all(const model::Protocol& protocol, const std::vector<model::Variant>& variants, const Options& options) {
  std::vector<Prepared> prepared(variants.size());
  side_by_side(variants.size(), options.workers, [&](std::size_t i) { prepared[i] = prepare(protocol, variants[i], options); });
  const auto groups = alike(prepared);
  std::vector<VariantResult> results(variants.size());
  Options share = options;
  share.workers = 1;
  share.limit = std::max<std::uint64_t>(1, options.limit / std::max(1u, options.workers * options.checks));
  const bool alone = groups.size() == 1 && options.checks == 1;
  std::vector<char> is_large(groups.size(), alone);
  if (!alone)
    side_by_side(groups.size(), options.workers, [&](std::size_t g) { is_large[g] = !walk_group(protocol, share, prepared, groups[g], results); });
  for (std::size_t g = 0; g < groups.size(); ++g) {
    if (!is_large[g]) continue;
    const std::lock_guard lock(one_large_walk());
    walk_group(protocol, options, prepared, groups[g], results);
  }
  return results;
}

// How far a walk came, and what to shorten.
Diagnostic not_complete(const model::Protocol& protocol, const VariantResult& r, std::uint64_t limit) {
  const bool full = r.stopped == explore::Stopped::by_memory;
  const std::string why = full ? fmt::format("{} MB of memory", explore::most_bytes(limit) >> 20) : fmt::format("--limit {}", limit);
  Diagnostic d{.code = Code::F801, .severity = Severity::error, .at = protocol.document.span,
               .args = {r.walk.name, std::to_string(r.walk.states), std::to_string(r.steps), why, ""}};
  if (r.stopped == explore::Stopped::no) d.args[3] = "the room for one situation";
  for (std::size_t k = 0; k < r.multipliers.size(); ++k) {
    const Multiplier& m = r.multipliers[k];
    d.args[4] += (k == 0 ? "" : k + 1 == r.multipliers.size() ? " and " : ", ") + m.name;
    d.args.push_back(fmt::format("{:.1f}", m.factor));
    d.places.push_back({m.at, fmt::format("multiplies {}", k + 1)});
  }
  if (r.multipliers.empty()) d.args[4] = "variants, interruptions and repeats";
  return d;
}

void report_unreached(const model::Protocol& protocol, const std::vector<VariantResult>& results, diagnostics::Sink& sink) {
  std::set<model::EndingId> endings;
  std::set<std::pair<std::uint32_t, std::uint32_t>> taken, arms;
  for (const VariantResult& r : results) {
    endings.insert(r.walk.endings_reached.begin(), r.walk.endings_reached.end());
    taken.insert(r.arms_taken.begin(), r.arms_taken.end());
    arms.insert(r.arms.begin(), r.arms.end());
  }
  for (std::uint32_t e = 0; e < protocol.endings.size(); ++e)
    if (!endings.count(model::EndingId(e))) sink.push_back({.code = Code::F102, .severity = Severity::error, .at = protocol.endings[e].span, .args = {protocol.endings[e].name}});
  std::map<std::pair<std::uint32_t, std::uint32_t>, source::Span> spans;
  for (const model::Block& b : protocol.blocks)
    for (const model::Statement& s : b.statements)
      for (const auto& arm : s.arms) spans[{arm.span.file.value, arm.span.begin}] = arm.span;
  // A question that is wrong in itself takes no branch either; that is told with it.
  std::set<std::pair<std::uint32_t, std::uint32_t>> wrong;
  for (const Diagnostic& d : sink)
    if (d.severity == Severity::error) wrong.insert(key_of(d.at));
  for (const auto& arm : arms)
    if (!taken.count(arm) && !wrong.count(arm)) sink.push_back({.code = Code::F602, .severity = Severity::warning, .at = spans[arm]});
}

/// True of a pack none of whose rules any run can put to the test; then that is told of the pack.
bool names_nothing(const model::Pack& pack, const Verdict& verdict) {
  return !pack.declared.empty() && std::none_of(pack.declared.begin(), pack.declared.end(), [&](const std::string& number) { return verdict.rules_tested.count(number) != 0; });
}

void report_packs_about_nothing(const model::Protocol& protocol, const Verdict& verdict, diagnostics::Sink& sink) {
  for (std::size_t p = 1; p < protocol.packs.size(); ++p) {  // the first file is the protocol itself
    const model::Pack& pack = protocol.packs[p];
    if (!names_nothing(pack, verdict)) continue;
    std::string numbers;
    for (const std::string& number : pack.declared) numbers += (numbers.empty() ? "" : ", ") + number;
    sink.push_back({.code = Code::R205, .severity = Severity::error, .at = pack.span, .args = {pack.title, numbers}});
  }
}

// Rules that no run puts to the test, counted by pack: one imported whole may well hold some that are about other outfits.
void report_untested(const model::Protocol& protocol, const std::vector<VariantResult>& results, Verdict& verdict, diagnostics::Sink& sink) {
  std::map<std::uint32_t, std::vector<const model::Rule*>> by_pack;  // by file
  for (std::uint32_t r = 0; r < protocol.rules.size(); ++r) {
    const model::Rule& rule = protocol.rules[r];
    const bool untested = std::all_of(results.begin(), results.end(), [&](const VariantResult& v) { return v.rules_untested.count(r) != 0; });
    if (untested) by_pack[rule.span.file.value].push_back(&rule);
    else verdict.rules_tested.insert(rule.number);
  }
  for (const auto& [file, rules] : by_pack) {
    if (rules.front()->pack != 0 && names_nothing(protocol.packs[rules.front()->pack], verdict)) continue;
    std::string numbers;
    for (const model::Rule* rule : rules) numbers += (numbers.empty() ? "" : ", ") + rule->number;
    const bool one = rules.size() == 1;
    const std::string which = one ? numbers : fmt::format("{} rules of this pack", rules.size());
    const std::string name = one ? ": " + rules.front()->name : "";
    sink.push_back({.code = Code::R201, .severity = Severity::note, .at = rules.front()->span, .args = {which, name, numbers}});
  }
}

std::string number_of_units(const model::Protocol& protocol, const Kept& thing, std::uint32_t count) {
  const std::string unit = kept_unit(protocol, thing);
  return fmt::format("{}{}{}", count, unit.empty() ? "" : " ", unit);
}

/// The shortage of the variant that needs most of a thing, with the lines of the run that uses it.
Diagnostic shortage(const model::Protocol& protocol, const StockNeed& need, const VariantWalk& walk) {
  const std::string unit = kept_unit(protocol, need.thing), name = kept_name(protocol, need.thing);
  Diagnostic d{.code = Code::S101, .severity = Severity::error, .at = need.at};
  d.args = {name, number_of_units(protocol, need.thing, need.needed), std::to_string(need.given), walk.name.empty() ? "" : ", with " + walk.name, name};
  // A routine that is called in several places is the same line to whoever reads the source.
  std::map<std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>, std::uint32_t> times;
  const auto key = [&](const StockUse& use) { return std::tuple(protocol[use.line].span.file.value, protocol[use.line].span.begin, use.count); };
  for (const StockUse& use : need.uses) times[key(use)] += use.times;
  for (const StockUse& use : need.uses) {
    const std::uint32_t all = std::exchange(times[key(use)], 0);
    if (all > 0 && !(protocol[use.line].span == d.at)) d.places.push_back({protocol[use.line].span, all == 1 ? fmt::format("uses {}", use.count) : fmt::format("uses {}, {} times", use.count, all)});
  }
  return d;
}

/// The kit against the runs. It is asked for only where a kit is listed, and only of walks that hold no error.
void report_stock(const model::Protocol& protocol, const std::vector<VariantResult>& results, diagnostics::Sink& sink) {
  const bool known = std::all_of(results.begin(), results.end(), [](const VariantResult& r) { return r.walk.stock_known; });
  if (protocol.stock.empty() || !known) return;
  struct Short { const StockNeed* worst = nullptr; const VariantWalk* walk = nullptr; std::size_t variants = 0; };
  std::map<std::pair<std::uint32_t, std::uint32_t>, Short> shorts;  // by item and supply
  std::map<std::pair<std::uint32_t, std::uint32_t>, const StockNeed*> idle;
  std::set<std::pair<std::uint32_t, std::uint32_t>> used;
  for (const VariantResult& r : results) {
    for (const StockNeed& need : r.walk.stock) {
      const std::pair key{need.thing.item.value, need.thing.supply.value};
      if (need.needed > 0) used.insert(key);
      else if (need.listed) idle[key] = &need;
      if (need.needed <= need.given) continue;
      Short& s = shorts[key];
      ++s.variants;
      if (!s.worst || need.needed - need.given > s.worst->needed - s.worst->given) s = {&need, &r.walk, s.variants};
    }
  }
  for (const auto& [key, s] : shorts) {
    Diagnostic d = shortage(protocol, *s.worst, *s.walk);
    if (results.size() > 1) d.shared = fmt::format("{} of {} variants", s.variants, results.size());
    sink.push_back(std::move(d));
  }
  for (const auto& [key, need] : idle)
    if (!used.count(key)) sink.push_back(diagnostics::make(Code::S102, need->at, {kept_name(protocol, need->thing)}));
}

// Rules that are set aside somewhere: where that was needed, and whether it was.
void account_for_exceptions(const model::Protocol& protocol, const std::vector<VariantResult>& results, Verdict& verdict) {
  verdict.exceptions.resize(protocol.set_aside.size());
  for (const VariantResult& r : results) {
    std::set<std::uint32_t> needed;
    for (const auto& [aside, runs] : r.runs_excepted) verdict.exceptions[aside].runs += runs;
    for (const Sighting& s : r.sightings) {
      if (s.report.set_aside == UINT32_MAX) continue;
      if (needed.insert(s.report.set_aside).second) ++verdict.exceptions[s.report.set_aside].variants;
      auto& lines = verdict.exceptions[s.report.set_aside].lines;
      const bool known = std::any_of(lines.begin(), lines.end(), [&](source::Span l) { return key_of(l) == key_of(s.at); });
      if (!known) lines.push_back(s.at);
    }
  }
  for (ExceptionUse& use : verdict.exceptions)
    std::sort(use.lines.begin(), use.lines.end(), [](source::Span a, source::Span b) { return key_of(a) < key_of(b); });
}

void report_unneeded(const model::Protocol& protocol, const Verdict& verdict, diagnostics::Sink& sink) {
  for (std::size_t i = 0; i < protocol.set_aside.size(); ++i) {
    if (!verdict.exceptions[i].lines.empty()) continue;
    const model::SetAside& aside = protocol.set_aside[i];
    std::string places;
    for (const std::string& place : aside.places) places += (places.empty() ? "“" : ", “") + place + "”";
    sink.push_back({.code = Code::R106, .severity = Severity::warning, .at = aside.span, .args = {aside.number, places}});
  }
}

void state_assumptions(const model::Protocol& protocol, const Options& options, Verdict& v) {
  v.assumptions.push_back(protocol.reading == model::HandReading::ordinary
                              ? "ordinary hands: pulling off a glove that is not clean outside dirties what is beneath"
                              : "perfect hands: a glove comes off without dirtying what is beneath");
  v.assumptions.push_back("every look is truthful, and everyone does each line as written");
  if (protocol.interruptions.empty()) v.assumptions.push_back("nothing interrupts");
  else if (options.interruptions)
    v.assumptions.push_back(fmt::format("each of {} interruptions may strike before any line, at most once a run", protocol.interruptions.size()));
  else v.assumptions.push_back("interruptions were left out, so nothing is said about them");
  if (v.nobody_looked) v.assumptions.push_back(fmt::format("nobody looked first at {} places where an exposed item is wiped or taken off", v.nobody_looked));
}

}  // namespace

std::vector<bool> rules_meant(const model::Protocol& protocol, const std::string& number) {
  std::vector<bool> meant;
  for (const model::Rule& rule : protocol.rules) meant.push_back(number == "all" || text::fold(rule.number) == text::fold(number));
  return meant;
}

double Verdict::paths() const { double n = 0; for (const VariantWalk& w : walks) n += w.paths; return n; }
std::uint64_t Verdict::states() const { std::uint64_t n = 0; for (const VariantWalk& w : walks) n += w.states; return n; }
std::uint64_t Verdict::transitions() const { std::uint64_t n = 0; for (const VariantWalk& w : walks) n += w.transitions; return n; }
std::uint32_t Verdict::longest() const { std::uint32_t n = 0; for (const VariantWalk& w : walks) n = std::max(n, w.longest); return n; }

Verdict check(const model::Protocol& protocol, const Options& options, diagnostics::Sink& sink) {
  std::vector<model::Variant> variants = model::all_variants(protocol);
  if (options.only_variant && *options.only_variant < variants.size()) variants = {variants[*options.only_variant]};
  const std::vector<VariantResult> results = walk_all(protocol, variants, options);
  Verdict verdict;
  Merger merger(protocol, variants.size());
  for (std::size_t v = 0; v < results.size(); ++v)
    for (const Sighting& s : results[v].sightings) merger.add(s, v);
  const std::size_t before = sink.size();
  merger.finish(sink);
  verdict.nobody_looked = static_cast<std::size_t>(
      std::count_if(sink.begin() + static_cast<std::ptrdiff_t>(before), sink.end(), [](const Diagnostic& d) { return d.code == Code::P801; }));
  verdict.complete = !results.empty();
  for (const VariantResult& r : results) {
    verdict.walks.push_back(r.walk);
    if (r.walk.complete) continue;
    verdict.complete = false;
    sink.push_back(not_complete(protocol, r, options.limit));
  }
  // What was not walked may lie behind the place where the walk gave up.
  account_for_exceptions(protocol, results, verdict);
  if (options.interruptions && !options.only_variant && verdict.complete) {
    report_unreached(protocol, results, sink);
    report_unneeded(protocol, verdict, sink);
  }
  report_untested(protocol, results, verdict, sink);
  if (options.interruptions && verdict.complete) report_stock(protocol, results, sink);
  report_packs_about_nothing(protocol, verdict, sink);
  if (const std::vector<bool> wanted = rules_meant(protocol, options.witness); !options.witness.empty())
    report_bearing(protocol, wanted, bearing_of_rules(protocol, wanted, options), verdict, sink);
  state_assumptions(protocol, options, verdict);
  return verdict;
}

}  // namespace stepward::check
