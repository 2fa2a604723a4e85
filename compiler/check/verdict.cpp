#include "check/verdict.hpp"

#include <algorithm>
#include <atomic>
#include <thread>
#include <tuple>

#include <fmt/format.h>

#include "check/variant_check.hpp"
#include "model/variants.hpp"
#include "wording/story.hpp"

namespace stepward::check {
namespace {

using diagnostics::Code;
using diagnostics::Diagnostic;
using diagnostics::Severity;

std::vector<VariantResult> walk_all(const model::Protocol& protocol, const std::vector<model::Variant>& variants, const Options& options) {
  std::vector<VariantResult> results(variants.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next++; i < variants.size(); i = next++) results[i] = check_variant(protocol, variants[i], options);
  };
  std::vector<std::thread> others;
  for (unsigned w = 1; w < options.workers && w < variants.size(); ++w) others.emplace_back(work);
  work();
  for (std::thread& t : others) t.join();
  return results;
}

// The same line, thing and code in several variants or call places is one finding.
struct Merged {
  const Sighting* shortest = nullptr;
  std::size_t seen = 0;  ///< in which order the walk came to it: the cause stands before what follows from it
  std::set<std::size_t> variants;
};
using MergeKey = std::tuple<std::uint32_t, std::uint32_t, int, std::vector<std::string>>;

// Findings at one place about one thing: the first that was reached is the headline.
class Merger {
 public:
  Merger(const model::Protocol& protocol, std::size_t variants) : protocol_(protocol), variant_count_(variants) {}

  void add(const Sighting& s, std::size_t variant) {
    const MergeKey key{s.at.file.value, s.at.begin, static_cast<int>(s.report.code), s.args};
    Merged& m = merged_[key];
    const bool better = !m.shortest || std::pair(s.follows, s.steps) < std::pair(m.shortest->follows, m.shortest->steps);
    if (better) { m.shortest = &s; m.seen = next_++; }
    m.variants.insert(variant);
  }

  void finish(diagnostics::Sink& sink) {
    decide_skipped_arms();
    std::vector<const std::pair<const MergeKey, Merged>*> order;
    for (const auto& entry : merged_) order.push_back(&entry);
    std::stable_sort(order.begin(), order.end(), [](const auto* a, const auto* b) {
      const Sighting &x = *a->second.shortest, &y = *b->second.shortest;
      return std::tuple(x.follows, x.steps, a->second.seen) < std::tuple(y.follows, y.steps, b->second.seen);
    });
    for (const auto* entry : order) file(*entry, sink);
  }

 private:
  // An arm that was skipped although it held matters where the walk then finds its duty unanswered.
  void decide_skipped_arms() {
    std::erase_if(merged_, [&](const auto& entry) {
      if (entry.second.shortest->report.code != Code::F601) return false;
      skipped_arms_.push_back(entry.second.shortest);
      return true;
    });
  }

  void file(const std::pair<const MergeKey, Merged>& entry, diagnostics::Sink& sink) {
    const Sighting& s = *entry.second.shortest;
    const effects::Report& r = s.report;
    // At one line, findings about one thing are one finding; its other codes stand under it.
    const auto same = std::find_if(filed_.begin(), filed_.end(), [&](const auto& f) {
      return f.first->at == s.at && about_same(*f.first, s) && f.first->report.severity == r.severity;
    });
    if (same != filed_.end() && r.severity == Severity::error) {
      Diagnostic& head = sink[same->second];
      if (r.rule) head.also_rules.push_back(protocol_[r.rule].number);
      else if (r.code != head.code) head.also_breaks.push_back(r.code);
      return;
    }
    filed_.emplace_back(&s, sink.size());
    sink.push_back(worded(s, entry.second));
    // What every run comes to behind an error only is told, but the error is what has to be mended.
    if (s.follows) sink.back().places.push_back({first_error_, "may go once this is mended"});
    else if (r.severity == Severity::error && !first_error_.file) first_error_ = sink.back().at;
  }

  static bool about_same(const Sighting& a, const Sighting& b) {
    // What the very same step of the shortest run breaks is one mistake, whatever it is about; endings list each thing.
    if (a.report.line && b.report.line && a.steps == b.steps) return true;
    if (!a.report.has_thing || !b.report.has_thing) return a.report.line == b.report.line && a.report.has_thing == b.report.has_thing;
    return a.report.thing == b.report.thing;
  }

  Diagnostic worded(const Sighting& s, const Merged& m) const {
    const effects::Report& r = s.report;
    Diagnostic d;
    d.code = r.code;
    d.severity = r.severity;
    d.at = s.at;
    d.args = s.args;
    d.story = s.story;
    if (r.rule) {
      const model::Rule& rule = protocol_[r.rule];
      d.because = rule.because;
      if (!rule.sources.empty()) d.source = rule.sources.front().text;
      d.places.push_back({rule.span, "rule"});
    }
    if (r.code == Code::P601) blame_skipped_arm(s, d);
    if (variant_count_ > 1) d.shared = fmt::format("{} of {} variants", m.variants.size(), variant_count_);
    return d;
  }

  // "Soil was never cleaned" is told at the question that skipped it, with the line that went on regardless beside it.
  void blame_skipped_arm(const Sighting& s, Diagnostic& d) const {
    for (const Sighting* arm : skipped_arms_) {
      const bool before = arm->steps <= s.steps;
      const bool names = std::find(arm->args.begin(), arm->args.end(), s.args[0]) != arm->args.end();
      if (!before || !names) continue;
      d.places.insert(d.places.begin(), {s.at, "goes on regardless"});
      d.code = Code::F601;
      d.at = arm->at;
      d.also_breaks.push_back(Code::P601);
      return;
    }
  }

  const model::Protocol& protocol_;
  std::size_t variant_count_;
  std::map<MergeKey, Merged> merged_;
  std::size_t next_ = 0;
  source::Span first_error_;
  std::vector<const Sighting*> skipped_arms_;
  std::vector<std::pair<const Sighting*, std::size_t>> filed_;
};

void report_unreached(const model::Protocol& protocol, const std::vector<VariantResult>& results, diagnostics::Sink& sink) {
  std::set<std::uint32_t> endings;
  std::set<std::pair<std::uint32_t, std::uint32_t>> taken, arms;
  for (const VariantResult& r : results) {
    endings.insert(r.endings_reached.begin(), r.endings_reached.end());
    taken.insert(r.arms_taken.begin(), r.arms_taken.end());
    arms.insert(r.arms.begin(), r.arms.end());
  }
  for (std::uint32_t e = 0; e < protocol.endings.size(); ++e)
    if (!endings.count(e)) sink.push_back({.code = Code::F102, .severity = Severity::error, .at = protocol.endings[e].span, .args = {protocol.endings[e].name}});
  std::map<std::pair<std::uint32_t, std::uint32_t>, source::Span> spans;
  for (const model::Block& b : protocol.blocks)
    for (const model::Statement& s : b.statements)
      for (const auto& arm : s.arms) spans[{arm.span.file.value, arm.span.begin}] = arm.span;
  for (const auto& arm : arms)
    if (!taken.count(arm)) sink.push_back({.code = Code::F602, .severity = Severity::warning, .at = spans[arm]});
}

void report_untested(const model::Protocol& protocol, const std::vector<VariantResult>& results, Verdict& verdict, diagnostics::Sink& sink) {
  for (std::uint32_t r = 0; r < protocol.rules.size(); ++r) {
    const bool untested = std::all_of(results.begin(), results.end(), [&](const VariantResult& v) { return v.rules_untested.count(r) != 0; });
    if (!untested) { verdict.rules_tested.insert(protocol.rules[r].number); continue; }
    const model::Rule& rule = protocol.rules[r];
    sink.push_back({.code = Code::R201, .severity = Severity::note, .at = rule.span, .args = {rule.number, rule.name}});
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
    sink.push_back({.code = Code::F801, .severity = Severity::error, .at = protocol.document.span, .args = {r.walk.name}});
  }
  if (options.interruptions && !options.only_variant) report_unreached(protocol, results, sink);
  report_untested(protocol, results, verdict, sink);
  state_assumptions(protocol, options, verdict);
  return verdict;
}

}  // namespace stepward::check
